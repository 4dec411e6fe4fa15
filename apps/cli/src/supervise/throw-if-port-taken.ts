import { once } from 'node:events';
import { createServer } from 'node:net';
import { QuaysideError } from '@quayside/shoot';

/**
 * Looks whether the API will be able to listen, before anything is started for it.
 * @throws QuaysideError `PORT_UNUSABLE`
 */
export async function throwIfPortTaken(port: number): Promise<void> {
  const server = createServer();
  try {
    server.listen({ host: '127.0.0.1', port });
    await once(server, 'listening');
  } catch (cause) {
    const code = cause instanceof Error && 'code' in cause ? cause.code : '';
    const why =
      code === 'EADDRINUSE' ? 'another program uses it' : cause instanceof Error ? cause.message : String(cause);
    const sentence = `The API cannot listen on port ${port} of 127.0.0.1: ${why}. End that program, or set api.port in the configuration to another port.`;
    throw new QuaysideError({ code: 'PORT_UNUSABLE', sentence, retry: 'never' }, { cause });
  } finally {
    server.close();
  }
}
