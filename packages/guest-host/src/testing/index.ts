export { tryIsolated } from './try-isolated.ts';
export type { IsolatedTrial } from './try-isolated.ts';
