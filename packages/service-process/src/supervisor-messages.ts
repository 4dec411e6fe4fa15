import type { ChildProcess } from 'node:child_process';
import { QuaysideError } from '@quayside/shoot';

/** For a process: tells its supervisor, when it has one, that it does its work. */
export function sendReady(): void {
  process.send?.({ ready: true });
}

/** For the supervisor: whether a message of a process says that. */
export function saysReady(message: unknown): boolean {
  return isRecord(message) && message['ready'] === true;
}

/** For the supervisor: tells a process where Redis answers. It may hold a password, so it goes neither on a command line nor in the environment. */
export function sendRedis(child: ChildProcess, address: string): void {
  // A process that ends in this moment is started and told again.
  if (child.connected) child.send({ redis: address }, () => undefined);
}

/**
 * For a process: where Redis answers, as soon as the supervisor knows; null when it has no supervisor. Until then the
 * process can get itself ready, which takes longer than Redis does.
 * @throws QuaysideError `SUPERVISOR_GONE` when the supervisor ends first.
 */
export async function redisFromSupervisor(): Promise<string | null> {
  if (!process.connected) return null;
  return new Promise((resolve, reject) => {
    const onMessage = (message: unknown): void => {
      if (!isRecord(message) || typeof message['redis'] !== 'string') return;
      process.off('message', onMessage).off('disconnect', onGone);
      resolve(message['redis']);
    };
    const onGone = (): void => {
      process.off('message', onMessage);
      const sentence = 'The service ended while this process started, so it ends too. Start the service again.';
      reject(new QuaysideError({ code: 'SUPERVISOR_GONE', sentence, retry: 'later' }));
    };
    process.on('message', onMessage).once('disconnect', onGone);
  });
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}
