export { Capacity, planCapacity, type CapacityQuestion } from './capacity/plan-capacity.ts';
export { readRecordingFormat, type RecordingFormat } from './capacity/recording-format.ts';
export { BasedEstimate, Estimate, EstimateBasis } from './estimates/estimate.ts';
export { MeasuredProxy } from './estimates/measured-proxy.ts';
export type { GroupToPlan, PlanContext } from './plan/plan-context.ts';
export { planDifferences, type PlanDifference } from './plan/plan-differences.ts';
export { planProxies } from './plan/plan-proxies.ts';
export { ClipPlan, type ClipWithProxy, PlanBudget, PlanTotals, ProxyPlan, ProxyTarget } from './plan/proxy-plan.ts';
export { ProxyCodec, ProxyCondition, ProxyPolicy, ProxyRule } from './policy/proxy-policy.ts';
