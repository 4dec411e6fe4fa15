import { definePlugin } from '@quayside/step-sdk/built-in';
import { proxyPlanning } from './proxy-planning.ts';

/** Plans the proxies of a shoot. */
export const proxyPlanningPlugin = definePlugin({ name: 'proxy-planning', version: '1', steps: [proxyPlanning] });
