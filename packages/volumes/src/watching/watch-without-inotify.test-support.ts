import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { writeFolderVolumeMarker } from '../identity/folder-volume.ts';
import { watchVolumes } from './watch-volumes.ts';

/** A program: watches the folder that it is given, prints troubles, makes a volume after the first, and ends when it was seen. */
const [root = ''] = process.argv.slice(2);
const stop = new AbortController();
const folder = join(root, 'wheel');
const say = (line: string): void => void process.stdout.write(`${line}\n`);
const watching = watchVolumes({
  roots: [root],
  folders: true,
  intervalMs: 100,
  signal: stop.signal,
  onTrouble: ({ code }) => {
    say(`trouble ${code}`);
    mkdirSync(folder);
    void writeFolderVolumeMarker(folder, { label: 'WHEEL' });
  },
});
for await (const { kind, volume } of watching) {
  say(`${kind} ${volume.identity.label}`);
  await setTimeout(300);
  stop.abort();
}
