import { STATUS_CODES } from 'node:http';
import type { Socket } from 'node:net';
import { ApiProblem } from './api-problem.ts';
import { problemOf } from './problem-of.ts';

/** Answers what is not HTTP, before there is a request that could be replied to, and ends the connection. */
export function answerBrokenRequest(error: Error, socket: Socket): void {
  if (!socket.writable) {
    socket.destroy();
    return;
  }
  const status = STATUS_OF['code' in error ? String(error.code) : ''] ?? 400;
  const problem = problemOf(
    new ApiProblem(
      'not-servable',
      `${STATUS_CODES[status] ?? 'Bad request'}: what was sent is not a request that this server reads.`,
      { status },
    ),
    '',
  );
  const body = JSON.stringify(problem);
  socket.end(
    `HTTP/1.1 ${status} ${STATUS_CODES[status] ?? ''}\r\ncontent-type: application/problem+json\r\ncontent-length: ${Buffer.byteLength(body)}\r\nconnection: close\r\n\r\n${body}`,
  );
}

const STATUS_OF: Readonly<Record<string, number>> = { HPE_HEADER_OVERFLOW: 431, ERR_HTTP_REQUEST_TIMEOUT: 408 };
