import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it, onTestFinished } from 'vitest';
import { withGuests } from '../../guests.test-support.ts';
import { renderShootRecords } from '../../render-shoot-records.ts';
import { cleanClass } from '../../shoots.test-support.ts';
import { viewOf } from '../../shoot-view.ts';
import { NO_BROWSER, openBrowser } from '../chromium.test-support.ts';
import { attribute, elementsOf, textOf, withClass, withTag } from '../parsed-page.test-support.ts';
import { reportPage } from '../report-page.ts';

const elements = elementsOf(reportPage(viewOf(withGuests(cleanClass()))));
const rowsOf = (table: string): readonly string[] =>
  withTag(elements, 'table')
    .filter((element) => attribute(element, 'class') === table)
    .flatMap((element) =>
      withTag(
        element.childNodes.flatMap((node) => ('tagName' in node ? [node] : [])),
        'tbody',
      ),
    )
    .flatMap((body) => body.childNodes.filter((node) => 'tagName' in node && node.tagName === 'tr'))
    .map((row) => textOf(row).replaceAll(/\s+/g, ' ').trim());

describe('what plugins made stands in the report', () => {
  it('loudness by track with its units, and findings in words', () => {
    const rows = rowsOf('loudness');
    expect(rows[0]).toMatch(/^wheel .*\.mov 1 -23\.0 LUFS 5\.0 LU -1\.2 dBTP Silent channel$/);
    expect(rows[1]).toMatch(/^wheel .*\.mov 2 silent 0\.0 LU silent$/);
    const found = withClass(elements, 'finding-of-run').map((element) =>
      textOf(element).replaceAll(/\s+/g, ' ').trim(),
    );
    expect(found).toEqual(['Warning: Channel 2 is silent. Check the cable. loudness/SILENT_CHANNEL']);
  });

  it('pictures that lie here, each with words for it; loaded when they come into view', () => {
    const images = withTag(elements, 'img');
    expect(images.map((image) => attribute(image, 'src'))).toEqual([
      '../records/plugins/contact-sheet/draw/pottery-class/group%201.svg',
    ]);
    expect(images.map((image) => attribute(image, 'alt'))).toEqual(['Contact sheet of group 1, 10:00:00:00']);
    expect(images.map((image) => attribute(image, 'loading'))).toEqual(['lazy']);
  });

  it('any other step with a summary of its output and its files, or the destinations that have them', () => {
    const row = rowsOf('given').find((text) => text.includes('words'));
    expect(row).toContain('words: 12, title: <b>Cup</b>, tags: 2 in a list, more: 1 parts, none: none');
    expect(row).toContain('notes.txt, at backup');
    expect(row).toContain('drawing.png, which is not there any more');
    const links = withTag(elements, 'a').map((link) => attribute(link, 'href'));
    expect(links).toContain('../records/plugins/shot-notes/write/wheel-1/raw%20%231%3F.csv');
  });

  it('a loudness of another shape is told as any other output', () => {
    const picture = withGuests(cleanClass());
    const guests = picture.guests.map((run) =>
      run.step === 'loudness/measure' ? { ...run, output: { lufs: -23 } } : run,
    );
    const page = reportPage(viewOf({ ...picture, guests }));
    expect(page).not.toContain('class="loudness"');
    expect(page).toContain('lufs: -23');
  });
});

const FRAME = `<svg xmlns="http://www.w3.org/2000/svg" width="320" height="180"><rect width="320" height="180"/></svg>`;

it.skipIf(NO_BROWSER !== null)(
  `a browser that opens the report from the destination shows the picture beside it, and nothing that is not ours to show${NO_BROWSER === null ? '' : ` (${NO_BROWSER})`}`,
  async () => {
    const root = await mkdtemp(join(tmpdir(), 'quayside-report-'));
    onTestFinished(() => rm(root, { recursive: true }));
    const picture = withGuests(cleanClass());
    const files = [
      ...[...renderShootRecords(picture)].map(([name, text]) => [`records/${name}`, text] as const),
      ['records/plugins/contact-sheet/draw/pottery-class/group 1.svg', FRAME] as const,
    ];
    for (const [name, text] of files) {
      await mkdir(dirname(join(root, name)), { recursive: true });
      await writeFile(join(root, name), text);
    }
    await using browser = await openBrowser();
    const page = await browser.newPage();
    const faults: string[] = [];
    page.on('console', (message) => faults.push(message.text()));
    page.on('requestfailed', (request) => faults.push(request.url()));
    await page.goto(pathToFileURL(join(root, 'records/report.html')).href);
    const image = page.locator('img');
    await image.scrollIntoViewIfNeeded();
    await expect.poll(() => image.evaluate((element) => 'naturalWidth' in element && element.naturalWidth)).toBe(320);
    expect(faults).toEqual([]);
  },
);
