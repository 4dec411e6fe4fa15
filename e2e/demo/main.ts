import { mkdir } from 'node:fs/promises';
import { join, resolve as absolute } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { failureOf } from '@quayside/shoot';
import { makePotteryClass } from '../media/make-pottery-class.ts';
import { Service } from '../service/start-service.ts';
import { clearFolder } from './clear-folder.ts';
import { plugDrives } from './demo-drives.ts';
import { showProgress } from './show-progress.ts';
import { GUESTS, tellGuests } from './tell-guests.ts';
import { PROXIES, tellProxies } from './tell-proxies.ts';
import { tellTakes } from './tell-takes.ts';
import { tellVerdicts } from './tell-verdicts.ts';

const SECONDS_PER_CLIP = 3;

const { values } = parseArgs({
  options: {
    /** Keeps the service running until Ctrl-C. */
    stay: { type: 'boolean', default: false },
    folder: { type: 'string' },
    takes: { type: 'string', default: '4' },
    /** Asks for two devices, as one does for footage: as the demo's destinations lie on one, its rolls then hold. */
    'two-devices': { type: 'boolean', default: false },
  },
});
const FOLDER = absolute(values.folder ?? fileURLToPath(new URL('../../.demo/', import.meta.url)));
const CLIPS_PER_RECORDER = Math.max(Math.trunc(Number(values.takes)) || 1, 1);
// What goes wrong is one sentence here, too.
process.on('uncaughtException', (error) => {
  process.stderr.write(`${failureOf(error).sentence}\n`);
  process.exit(1);
});
const say = (line: string): void => void process.stdout.write(`${line}\n`);

say('Quayside demo: a pottery class, four cameras and a sound recorder, one drive each.');
await clearFolder(FOLDER, { isOwn: values.folder === undefined });

say(`Making the class's footage with ffmpeg: ${CLIPS_PER_RECORDER} takes per recorder ...`);
const recordings = await makePotteryClass(join(FOLDER, 'class'), {
  clipsPerRecorder: CLIPS_PER_RECORDER,
  secondsPerClip: SECONDS_PER_CLIP,
  spoilsLastTake: true,
});
const drives = await plugDrives({ recordings, folder: FOLDER });
say(drives.sentence);

const destinations = ['primary', 'backup'].map((name) => ({
  name,
  path: join(FOLDER, 'destinations', name),
  keepFreeBytes: 0,
}));
for (const { path } of destinations) await mkdir(path, { recursive: true });
let code = 1;
try {
  const service = await Service.start({
    folder: FOLDER,
    configuration: {
      watch: { roots: [drives.bay], settleSeconds: 1, relistSeconds: 2, folders: drives.areFolders },
      recorders: Object.fromEntries(
        recordings.map(({ name, role }) => [name, { role, match: [{ label: name.toUpperCase() }] }]),
      ),
      destinations,
      plugins: GUESTS,
      proxies: PROXIES,
      // Plain folders on one disk: enough to show the work, and said loudly in the table. Footage wants two devices.
      sameDevice: values['two-devices'] ? 'hold' : 'accept',
      // Where the system cannot read past its cache (macOS), the demo goes on and says so.
      cachedReadBack: process.platform === 'linux' ? 'hold' : 'accept',
    },
  });
  try {
    await showProgress(service, recordings.length);
    const [roll] = await service.rolls();
    const takes = { service, shootId: roll?.shootId ?? '', root: destinations[0]?.path ?? '', say };
    await tellTakes(takes);
    await tellGuests({ ...takes, destinations, clipCount: CLIPS_PER_RECORDER * recordings.length });
    await tellProxies(takes);
    code = await tellVerdicts({ service, recorders: recordings.map(({ name }) => name), destinations, say });
    const page = `http://127.0.0.1:${service.port}`;
    if (values.stay) {
      say(`The page stays at ${page} (sign in with the token in ${join(service.data, 'token')}). Ctrl-C ends it.`);
      await new Promise((resolve) => process.once('SIGINT', resolve));
    } else {
      // The next run may get another port.
      say(`All this was on a page, too, at ${page}. To have one that stays: npm run demo -- --stay`);
    }
  } finally {
    await service.stop();
  }
} finally {
  await drives.unplug();
}
process.exitCode = code;
