import type { z } from 'zod';
import type { Fault, KeyPath } from './fault.ts';
import { nearestOf, remedyForUnknownKey } from './known-keys.ts';

type Issue = z.core.$ZodIssue;

/** Every fault that the schema found, in the words of the person who wrote the file. `value` is what was parsed. */
export function schemaFaults(issues: readonly Issue[], value: unknown): Fault[] {
  return issues.flatMap((issue) => faultsOf(issue, value));
}

function faultsOf(issue: Issue, value: unknown): Fault[] {
  const path = issue.path.filter((part) => typeof part !== 'symbol');
  const got = valueAt(value, path);
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.map((key) => ({
      path: [...path, key],
      at: 'key',
      what: 'is not a known key',
      remedy: remedyForUnknownKey(path, key),
    }));
  }
  if (got === undefined) return [missing(path)];
  if (got === null)
    return [{ path, at: 'key', what: 'is empty', remedy: 'give it a value, or remove the key to get its default' }];
  if (issue.code === 'invalid_key') {
    return [{ path, at: 'key', what: 'is not a name that can be a folder', remedy: FOLDER_NAME }];
  }
  const fault: Fault = { path, at: 'value', ...wording(issue, got, path) };
  return [isWorthShowing(issue, got) && !isSecret(path) ? { ...fault, got } : fault];
}

/** A mapping tells nothing more than its place, and an empty text or list is told by the words. */
function isWorthShowing(issue: Issue, got: unknown): boolean {
  return issue.code === 'invalid_type' || (typeof got !== 'object' && got !== '');
}

/** Whoever writes a secret where its place belongs should not find it in a log as well. */
function isSecret(path: KeyPath): boolean {
  return path.some((part) => part === 'secret' || part === 'password');
}

function missing(path: KeyPath): Fault {
  const key = String(path.at(-1));
  return { path, at: 'key', what: 'is missing', remedy: `add ${EXAMPLES[key] ?? `\`${key}\``}` };
}

function wording(issue: Issue, got: unknown, path: KeyPath): Pick<Fault, 'what' | 'remedy'> {
  switch (issue.code) {
    case 'custom':
      return { what: issue.message, remedy: String(issue.params?.['remedy']) };
    case 'invalid_type':
      return wrongType(issue.expected, got);
    case 'invalid_union':
      return { what: 'is not a size', remedy: 'write a number and B, KiB, MiB, GiB or TiB, such as "1 GiB"' };
    case 'invalid_value':
      return wrongChoice(issue.values.map(String), got);
    case 'too_small':
      return issue.origin === 'array' || issue.origin === 'string'
        ? {
            what: 'is empty',
            remedy: issue.origin === 'array' ? 'list at least one' : 'write something, or remove the key',
          }
        : { what: 'is too small', remedy: `write ${String(issue.minimum)} or more` };
    case 'too_big':
      return { what: 'is too large', remedy: `write ${String(issue.maximum)} or less` };
    case 'invalid_format':
      return { what: 'is not of the right form', remedy: formatOf(path) };
    case 'not_multiple_of':
    case 'unrecognized_keys':
    case 'invalid_key':
    case 'invalid_element':
      return { what: issue.message, remedy: 'correct it' };
  }
}

function wrongType(expected: string, got: unknown): Pick<Fault, 'what' | 'remedy'> {
  switch (expected) {
    case 'string':
      return { what: 'must be text', remedy: typeof got === 'object' ? 'write one piece of text' : 'put it in quotes' };
    case 'int':
      return { what: 'must be a whole number', remedy: numberRemedy(got) };
    case 'number':
      return { what: 'must be a number', remedy: numberRemedy(got) };
    case 'boolean':
      return { what: 'must be true or false', remedy: 'write true or false, without quotes' };
    case 'array':
      return { what: 'must be a list', remedy: 'put each entry on its own line behind "- "' };
    default:
      return { what: 'must be a mapping', remedy: 'write its keys below it, indented by two spaces' };
  }
}

function numberRemedy(got: unknown): string {
  return typeof got === 'string' && got.trim() !== '' && Number.isFinite(Number(got))
    ? 'remove the quotes'
    : 'write digits only';
}

function wrongChoice(choices: readonly string[], got: unknown): Pick<Fault, 'what' | 'remedy'> {
  const nearest = typeof got === 'string' ? nearestOf(got, choices) : null;
  return {
    what: 'is not one of the choices',
    remedy: nearest === null ? `write one of ${choices.join(', ')}` : `did you mean "${nearest}"?`,
  };
}

/** By the last key, and by the one before it where a name means two things. Places in lists are passed over. */
function formatOf(path: KeyPath): string {
  const keys = path.filter((part) => typeof part === 'string');
  return FORMATS[keys.slice(-2).join('.')] ?? FORMATS[keys.at(-1) ?? ''] ?? FOLDER_NAME;
}

const CLOCK_TIME = 'write hours and minutes from 00:00 to 23:59, such as "22:00"';
const MAIL_ADDRESS = 'write a mail address, such as "studio@example.org"';

function valueAt(value: unknown, path: KeyPath): unknown {
  return path.reduce<unknown>((held, part) => {
    if (typeof held !== 'object' || held === null || !Object.hasOwn(held, part)) return undefined;
    return Reflect.get(held, part);
  }, value);
}

const FOLDER_NAME =
  'use lower-case letters, digits and hyphens, 64 at most, beginning and ending with a letter or digit';

const PICTURE_SIZE = 'write its width and height in pixels, such as 1920x1080';

const FORMATS: Readonly<Record<string, string>> = {
  within: PICTURE_SIZE,
  largerThan: PICTURE_SIZE,
  url: 'write redis://host:port, rediss://host:port, or the absolute path of a socket',
  'quiet.from': CLOCK_TIME,
  'quiet.to': CLOCK_TIME,
  from: MAIL_ADDRESS,
  to: MAIL_ADDRESS,
  env: 'write the name of a variable: letters, digits and _',
  file: 'write the whole path, from "/" on',
  certificate: 'write the whole path, from "/" on',
  dayBoundary: 'write hours and minutes from 00:00 to 23:59, such as "04:00"',
};

const EXAMPLES: Readonly<Record<string, string>> = {
  destinations: 'a list of folders that receive copies, each with a name and a path',
  name: 'a short name, such as `name: primary`',
  path: 'the folder, such as `path: /srv/footage`',
  role: '`role: camera`, `role: sound` or `role: program`',
};
