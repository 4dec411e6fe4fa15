import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const MAKER = fileURLToPath(import.meta.resolve('@quayside/board/make-page'));

/** Where the files of the page lie once it is made. */
export const PAGE_FOLDER = fileURLToPath(new URL('../dist/page/', import.meta.resolve('@quayside/board/make-page')));

/**
 * Makes the page anew if its sources have changed since, in a process of its own: the builder is large. Doing it twice, also
 * at once, changes nothing; the folder is replaced whole. Gives null, or a sentence that says why there is no new page.
 */
export async function makePage(): Promise<string | null> {
  return new Promise((resolve) => {
    execFile(process.execPath, [MAKER], { timeout: 120_000 }, (error, _stdout, stderr) => {
      const why = stderr.trim().split('\n').at(-1) ?? '';
      resolve(
        error === null
          ? null
          : `${why || error.message}. All else works; "npm ci" in the folder of Quayside makes the page, too.`,
      );
    });
  });
}
