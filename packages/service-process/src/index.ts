export { keepBeating } from './keep-beating.ts';
export { logLines } from './log-lines.ts';
export type { LogLine } from './log-lines.ts';
export { runProcess } from './run-process.ts';
export { redisFromSupervisor, saysReady, sendRedis } from './supervisor-messages.ts';
