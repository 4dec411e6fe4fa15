import type { Failure } from '@quayside/shoot';
import { type OpenFileBytes, openFileBytes } from '../file-bytes/open-file-bytes.ts';
import type { AskLibrary } from '../library/ask-library.ts';
import { damagedFacts } from './damaged-facts.ts';
import { parseFacts } from './parse-facts.ts';
import type { Answer, Question } from './parser-messages.ts';

/** Answers with the file's facts, or with the failure when it could not be read. Never throws: what a parser trips over is a fact of the file. */
export async function answerQuestion(question: Question, askLibrary: AskLibrary): Promise<Answer> {
  const path = 'text' in question.path ? question.path.text : Buffer.from(question.path.bytes, 'base64');
  let file: OpenFileBytes | null = null;
  const startedAt = process.cpuUsage();
  try {
    file = openFileBytes(path);
    const refusal = refusalOf(file, path, question.sizeInBytes);
    if (refusal !== null) return { kind: 'failed', failure: refusal };
    const facts = await parseFacts(file, askLibrary);
    const { user, system } = process.cpuUsage(startedAt);
    return { kind: 'facts', facts, bytesRead: file.bytesRead(), cpuMs: (user + system) / 1000 };
  } catch (error) {
    if (isSystemError(error)) return { kind: 'failed', failure: readFailure(path, error.code) };
    const why = `It could not be taken apart: ${error instanceof Error ? error.message : String(error)}.`;
    return { kind: 'facts', facts: damagedFacts('unreadable', why), bytesRead: file?.bytesRead() ?? 0, cpuMs: 0 };
  } finally {
    file?.close();
  }
}

function refusalOf(file: OpenFileBytes, path: string | Buffer, sizeInBytes: number): Failure | null {
  if (!file.isFile) return notAFile(path);
  if (file.size === sizeInBytes) return null;
  return {
    code: 'FILE_CHANGED',
    sentence: `${shown(path)} has ${file.size} bytes, but had ${sizeInBytes} when it was listed. It is still being written, or was replaced; list it again.`,
    retry: 'later',
  };
}

function readFailure(path: string | Buffer, code: string): Failure {
  // What opening says of a link, a socket or a pipe that it was told not to follow or wait for.
  if (['ELOOP', 'ENXIO', 'EISDIR'].includes(code)) return notAFile(path);
  return {
    code: 'FACTS_NOT_READ',
    sentence: `The facts of ${shown(path)} could not be read (${code}). Check that its drive is still connected.`,
    retry: 'later',
  };
}

function notAFile(path: string | Buffer): Failure {
  return {
    code: 'NOT_A_FILE',
    sentence: `${shown(path)} is not a regular file, so it was not opened. Only files have facts.`,
    retry: 'never',
  };
}

function shown(path: string | Buffer): string {
  return path.toString();
}

function isSystemError(error: unknown): error is Error & { readonly code: string } {
  return error instanceof Error && 'syscall' in error && 'code' in error && typeof error.code === 'string';
}
