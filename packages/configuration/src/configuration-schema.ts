import { posix } from 'node:path';
import { FolderName, HashAlgorithm, RecorderRole } from '@quayside/shoot';
import { z } from 'zod';
import { DEFAULT_LITTER } from './default-litter.ts';
import { Grouping } from './grouping-schema.ts';
import { isRegExpText, labelRegExp } from './label-pattern.ts';
import { Plugins } from './plugins-schema.ts';
import { Messages } from './messages-schema.ts';
import { Proxies } from './proxies-schema.ts';
import { refuse } from './refuse.ts';
import { Size } from './size-schema.ts';

const AbsolutePath = z
  .string()
  .superRefine((path, context) => {
    if (path.startsWith('~'))
      refuse(context, 'begins with "~", which only a shell understands', 'write the whole path, from "/" on');
    else if (!path.startsWith('/')) refuse(context, 'is not an absolute path', 'write the whole path, from "/" on');
    else if (path.includes('\0')) refuse(context, 'holds a NUL byte', 'write the path without it');
  })
  .transform((path) => (path === '' ? path : posix.normalize(path).replace(/(?<=.)\/+$/, '')));

const Label = z.string().superRefine((pattern, context) => {
  if (pattern.trim() === '') return refuse(context, 'is empty', 'write the label of the drive, or remove the entry');
  if (pattern !== pattern.trim())
    return refuse(context, 'begins or ends with a space, which no drive can show', 'remove the space');
  if (!isRegExpText(pattern)) return;
  try {
    labelRegExp(pattern);
  } catch (error) {
    const why =
      error instanceof Error ? error.message.replace(/^Invalid regular expression: .*: (?=[^:]*$)/, '') : String(error);
    refuse(context, `is not a regular expression: ${why}`, 'correct it, or write the label without slashes');
  }
});

const Match = z
  .strictObject({
    label: Label.optional().describe(
      'Volume label to recognise. `*` stands for any run of characters and `?` for one; `/.../` is a regular expression. Case does not count. Price: labels repeat, and a drive that was formatted anew has lost its label.',
    ),
    uuid: z
      .string()
      .min(1)
      .optional()
      .describe(
        'File-system UUID (for exFAT: the serial, such as 1A2B-3C4D) to recognise; `quayside volumes` shows it. Goes before any label. Price: each format gives the drive a new one.',
      ),
  })
  .superRefine((match, context) => {
    if ((match.label === undefined) === (match.uuid === undefined)) {
      refuse(context, 'must have exactly one of `label` and `uuid`', 'write one entry for each');
    }
  })
  .meta({ minProperties: 1, maxProperties: 1 })
  .describe('One way to recognise the drive of this recorder: by label or by uuid.');

const Recorder = z
  .strictObject({
    role: RecorderRole.describe(
      'What it records: `camera`, `sound`, or `program` (the mix of the switcher). No default. Decides how its clips are lined up later.',
    ),
    match: z
      .array(Match)
      .default([])
      .describe(
        'How its drives are recognised; one that fits is enough. Default: none, so its drives are assigned by hand.',
      ),
  })
  .describe('One recorder, under the name of the folder that its footage is filed in.');

const Destination = z
  .strictObject({
    name: FolderName.describe(
      'Short name for messages, reports and the API. Price of changing it: rolls filed under the old name are taken as not copied there.',
    ),
    path: AbsolutePath.describe(
      'Absolute path of the folder that receives copies, on the device it names. No default.',
    ),
    parallel: z
      .int()
      .min(1)
      .max(16)
      .default(2)
      .describe(
        'How many parcels are written there at once, 1 to 16. Default 2. Use 1 for a spinning disk: two at once make its head travel and cost half the rate.',
      ),
    keepFreeBytes: Size.default(1024 ** 3).describe(
      'Space to leave free there, as a size text such as "1 GiB" or a number of bytes. Default "1 GiB". Less risks a disk that is full in the middle of a roll; more turns rolls away sooner.',
    ),
  })
  .describe('One folder that receives copies of all footage.');

const Choice = z.enum(['hold', 'accept']);
const Seconds = z.number().min(0.1).max(3600);

const Watch = z
  .strictObject({
    roots: z
      .array(AbsolutePath)
      .min(1)
      .optional()
      .describe(
        'Folders under which drives are mounted. Default on Linux /media, /run/media and /mnt, on macOS /Volumes. A drive mounted elsewhere is not seen.',
      ),
    settleSeconds: Seconds.default(5).describe(
      'Seconds for which the listing of a volume must stay the same before it is copied, 0.1 to 3600. Default 5. Less may begin while a recorder still writes; more delays every roll by as much.',
    ),
    relistSeconds: Seconds.default(15).describe(
      'Seconds between two listings of a volume that has settled, 0.1 to 3600. Default 15. Less finds late changes sooner and costs the drive more reading.',
    ),
    litter: z
      .array(z.string().superRefine(refuseDangerousLitter))
      .default([...DEFAULT_LITTER])
      .describe(
        'Names of files and folders that systems leave on drives, at any depth, with `*` for any run of characters: counted, never copied. Given, it replaces the default list. Price: whatever it names is left out of the proof.',
      ),
    folders: z
      .boolean()
      .default(false)
      .describe(
        'Whether a plain folder directly below a root that holds a volume marker counts as a volume. Default false. For trying things out: a folder cannot be told from another one by the system.',
      ),
  })
  .prefault({})
  .describe('Where drives appear, and when one is taken as complete.');

