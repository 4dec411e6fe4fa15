import { mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { makePage } from '@quayside/board';
import { writeFolderVolumeMarker } from '@quayside/volumes';
import type { Browser } from 'playwright-core';
import { NO_BROWSER, openBrowser } from '../../board/open-browser.ts';
import { Service } from '../../service/start-service.ts';
import type { BenchWork } from '../bench-work.ts';
import { seedRolls } from '../idle/seed-rolls.ts';
import { releaseAtInterrupt } from '../release-at-interrupt.ts';
import { medianOf, type Row } from '../row.ts';

const ROLLS = 500;
/** Few: the page asks for rolls, not for their files. */
const CLIPS_PER_ROLL = 4;

/** How soon the page, opened by a browser that has never seen it but is signed in, shows its first verdict; with five hundred known rolls. */
export async function benchPage({ folder, options, say }: BenchWork): Promise<readonly Row[]> {
  if (NO_BROWSER !== null) return [rowOf([], [`There is ${NO_BROWSER}.`])];
  const own = join(folder, 'page');
  const bay = join(own, 'bay');
  const drive = join(bay, 'WHEEL');
  const destinations = ['primary', 'backup'].map((name) => ({ name, path: join(own, name), keepFreeBytes: 0 }));
  for (const path of [drive, ...destinations.map((one) => one.path)]) await mkdir(path, { recursive: true });
  say(`page: writing ${ROLLS} rolls into the service's view ...`);
  const names = destinations.map(({ name }) => name);
  await seedRolls({ dataFolder: join(own, 'data'), destinations: names, rolls: ROLLS, clipsPerRoll: CLIPS_PER_ROLL });
  await writeFolderVolumeMarker(drive, { label: 'WHEEL' });
  await writeFile(join(drive, 'A001.MOV'), 'footage');
  const fault = await makePage();
  if (fault !== null) throw new Error(fault);
  const service = await Service.start({
    folder: own,
    configuration: {
      watch: { roots: [bay], settleSeconds: 0.5, folders: true },
      recorders: { wheel: { role: 'camera', match: [{ label: 'WHEEL' }] } },
      destinations,
      sameDevice: 'accept',
      cachedReadBack: 'accept',
    },
  });
  const callOff = releaseAtInterrupt(() => service.stop());
  try {
    await using browser = await openBrowser();
    const samples = await openPages(browser, service, Math.max(options.repeat, 5));
    return [rowOf(samples, [])];
  } finally {
    await service.stop();
    callOff();
    await rm(own, { recursive: true, force: true });
  }
}

/** Milliseconds by the browser's own clock from opening the page to its first verdict, each in a browser profile of its own. */
async function openPages(browser: Browser, service: Service, times: number): Promise<readonly number[]> {
  const url = `http://127.0.0.1:${service.port}/`;
  const first = await browser.newContext();
  const page = await first.newPage();
  await page.goto(url);
  await page.getByLabel('Token').fill((await readFile(join(service.data, 'token'), 'utf8')).trim());
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.locator('.drive.clear').waitFor({ timeout: 120_000 });
  const storageState = await first.storageState();
  await first.close();
  const samples: number[] = [];
  for (let time = 0; time < times; time += 1) {
    const context = await browser.newContext({ storageState });
    const opened = await context.newPage();
    await opened.addInitScript(WATCH_FOR_VERDICT);
    await opened.goto(url);
    await opened.locator('.drive.clear').waitFor();
    samples.push(await opened.evaluate<number>('window.firstVerdictMs'));
    await context.close();
  }
  return samples;
}

/** Runs in the page before its own scripts. */
const WATCH_FOR_VERDICT = `new MutationObserver(() => {
  if (document.querySelector('.drive.clear') !== null) window.firstVerdictMs ??= performance.now();
}).observe(document, { subtree: true, childList: true, attributes: true })`;

function rowOf(samples: readonly number[], notes: readonly string[]): Row {
  return {
    bench: 'page',
    what: `the page, from opening it to its first verdict, with ${ROLLS} known rolls`,
    unit: 'ms',
    value: medianOf(samples),
    samples,
    target: { sense: 'under', limit: 1000 },
    notes,
  };
}
