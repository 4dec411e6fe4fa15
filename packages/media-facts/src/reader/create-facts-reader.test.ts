import { execFileSync, spawn, spawnSync } from 'node:child_process';
import { mkdir, open, readFile, stat, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { QuaysideError } from '@quayside/shoot';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import {
  hasFfmpeg,
  make,
  picture,
  PRORES_LT,
  sizeOf,
  SKIPPED,
  temporaryFolder,
  tone,
} from '../media-facts.test-support.ts';
import { createFactsReader, type FactsReader, type FactsReaderOptions } from './create-facts-reader.ts';
import { readFacts } from './read-facts.ts';

/** The parsers among our children, as the kernel lists them. */
async function parsers(): Promise<readonly number[]> {
  const pids = (await readFile(`/proc/${process.pid}/task/${process.pid}/children`, 'utf8')).trim().split(' ');
  const lines = await Promise.all(
    pids.map(async (pid) => ({
      pid: Number(pid),
      command: await readFile(`/proc/${pid}/cmdline`, 'utf8').catch(() => ''),
    })),
  );
  return lines.filter(({ command }) => command.includes('parser-process')).map(({ pid }) => pid);
}

const hasSlowDrive =
  process.getuid?.() === 0 && ['nbdkit', 'nbdfuse'].every((tool) => spawnSync(tool, ['--version']).status === 0);
const onLinux = process.platform === 'linux';

describe.skipIf(!hasFfmpeg || !onLinux)(`facts read in a throw-away process${SKIPPED}`, () => {
  let folder: Awaited<ReturnType<typeof temporaryFolder>>;
  let clip = '';
  let sizeInBytes = 0;
  let reader: FactsReader;
  beforeAll(async () => {
    folder = await temporaryFolder();
    const options = `${PRORES_LT} -c:a pcm_s24le -timecode 10:00:00:00`;
    clip = await make(join(folder.path, 'clip.mov'), picture('24000/1001', 24), tone(48_048), options);
    sizeInBytes = await sizeOf(clip);
    reader = createFactsReader({ timeLimitMs: 20_000 });
  });
  afterAll(async () => {
    await reader.close();
    await folder[Symbol.asyncDispose]();
  });
  const path = (name: string): string => join(folder.path, name);
  const clipFacts = { kind: 'picture', picture: { frameCount: 24 }, startTimecode: '10:00:00:00', damage: [] };

  it('reads many files in one process, and tells what each cost', async () => {
    const costs: { readonly bytesRead: number; readonly cpuMs: number }[] = [];
    for (let index = 0; index < 10; index += 1) {
      const onCost = (cost: (typeof costs)[number]): void => void costs.push(cost);
      expect(await reader.read(clip, { sizeInBytes, onCost })).toMatchObject(clipFacts);
    }
    expect(await parsers()).toHaveLength(1);
    expect(costs.every(({ bytesRead }) => bytesRead > 1000 && bytesRead < 1024 * 1024)).toBe(true);
    // Told, not asserted: it is a measurement.
    const mean = costs.reduce((sum, { cpuMs }) => sum + cpuMs, 0) / costs.length;
    process.stdout.write(`facts of a small ProRes clip: ${mean.toFixed(1)} ms of CPU, mean of ten\n`);
  });

  it('a single file can be read without a reader, and no process stays', async () => {
    const before = (await parsers()).length;
    expect(await readFacts(clip, { sizeInBytes })).toMatchObject(clipFacts);
    while ((await parsers()).length > before) await sleep(20);
  });

  it('a name that is no UTF-8 is reached by its bytes', async () => {
    const name = Buffer.concat([Buffer.from(`${folder.path}/`), Buffer.from([0xff, 0xfe, 0x0a])]);
    await writeFile(name, await readFile(clip));
    expect(await reader.read(name, { sizeInBytes })).toMatchObject(clipFacts);
  });

  it('only a regular file is opened: no folder, no link, no pipe that nobody writes to', async () => {
    await mkdir(path('folder'));
    await symlink(clip, path('link.mov'));
    execFileSync('mkfifo', [path('pipe.mov')]);
    for (const name of ['folder', 'link.mov', 'pipe.mov']) {
      await expect(reader.read(path(name), { sizeInBytes })).rejects.toMatchObject({
        code: 'NOT_A_FILE',
        retry: 'never',
      });
    }
    await expect(reader.read('/dev/zero', { sizeInBytes: 0 })).rejects.toMatchObject({ code: 'NOT_A_FILE' });
  });

  it('a file that is gone or has changed is an error to be tried again, not a fact', async () => {
    await expect(reader.read(path('none.mov'), { sizeInBytes })).rejects.toMatchObject({
      code: 'FACTS_NOT_READ',
      message: expect.stringContaining('ENOENT'),
      retry: 'later',
    });
    await expect(reader.read(clip, { sizeInBytes: sizeInBytes - 1 })).rejects.toMatchObject({
      code: 'FILE_CHANGED',
      retry: 'later',
    });
  });

  it('leaves the time of the last access as it was', async () => {
    const long = new Date('2020-01-01T00:00:00Z');
    const handle = await open(clip, 'r+');
    await handle.utimes(long, (await handle.stat()).mtime);
    await handle.close();
    await reader.read(clip, { sizeInBytes });
    expect((await stat(clip)).atime).toEqual(long);
  });

  it('a parser that hangs is killed, and a fresh one reads the file', async () => {
    const hasty = readerFor({ timeLimitMs: 3000 });
    const known = new Set(await parsers());
    await hasty.read(clip, { sizeInBytes });
    const [stopped] = (await parsers()).filter((pid) => !known.has(pid));
    process.kill(stopped ?? 0, 'SIGSTOP');
    expect(await hasty.read(clip, { sizeInBytes })).toMatchObject(clipFacts);
    while ((await parsers()).includes(stopped ?? 0)) await sleep(20);
  });

  it('a parser that cannot even start is no fault of the file', async () => {
    const besieged = readerFor();
    const known = new Set(await parsers());
    const siege = { isOver: false };
    const reading = besieged.read(clip, { sizeInBytes }).then(
      () => 'facts',
      (error: unknown) => (error instanceof QuaysideError ? error.code : String(error)),
    );
    void reading.finally(() => {
      siege.isOver = true;
    });
    while (!siege.isOver) {
      for (const pid of await parsers()) if (!known.has(pid)) process.kill(pid, 'SIGKILL');
      await sleep(1);
    }
    expect(await reading).toBe('FACTS_PARSER_NOT_STARTED');
    expect(await besieged.read(clip, { sizeInBytes })).toMatchObject(clipFacts);
  });

  it.skipIf(!hasSlowDrive)(
    `a file that two parsers hang on is unreadable, and the reader goes on with the next${hasSlowDrive ? '' : ' (skipped: needs root, nbdkit and nbdfuse)'}`,
    async () => {
      const drive = await slowDrive(path('slow'));
      const hasty = readerFor({ timeLimitMs: 500 });
      // Its parsers may wait in the kernel, where no signal reaches them until the drive has gone: the answer does not wait for that.
      expect(await hasty.read(drive.file, { sizeInBytes: drive.sizeInBytes })).toMatchObject({
        kind: 'other',
        damage: [{ kind: 'unreadable', why: expect.stringContaining('it took longer than 500 ms') }],
      });
      const patient = readerFor();
      expect(await patient.read(clip, { sizeInBytes })).toMatchObject(clipFacts);
    },
  );

  it('closing ends readings under way, and nothing is read afterwards', async () => {
    const closing = createFactsReader();
    const reading = closing.read(clip, { sizeInBytes });
    const failed = expect(reading).rejects.toMatchObject({ retry: 'later' });
    await closing.close();
    await failed;
    await expect(closing.read(clip, { sizeInBytes })).rejects.toMatchObject({ code: 'FACTS_READER_CLOSED' });
  });

  it('two at once are two processes, and a third waits', async () => {
    const known = new Set(await parsers());
    const pair = readerFor({ parallel: 2 });
    const readings = Array.from({ length: 6 }, () => pair.read(clip, { sizeInBytes }));
    expect(await Promise.all(readings)).toHaveLength(6);
    expect((await parsers()).filter((pid) => !known.has(pid))).toHaveLength(2);
  });

  it('a clip with any of its bytes changed gives facts: nothing hangs, nothing dies, nothing throws', async () => {
    const bytes = await readFile(clip);
    const index = bytes.indexOf('moov');
    const file = path('changed.mov');
    const change = fc.record({
      at: fc.integer({ min: index, max: bytes.length - 1 }),
      to: fc.constantFrom(0, 1, 0x7f, 0x80, 0xff),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(change, { minLength: 1, maxLength: 12 }), async (changes) => {
        const changed = Buffer.from(bytes);
        for (const { at, to } of changes) changed[at] = to;
        await writeFile(file, changed);
        const facts = await reader.read(file, { sizeInBytes: changed.length });
        expect(['picture', 'sound', 'other']).toContain(facts.kind);
      }),
      { numRuns: 150 },
    );
  });
});

/** A file on a drive that takes an hour over every read, until the test ends. */
async function slowDrive(mountPoint: string): Promise<{ readonly file: string; readonly sizeInBytes: number }> {
  const file = join(mountPoint, 'nbd');
  await mkdir(mountPoint);
  const device = ['nbdkit', '-s', '--exit-with-parent', '--filter=delay', 'memory', '1M', 'rdelay=3600'];
  const drive = spawn('nbdfuse', [file, '--command', ...device], { stdio: 'ignore' });
  const ended = new Promise((resolve) => drive.on('exit', resolve));
  onTestFinished(async () => {
    execFileSync('umount', ['--lazy', mountPoint]);
    drive.kill('SIGKILL');
    await ended;
  });
  while ((await stat(file).catch(() => null)) === null) await sleep(20);
  return { file, sizeInBytes: await sizeOf(file) };
}

/** A reader that is closed when the test ends. */
function readerFor(options?: FactsReaderOptions): FactsReader {
  const reader = createFactsReader(options);
  onTestFinished(() => reader.close());
  return reader;
}
