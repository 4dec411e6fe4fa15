import { readFile } from 'node:fs/promises';
import { join } from 'node:path';

/** What a reader of the tutorial does, in order: types a command, or puts text into a file. */
export type TutorialAct =
  | { readonly kind: 'command'; readonly command: string }
  | { readonly kind: 'file'; readonly path: string; readonly text: string };

const TUTORIAL = join(import.meta.dirname, '../../../../packages/step-sdk/TUTORIAL.md');

/** The commands (`sh`) and files (`ts`, named in their first line) of the SDK's tutorial. */
export async function readTutorial(): Promise<readonly TutorialAct[]> {
  const text = await readFile(TUTORIAL, 'utf8');
  return [...text.matchAll(/^```(sh|ts)\n(.*?)^```$/gms)].flatMap(([, language, body = '']): readonly TutorialAct[] => {
    if (language === 'sh')
      return body
        .trim()
        .split('\n')
        .map((command) => ({ kind: 'command', command }));
    const path = /^\/\/ (\S+)\n/.exec(body)?.[1];
    if (path === undefined) throw new Error(`A file of the tutorial has no name: ${body.slice(0, 80)}`);
    return [{ kind: 'file', path, text: body }];
  });
}