function refuseDangerousLitter(name: string, context: z.RefinementCtx): void {
  if (name.includes('/'))
    refuse(context, 'holds a "/"', 'write the name of one file or folder, it counts at any depth');
  else if (/^[*?.\s]*$/.test(name)) refuse(context, 'would leave out everything', 'name the litter more exactly');
}

/** The file as it may be written: unknown keys are errors, and each key states unit, default and price of changing it. */
export const ConfigurationFile = z
  .strictObject({
    data: AbsolutePath.optional().describe(
      'Absolute path of the folder for the service itself: Redis files, API token, destination ids. Default: the state folder given by systemd, else quayside in the state folder of the user (XDG). Moving it while the service runs loses the fast view, never footage.',
    ),
    redis: z
      .strictObject({
        url: z
          .string()
          .regex(/^(?:rediss?:\/\/[^/]|\/)/)
          .optional()
          .describe(
            'Redis to use: redis://, rediss://, or the absolute path of its socket. Default: none, the service starts and keeps its own in the data folder. One that evicts keys or keeps nothing on disk loses the queue.',
          ),
      })
      .prefault({})
      .describe('The store of the queue and of the fast view.'),
    watch: Watch,
    recorders: z
      .record(FolderName, Recorder)
      .default({})
      .describe(
        'Recorders by name; the name becomes a folder (lower-case letters, digits and hyphens). Default: none, and every drive waits to be assigned by hand.',
      ),
    destinations: z.array(Destination).min(1).describe('Where copies go, at least one. No default.'),
    copies: z
      .int()
      .min(1)
      .max(16)
      .default(2)
      .describe(
        'Verified copies that every file needs before its roll can be clear. Default 2. With 1, one disk that fails takes the footage along.',
      ),
    sameDevice: Choice.default('hold').describe(
      'Two destinations on one device: `hold` counts them once, `accept` counts both. Default hold. With accept, one disk that fails may take every copy along.',
    ),
    cachedReadBack: Choice.default('hold').describe(
      'A copy that could not be read back past the memory cache: `hold`, or `accept` it as proof. Default hold. With accept, a fault between memory and medium goes unseen.',
    ),
    hashes: z
      .array(HashAlgorithm)
      .min(1)
      .default(['xxh128'])
      .describe(
        'Digests made of every file, all in the same read: xxh128, xxh3, xxh64, md5, sha1, c4. Default xxh128. Every further one costs processor time; md5, sha1 and c4 may become slower than the drives.',
      ),
    verify: z
      .strictObject({
        source: z
          .enum(['once', 'twice'])
          .default('once')
          .describe(
            'How often each file is read from its drive: `once`, or `twice`, where the second reading is compared with the first before anything becomes a copy. Default once. Twice finds a reader or cable that changes bytes on their way, which no read-back can, and costs the drive as much time again.',
          ),
        repairs: z
          .int()
          .min(0)
          .max(20)
          .default(2)
          .describe(
            'How often a copy that failed its verification, or is gone, is made anew by itself, from the drive or from another proven copy, 0 to 20. Default 2. With 0 the roll holds at once, until somebody asks for a retry; many hide a disk that fails.',
          ),
        everyDays: z
          .number()
          .positive()
          .max(3650)
          .nullable()
          .default(30)
          .describe(
            'Days within which everything that is kept is read again from its medium, since media rot; what is bad is made anew from another copy. Default 30. It is spread evenly over the days and waits while drives are taken in. More days find rot later; fewer keep the disks busier. `null` reads nothing again by itself.',
          ),
      })
      .prefault({})
      .describe('How copies are proven and kept true, and what is done about those that are not.'),
    order: z
      .enum(['editable-first', 'plain'])
      .default('editable-first')
      .describe(
        'What is copied first: `editable-first`, the newest take that all recorders have, across all drives, or `plain`, the order of the names on each drive. Default editable-first. It costs each drive up to five seconds, in which its clips are looked into before the first is copied.',
      ),
    grouping: Grouping,
    proxies: Proxies,
    plugins: Plugins,
    messages: Messages,
    shoots: z
      .strictObject({
        dayBoundary: z
          .string()
          .regex(/^(?:[01]\d|2[0-3]):[0-5]\d$/)
          .default('04:00')
          .describe(
            'Local time, HH:MM, at which a new shoot day begins. Default 04:00, so that a night shoot stays one shoot.',
          ),
      })
      .prefault({})
      .describe('How footage is gathered into shoots.'),
    api: z
      .strictObject({
        port: z
          .int()
          .min(0)
          .max(65_535)
          .default(4180)
          .describe(
            'TCP port of the API on 127.0.0.1; 0 takes any free one. Default 4180. Clients must be told a new one.',
          ),
        requestsPerMinute: z
          .int()
          .min(60)
          .max(1_000_000)
          .default(30_000)
          .describe(
            'Requests that one token may make in a minute; an open event stream counts as one. Default 30000. Fewer may stop a page or a script that asks often, more lets one that runs wild take processor time from the copying.',
          ),
        allowOrigins: z
          .array(z.string().regex(/^https?:\/\/[^\s/?#*]+$/))
          .default([])
          .describe(
            'Origins, such as "http://localhost:3000", whose pages may ask the API from a browser, with a token. Default: none. Whoever serves such a page can do what its token allows.',
          ),
      })
      .prefault({})
      .describe('The API and the status page.'),
  })
  .describe('The configuration of Quayside.');
export type ConfigurationFile = z.output<typeof ConfigurationFile>;

/** The whole configuration, everything decided: defaults filled in, paths normalised, sizes in bytes. */
export type Configuration = ConfigurationFile & {
  readonly data: string;
  readonly watch: { readonly roots: readonly string[] };
};
