import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, BrowserContext } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { canMountDrives } from '../drives/can-mount-drives.ts';
import { Studio } from '../main-job/studio.test-support.ts';
import { makePotteryClass } from '../media/make-pottery-class.ts';
import { NO_BROWSER, openBrowser } from './open-browser.ts';
import { findBarriers, WatchedPage } from './watched-page.test-support.ts';

const ability = await canMountDrives();
const whyNot = NO_BROWSER ?? (ability.ok ? null : ability.reason);
const RECORDERS = ['wheel', 'hands', 'desk'];
const PHONE = { width: 360, height: 740 };
const WALL = { width: 1920, height: 1080 };
/** A plugin that fails at every shoot. */
const COLD = `import { definePlugin, defineStep, StepFailure } from '@quayside/step-sdk';
const fire = defineStep({ name: 'fire', scope: 'shoot', async run() {
  throw new StepFailure({ code: 'COLD', sentence: 'The kiln is cold.', retry: 'never' });
} });
export default definePlugin({ apiVersion: 1, name: 'cold', version: '1', steps: [fire] });
`;
const BIG_WALL = { width: 3840, height: 2160 };

// One shift before the page, told in the order in which it happens.
describe.skipIf(whyNot !== null)(
  `the page${whyNot === null ? '' : ` (skipped: ${whyNot})`}`,
  { timeout: 180_000 },
  () => {
    let media: string;
    let studio: Studio;
    let browser: Browser;
    let context: BrowserContext;
    let board: WatchedPage;
    let stopped: WatchedPage;
    let url: string;
    let token: string;

    beforeAll(async () => {
      media = await mkdtemp(join(tmpdir(), 'quayside-class-'));
      const recordings = await makePotteryClass(media, {
        clipsPerRecorder: 2,
        secondsPerClip: 1,
        spoilsLastTake: true,
      });
      studio = await Studio.open();
      for (const { name, folder } of recordings.filter((recording) => RECORDERS.includes(recording.name))) {
        // Large enough that its drive is still at work when it is pulled.
        const files = name === 'wheel' ? { 'CLIPS/LONG.MOV': 200 * 2 ** 20 } : {};
        await studio.record({ recorder: name, from: folder, files, sizeInBytes: 2 ** 28 });
      }
      for (const name of ['primary', 'backup']) await studio.addDestination(name);
      await writeFile(join(studio.folder, 'cold.ts'), COLD);
      await studio.start({ plugins: [{ use: join(studio.folder, 'cold.ts') }] });
      url = `http://127.0.0.1:${studio.service.port}/`;
      token = (await readFile(join(studio.service.data, 'token'), 'utf8')).trim();
      browser = await openBrowser();
      context = await browser.newContext({ viewport: WALL, colorScheme: 'dark' });
      board = await WatchedPage.open(context);
    }, 180_000);
    afterAll(async () => {
      await browser?.close();
      await studio?.[Symbol.asyncDispose]();
      await rm(media, { recursive: true, force: true });
    });

    async function keepsNobodyOut(): Promise<void> {
      const where = { state: await context.storageState(), url };
      const nothing = { barriers: [], overflow: 0 };
      expect(await findBarriers(browser, where, { size: PHONE, colours: 'dark' })).toEqual(nothing);
      expect(await findBarriers(browser, where, { size: WALL, colours: 'light' })).toEqual(nothing);
    }

    it('signs in with the token, which is then nowhere in the browser and in no log', async () => {
      await board.signIn(url, 'not-the-token');
      await board.until('That is not the token of this service.');
      expect(await board.words()).not.toMatch(/clear\./i);
      await board.signIn(url, token);
      await board.until('No drive is connected.');
      const kept = await board.page.evaluate<string>(
        'JSON.stringify([{ ...localStorage }, { ...sessionStorage }, document.cookie, location.href])',
      );
      expect(kept).toContain('quayside-page-key');
      expect(kept).not.toContain(token);
      const cookies = await context.cookies(`${url}v1/rolls`);
      expect(cookies).toMatchObject([{ name: 'quayside-session', httpOnly: true, sameSite: 'Strict' }]);
      expect(JSON.stringify(cookies) + studio.service.log.join()).not.toContain(token);
    });

    it('shows a whole ingest from the first mount to clear, and a drive that is pulled and comes back', async () => {
      for (const recorder of ['hands', 'desk']) await studio.plug(recorder);
      await board.untilDrive('hands', 'HOLD');
      await studio.plug('wheel');
      // At once, so that its long clip cannot be copied before it is pulled.
      await studio.service.until('wheel is taken in', async () =>
        (await studio.service.rolls()).some(({ recorder }) => recorder === 'wheel') ? true : null,
      );
      await studio.pull('wheel');
      await board.untilDrive('wheel', 'No. It left too early.');
      for (const recorder of ['hands', 'desk']) await board.untilDrive(recorder, 'Yes, you may record over it.');
      await board.until('Yes: desk and hands');
      await board.until('No: wheel');
      expect(await board.page.title()).toBe('2 of 3 clear · Quayside');

      await studio.plug('wheel');
      await board.untilDrive('wheel', 'CLEAR');
      await board.until('Yes: desk, hands and wheel');
      // What was said aloud last.
      expect(await board.page.locator('.board [role=status]').innerText()).toContain('wheel: CLEAR.');
    });

    it('never leaves a yes standing: not out of sight, not with scripts that have stopped', async () => {
      await board.page.evaluate(
        `Object.defineProperty(document, 'hidden', { configurable: true, get: () => true });
         document.dispatchEvent(new Event('visibilitychange'))`,
      );
      await board.untilDrive('wheel', 'NOT KNOWN');
      await board.page.evaluate(`delete document.hidden; document.dispatchEvent(new Event('visibilitychange'))`);
      await board.untilDrive('wheel', 'CLEAR');
      // Looked at again when the other tests have given it time.
      stopped = await WatchedPage.open(context);
      await stopped.page.goto(url);
      await stopped.untilDrive('wheel', 'CLEAR');
      await stopped.page.evaluate(
        'window.fetch = () => new Promise(() => {}); for (let id = 0; id < 1e5; id += 1) clearTimeout(id)',
      );
    });

    it('shows nothing rather than something old when it has a fault of its own', async () => {
      const broken = await WatchedPage.open(context);
      await broken.page.goto(url);
      await broken.untilDrive('wheel', 'CLEAR');
      await broken.page.evaluate('Array.prototype.toSorted = () => { throw new Error("broken") }; null');
      await broken.until('This page has a fault of its own');
      expect(await broken.words()).not.toMatch(/clear|yes/i);
      await broken.page.close();
    });

    it('shows the takes by recorder over time, and takes note of a finding that a person has seen', async () => {
      const map = board.page.getByRole('table');
      await map.getByText('Take 2').waitFor();
      await map.getByText('Edit from backup and primary').first().waitFor();
      expect(await map.getByRole('row').count()).toBe(1 + RECORDERS.length);
      const finding = board.page.locator('.finding').first();
      await finding.getByText('I have seen it').press('Enter');
      await finding.getByLabel('Your name').fill('ada');
      await finding.getByLabel('Note, if any').fill('took it again');
      await finding.getByRole('button', { name: 'Acknowledge' }).press('Enter');
      await board.until(/^Seen by/);
      await board.until('took it again');
    });

    it('a copy that is gone holds the drive and needs a person, who tries again from the page', async () => {
      const [roll] = (await studio.service.rolls()).filter(({ recorder }) => recorder === 'hands');
      const copies = join(studio.destination('backup'), roll?.shootId ?? '', 'hands', roll?.id ?? '');
      await rm(join(copies, 'CLIPS'), { recursive: true });
      await studio.service.post(`/v1/rolls/${roll?.id}/judge`);
      await board.untilDrive('hands', 'No. It needs you.');
      await board.page.getByRole('button', { name: `Try again: roll ${roll?.id}` }).click();
      await board.untilDrive('hands', 'CLEAR');
    });

    it('asks whose an unknown drive is, asks once more, and takes it in', async () => {
      await studio.record({ recorder: 'reel-7', files: { 'CLIPS/CUP.TXT': 'a cup' } });
      await studio.plug('reel-7');
      const drive = board.page.locator('.unclaimed').filter({ hasText: 'REEL-7' });
      await drive.getByLabel('Recorder of REEL-7').fill('nobody');
      await keepsNobodyOut();
      await drive.getByLabel('Recorder of REEL-7').press('Enter');
      // What is asked is answered with No at first.
      await drive.locator('button:focus').filter({ hasText: /^No$/ }).waitFor();
      await drive.getByRole('button', { name: 'Yes, it is nobody’s' }).click();
      await drive.getByText('The configuration has no recorder "nobody".').waitFor();
      await drive.getByRole('button', { name: 'No', exact: true }).press('Enter');
      await drive.getByLabel('Recorder of REEL-7').fill('wide');
      await drive.getByRole('button', { name: 'Say whose it is' }).click();
      await drive.getByRole('button', { name: 'Yes, it is wide’s' }).click();
      await board.untilDrive('wide', 'CLEAR');
      expect(await drive.count()).toBe(0);
    });

    it('shows what plugins failed at, and tries one run again', async () => {
      const plugins = board.page.getByRole('region', { name: 'Plugins' });
      const failed = plugins.getByRole('listitem').first();
      await failed.getByText('The kiln is cold.').waitFor();
      await failed.getByRole('button', { name: 'Try again' }).click();
      await plugins.getByText('Step cold/fire is run again').waitFor();
      await board.page.getByRole('region', { name: 'Proxies' }).waitFor();
    });

    it('says NOT KNOWN of every drive when the service is gone, and goes on by itself when it is back', async () => {
      await studio.service.stop();
      await board.until('Not known now. Record over no drive.');
      for (const recorder of RECORDERS) await board.untilDrive(recorder, 'NOT KNOWN');
      expect(await board.page.getByRole('alert').innerText()).toContain('No verdict is known now');
      expect(await board.page.locator('.board .drives').innerText()).not.toMatch(/clear|yes/i);
      await board.until('Only the lines above answer for now.');
      await studio.service.run();
      for (const recorder of RECORDERS) await board.untilDrive(recorder, 'CLEAR');
      await board.until('Live');
    });

    it('covers itself where its scripts have stopped', async () => {
      expect(await stopped.words()).toContain('CLEAR');
      const cover = (): Promise<string> =>
        stopped.page.evaluate<string>('getComputedStyle(document.querySelector(".expiry")).opacity');
      await expect.poll(cover, { timeout: 30_000 }).toBe('1');
      await stopped.page.close();
    });

    it('fits a phone and a wall, and keeps nobody out, in dark and in light', async () => {
      await keepsNobodyOut();
      const nothing = { barriers: [], overflow: 0 };
      const nobody = { state: { cookies: [], origins: [] }, url };
      expect(await findBarriers(browser, nobody, { size: PHONE, colours: 'light' })).toEqual(nothing);
      for (const [size, least] of [
        [PHONE, 24],
        [WALL, 36],
        [BIG_WALL, 72],
      ] as const) {
        await board.page.setViewportSize(size);
        const height: number = await board.page.evaluate(
          'parseFloat(getComputedStyle(document.querySelector(".drive .word")).fontSize)',
        );
        expect(height).toBeGreaterThanOrEqual(least);
        expect(await board.overflow()).toBe(0);
      }
    });

    it('shows its first useful picture soon, and the browser had nothing to complain about', async () => {
      await board.page.reload();
      await board.untilDrive('wheel', 'CLEAR');
      const ms: number = await board.page.evaluate('performance.now()');
      process.stdout.write(`The page showed the verdicts ${Math.round(ms)} ms after it was opened.\n`);
      // Whatever the security policy forbids is reported on the console.
      expect(board.complaints).toEqual([]);
    });

    it('signs out, and then shows nothing without the token', async () => {
      await board.page.getByRole('button', { name: 'Sign out' }).click();
      await board.page.getByLabel('Token').waitFor();
      await board.page.reload();
      await board.page.getByLabel('Token').waitFor();
      expect(await board.page.locator('.drive').count()).toBe(0);
    });
  },
);
