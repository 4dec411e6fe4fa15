import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { withGuests } from '../guests.test-support.ts';
import { HOSTILE_NAMES } from '../hostile-names.test-support.ts';
import { clipOf, pictureOf, take } from '../pottery-class.test-support.ts';
import type { ShootPicture } from '../shoot-picture.ts';
import { viewOf } from '../shoot-view.ts';
import { cleanClass, faultyClass, halfDay } from '../shoots.test-support.ts';
import { NO_BROWSER, openBrowser } from './chromium.test-support.ts';
import { reportPage } from './report-page.ts';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Each hostile name as a clip of one take, another of a take of its own, and the shoot's name. */
function hostileClass(): ShootPicture {
  const clips = HOSTILE_NAMES.flatMap((name, at) => [
    ...take(`10:${String(at).padStart(2, '0')}:00:00`, 30, { name: `${at}/${name}` }),
    clipOf({ recorder: 'wheel', from: '11:00:00:00', seconds: 5, name: `x/${name}`, facts: { startTimecode: null } }),
  ]);
  return pictureOf(clips, { name: HOSTILE_NAMES.join(' ') });
}

/** Two hundred short groups with a mistake in each third, so that numbers have three digits and marks abound. */
function crowdedClass(): ShootPicture {
  const picture = pictureOf(
    Array.from({ length: 130 }, (_, at) => at).flatMap((at) =>
      take(
        `${String(9 + Math.floor(at / 30)).padStart(2, '0')}:${String((at % 30) * 2).padStart(2, '0')}:00:00`,
        20 + at,
        {
          name: `A001C${String(at).padStart(3, '0')}_261125_R3AB.mov`,
        },
      ),
    ),
  );
  const findings = picture.groups.flatMap((group, at) =>
    at % 3 > 0
      ? []
      : (['critical', 'warning', 'info'] as const).map((severity) => ({
          code: 'CODEC_UNLIKE',
          severity,
          subject: { kind: 'clip', id: group.members[0]?.clipId ?? '' } as const,
          why: 'A camera recorded with another codec than the others.',
          remedy: 'Set the camera to the codec of the others.',
          at: picture.madeAt,
          groupId: group.id,
          recorder: 'wheel',
          clipIds: group.members.slice(0, 1).map((member) => member.clipId),
          acknowledged: null,
        })),
  );
  return { ...picture, findings };
}

function severalRows(): ShootPicture {
  const picture = halfDay();
  return { ...picture, groups: picture.groups.slice(8, 18) };
}

const SHOOTS: readonly (readonly [string, () => ShootPicture])[] = [
  ['a clean shoot', cleanClass],
  ['one with mistakes', faultyClass],
  ['half a day of 204 clips', halfDay],
  ['one with hostile names', hostileClass],
  ['one with 130 groups and many findings', crowdedClass],
  ['an empty one', () => pictureOf([])],
];

const title = `the report in a browser${NO_BROWSER === null ? '' : ` (${NO_BROWSER})`}`;

describe.skipIf(NO_BROWSER !== null)(title, () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(async () => {
    await browser?.close();
  });

  async function open(picture: ShootPicture, options: Parameters<Browser['newPage']>[0] = {}): Promise<Page> {
    const page = await browser.newPage(options);
    await page.setContent(reportPage(viewOf(picture)));
    return page;
  }

  // axe-core's rules for WCAG 2.0 to 2.2 at A and AA and its best practices.
  it.each([
    ['one with mistakes', 'light', faultyClass],
    ['one with mistakes', 'dark', faultyClass],
    ['what plugins made', 'dark', (): ShootPicture => withGuests(cleanClass())],
    ['a map of several rows', 'light', severalRows],
    ['one with hostile names', 'light', hostileClass],
    ['an empty one', 'light', (): ShootPicture => pictureOf([])],
  ] as const)('%s in %s colours has nothing that keeps anybody out', async (_name, colorScheme, make) => {
    const page = await open(make(), { colorScheme, bypassCSP: true });
    await page.evaluate(AXE);
    const found: AxeResults = await page.evaluate('axe.run(document, { resultTypes: ["violations"] })');
    const sentences = found.violations.map(({ id, help, nodes }) => `${id}: ${help}: ${nodes[0]?.html.slice(0, 200)}`);
    expect(sentences).toEqual([]);
    await page.close();
  });

  it.each(SHOOTS)('%s has no words on the map that lie over others or beyond its edge', async (_name, make) => {
    const page = await open(make(), { viewport: { width: 1200, height: 900 } });
    expect(await page.evaluate(COLLISIONS)).toEqual([]);
    await page.close();
  });

  it('runs no script that a name could smuggle in, and asks for nothing', async () => {
    const page = await browser.newPage();
    const asked: string[] = [];
    const said: string[] = [];
    page.on('request', (request) => asked.push(request.url()));
    page.on('dialog', (dialog) => void said.push(dialog.message()));
    page.on('pageerror', (error) => said.push(error.message));
    page.on('console', (message) => said.push(message.text()));
    await page.setContent(reportPage(viewOf(hostileClass())));
    for (const element of await page.locator('main section').all()) await element.hover({ timeout: 5000 });
    expect([...asked, ...said]).toEqual([]);
    await page.close();
  });

  it('fits on paper: no part of the map is cut, and a row is not split', async () => {
    const page = await open(halfDay(), { viewport: { width: 1000, height: 700 } });
    await page.emulateMedia({ media: 'print' });
    const right = `Math.max(...[...document.querySelectorAll('svg.map')].map((map) => map.getBoundingClientRect().right))`;
    expect(await page.evaluate(right)).toBeLessThanOrEqual(1000);
    const breaks = `[...document.querySelectorAll('.map-part')].map((part) => getComputedStyle(part).breakInside)`;
    expect(new Set(await page.evaluate<string[]>(breaks))).toEqual(new Set(['avoid']));
    await page.close();
  });
});

/** Runs in the page: pairs of texts in one map whose boxes overlap by more than a hair, and texts outside their map. */
const COLLISIONS = `[...document.querySelectorAll('svg.map')].flatMap((map) => {
  const edge = map.getBoundingClientRect();
  const texts = [...map.querySelectorAll('text')].map((text) => {
    const box = text.getBoundingClientRect();
    // A label is clipped by a picture of its own, which begins and ends at its attributes.
    const own = text.parentElement.matches('svg svg') ? text.parentElement : null;
    const scale = edge.width / map.viewBox.baseVal.width;
    const right = own === null ? box.right : edge.left + (own.x.baseVal.value + own.width.baseVal.value) * scale;
    return { words: text.textContent.trim(), left: box.left, right: Math.min(box.right, right), top: box.top + 3, bottom: box.bottom - 3 };
  });
  const outside = texts.filter((text) => text.left < edge.left - 1 || text.right > edge.right + 1).map((text) => 'outside: ' + text.words);
  const over = texts.flatMap((one, at) => texts.slice(at + 1)
    .filter((other) => one.left + 1 < other.right && other.left + 1 < one.right && one.top < other.bottom && other.top < one.bottom)
    .map((other) => one.words + ' over ' + other.words));
  return [...outside, ...over];
})`;
