import { mkdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { makePotteryClass } from '../media/make-pottery-class.ts';
import { Service } from '../service/start-service.ts';
import { clearLeftOvers, plugDrives } from './demo-drives.ts';
import { showProgress } from './show-progress.ts';
import { tellTakes } from './tell-takes.ts';
import { tellVerdicts } from './tell-verdicts.ts';

const FOLDER = fileURLToPath(new URL('../../.demo/', import.meta.url));
const CLIPS_PER_RECORDER = 4;
const SECONDS_PER_CLIP = 3;

const { values } = parseArgs({ options: { stay: { type: 'boolean', default: false } } });
const say = (line: string): void => void process.stdout.write(`${line}\n`);

say('Quayside demo: a pottery class, four cameras and a sound recorder, one drive each.');
await clearLeftOvers(join(FOLDER, 'drives'));
await rm(FOLDER, { recursive: true, force: true });
await mkdir(FOLDER, { recursive: true });

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
      // Plain folders on one disk: enough to show the work, and said loudly in the table. Footage wants two devices.
      sameDevice: 'accept',
      // Where the system cannot read past its cache (macOS), the demo goes on and says so.
      cachedReadBack: process.platform === 'linux' ? 'hold' : 'accept',
    },
  });
  try {
    await showProgress(service, recordings.length);
    const [roll] = await service.rolls();
    await tellTakes({ service, shootId: roll?.shootId ?? '', root: destinations[0]?.path ?? '', say });
    code = await tellVerdicts({ service, recorders: recordings.map(({ name }) => name), destinations, say });
    if (values.stay) {
      say(`The API stays at http://127.0.0.1:${service.port} (token: ${join(service.data, 'token')}). Ctrl-C ends it.`);
      await new Promise((resolve) => process.once('SIGINT', resolve));
    }
  } finally {
    await service.stop();
  }
} finally {
  await drives.unplug();
}
process.exitCode = code;
