import { request, type ClientRequest } from 'node:http';

/** An open event stream. */
export interface Listener {
  /** Settles at the next event with this subject, with the moment of its arrival (`performance.now()`). */
  hear(subject: string): Promise<number>;
  close(): void;
}

/** Opens an event stream of the service and waits until it is answered. */
export function listen(port: number, token: string): Promise<Listener> {
  const waiting = new Map<string, (atMs: number) => void>();
  let asked: ClientRequest;
  return new Promise((resolve, reject) => {
    asked = request(
      { host: '127.0.0.1', port, path: '/v1/events', agent: false, headers: { authorization: `Bearer ${token}` } },
      (answer) => {
        if (answer.statusCode !== 200) return reject(new Error(`/v1/events answered ${answer.statusCode}`));
        let rest = '';
        answer.setEncoding('utf8').on('data', (text: string) => {
          const lines = (rest + text).split('\n');
          rest = lines.pop() ?? '';
          for (const line of lines) {
            const subject = /"subject":"([^"]*)"/.exec(line)?.[1] ?? '';
            waiting.get(subject)?.(performance.now());
            waiting.delete(subject);
          }
        });
        resolve({
          hear: (subject) => new Promise((heard) => waiting.set(subject, heard)),
          close: () => void asked.destroy(),
        });
      },
    );
    asked.on('error', reject);
    asked.end();
  });
}
