import { Socket } from 'node:net';
import type { MessageToGuest } from '../channel/message-to-guest.ts';
import type { MessageFromGuest } from '../channel/message-from-guest.ts';

export interface LineToHost {
  send(message: MessageFromGuest): void;
  /** Sends a last message and ends the process with it. */
  sendLast(message: MessageFromGuest): void;
}

/** The file descriptor that the host gives each guest's process for their talk. */
const CHANNEL = 3;

/** Opens the talk with the host. The process ends when the host does. */
export function openLineToHost(onMessage: (message: MessageToGuest) => void): LineToHost {
  const socket = new Socket({ fd: CHANNEL, readable: true, writable: true });
  let rest = '';
  socket.setEncoding('utf8').on('data', (text: string) => {
    const lines = (rest + text).split('\n');
    rest = lines.pop() ?? '';
    // The host is trusted: what it says needs no check.
    for (const line of lines) onMessage(JSON.parse(line) as MessageToGuest);
  });
  socket.on('close', () => process.exit(0));
  socket.on('error', () => process.exit(0));
  return {
    send: (message) => void socket.write(`${JSON.stringify(message)}\n`),
    sendLast: (message) => void socket.end(`${JSON.stringify(message)}\n`),
  };
}
