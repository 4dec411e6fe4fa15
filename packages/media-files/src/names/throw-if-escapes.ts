import { QuaysideError } from '@quayside/shoot';

/** Refuses a relative path that would leave the folder it is joined to. @throws QuaysideError `PATH_ESCAPES` */
export function throwIfEscapes(path: string): void {
  const isFine = path.split('/').every((part) => part !== '' && part !== '.' && part !== '..') && !path.includes('\0');
  if (isFine) return;
  throw new QuaysideError({
    code: 'PATH_ESCAPES',
    sentence: `The path ${JSON.stringify(path)} would leave its folder, so nothing was done with it. List the volume again.`,
    retry: 'never',
  });
}
