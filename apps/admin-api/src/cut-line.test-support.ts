import { once } from 'node:events';
import { connect, createServer, type Socket } from 'node:net';

/** A line to a server that can be cut: what is sent arrives, and what would come back is lost. */
export interface CutLine extends AsyncDisposable {
  readonly url: string;
  /** Loses the next answer: the connection ends with its first byte. */
  cutNextAnswer(): void;
  /** How many connections are open now. */
  openCount(): number;
  /** Ends every connection that is open now. */
  cutAll(): void;
}

/** A line to the server at an address of this machine. */
export async function openCutLine(to: string): Promise<CutLine> {
  let isCutDue = false;
  const open = new Set<Socket>();
  const server = createServer((near) => {
    const far = connect(Number(new URL(to).port), '127.0.0.1');
    open.add(near);
    near.on('error', () => far.destroy()).on('close', () => (open.delete(near), far.destroy()));
    far.on('error', () => near.destroy()).on('close', () => near.destroy());
    near.pipe(far);
    far.on('data', (bytes) => {
      if (!isCutDue) return void near.write(bytes);
      isCutDue = false;
      near.destroy();
    });
  }).listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  const cutAll = (): void => {
    for (const socket of open) socket.destroy();
  };
  return {
    url: `http://127.0.0.1:${typeof address === 'object' && address !== null ? address.port : 0}`,
    cutNextAnswer: () => void (isCutDue = true),
    openCount: () => open.size,
    cutAll,
    async [Symbol.asyncDispose]() {
      cutAll();
      server.close();
      await once(server, 'close');
    },
  };
}
