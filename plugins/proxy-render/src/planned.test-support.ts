import { type ClipPlan, planProxies, ProxyPolicy, type ProxyRule } from '@quayside/proxy-planning';
import type { z } from 'zod';

type Clip = Parameters<typeof planProxies>[0][number];

/** What a plan with one rule says of a clip with these facts. */
export function planned(facts: Clip['facts'], rule: z.input<typeof ProxyRule>): ClipPlan {
  const clip: Clip = {
    id: 'wheel-1/cup.mov',
    rollId: 'wheel-1',
    path: 'cup.mov',
    recorder: 'wheel',
    role: 'camera',
    sizeInBytes: 1000,
    modifiedAt: '2026-11-25T10:00:00.000Z',
    facts,
  };
  const policy = ProxyPolicy.parse({ rules: [rule] });
  const [plan] = planProxies([clip], policy, { groups: [], measured: [], space: null }).clips;
  if (plan === undefined) throw new Error('A plan has every clip.');
  return plan;
}
