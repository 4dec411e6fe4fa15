import { type ClipRendering, printBytes } from '@quayside/proxy-planning';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyShoot } from '../any-shoot.test-support.ts';
import { withGuests } from '../guests.test-support.ts';
import { pictureOf } from '../pottery-class.test-support.ts';
import { recordNames } from '../record-names.ts';
import type { ShootPicture } from '../shoot-picture.ts';
import { viewOf } from '../shoot-view.ts';
import { cleanClass, faultyClass, halfDay } from '../shoots.test-support.ts';
import { attribute, type Element, elementsOf, textOf, withClass, withTag } from './parsed-page.test-support.ts';
import { reportPage } from './report-page.ts';
import { showText } from './show-text.ts';

function elementsFor(picture: ShootPicture): readonly Element[] {
  return elementsOf(reportPage(viewOf(picture)));
}

function textsWith(elements: readonly Element[], name: string): readonly string[] {
  return withClass(elements, name).map(textOf);
}

/** Every element that our templates write; a name that became markup would add another. */
const OUR_TAGS = new Set(
  `html head meta title style body header main section p h1 h2 h3 dl div dt dd ul ol li strong b a span bdi svg desc path circle rect g text
   figure figcaption img table caption thead tbody tr th td`.split(/\s+/),
);

function expectOnlyOurs(picture: ShootPicture, elements: readonly Element[]): void {
  const names = recordNames(picture);
  const files = picture.guests.flatMap((run) => run.files.map(({ place }) => `../${place}`));
  for (const element of elements) {
    expect(OUR_TAGS).toContain(element.tagName);
    for (const { name, value } of element.attrs) {
      expect(name).not.toMatch(/^(on|srcset|action|formaction|xlink)/);
      if (name === 'src') expect(files).toContain(decodeURIComponent(value));
      if (name === 'href' && !value.startsWith('#')) expect([...names, ...files]).toContain(decodeURIComponent(value));
      if (name === 'style') expect(value).toMatch(/^--map-width: \d+px$/);
    }
  }
}

describe('the report', () => {
  it('fetches nothing but the pictures beside it, runs nothing, and forbids the rest to itself', () => {
    for (const picture of [cleanClass(), withGuests(faultyClass()), halfDay()]) {
      const elements = elementsFor(picture);
      expectOnlyOurs(picture, elements);
      expect(withTag(elements, 'style').map(textOf).join('')).not.toMatch(/url\(|@import|@font-face/);
      const policy = elements.find((element) => attribute(element, 'http-equiv') === 'Content-Security-Policy');
      expect(policy === undefined ? null : attribute(policy, 'content')).toContain("default-src 'none'");
    }
  });

  it('shows every name as it is, whatever it is, and never as markup', () => {
    fc.assert(
      fc.property(anyShoot, (picture) => {
        const elements = elementsFor(picture);
        expectOnlyOurs(picture, elements);
        expect(textOf(withTag(elements, 'h1')[0] ?? fail())).toBe(showText(picture.shoot.name));
        const shown = withClass(elements, 'groups').flatMap((table) =>
          textsWith(withTag([table], 'table').flatMap(within), 'file'),
        );
        const paths = new Map(picture.clips.map((clip) => [clip.id, clip.path]));
        const members = picture.groups.flatMap((group) => group.members);
        expect(shown).toEqual(members.map((member) => showText(paths.get(member.clipId) ?? '')));
      }),
      { numRuns: 20 },
    );
  });

  it('has a bar for each member and a row of the table, in each group', () => {
    fc.assert(
      fc.property(anyShoot, (picture) => {
        const elements = elementsFor(picture);
        const members = picture.groups.flatMap((group) => group.members);
        expect(withClass(elements, 'bar')).toHaveLength(members.length);
        expect(withClass(elements, 'band')).toHaveLength(picture.groups.length);
      }),
      { numRuns: 20 },
    );
  });

  it('has every finding with its number, severity in words, reason, remedy and place', () => {
    const picture = faultyClass();
    const items = withClass(elementsFor(picture), 'finding').map(textOf);
    expect(items).toHaveLength(picture.findings.length);
    picture.findings.forEach((finding, at) => {
      const word = { critical: 'Critical', warning: 'Warning', info: 'Note' }[finding.severity];
      expect(items[at]).toMatch(new RegExp(`^\\s*${at + 1} ${word}: `));
      for (const part of [finding.why, finding.remedy, finding.code, finding.recorder ?? ''])
        expect(items[at]).toContain(part);
    });
    expect(items[3]).toContain('Seen by the producer on 2026-11-25 18:05:00 UTC: Kiln was loading.');
  });

  it('marks every finding on the map by the shape of its severity and its number', () => {
    const picture = faultyClass();
    const marks = withClass(elementsFor(picture), 'mark').map(
      (mark) => `${attribute(mark, 'class')} ${textOf(mark).trim()}`,
    );
    expect(marks.toSorted()).toEqual([
      'mark critical 1',
      'mark warning 2',
      'mark warning 3',
      'mark warning 5',
      'mark warning 6',
      'mark warning seen 4',
    ]);
  });

  it('says which groups can be edited and what the others wait for', () => {
    const text = elementsFor(faultyClass())
      .filter((element) => attribute(element, 'aria-labelledby') === 'edit')
      .map(textOf)[0]
      ?.replaceAll(/\s+/g, ' ');
    expect(text).toContain('Groups 1 to 3 can be edited now.');
    expect(text).toContain('group 4, 10:30:00:00: The clip of hands has been copied to one destination of two.');
  });

  it('warns against recording over a drive, with the moment that it was made', () => {
    const text = textsWith(elementsFor(cleanClass()), 'caution')[0];
    expect(text).toMatch(
      /Check the verdict[^]*2026-11-25 18:00:00 UTC[^]*two copies[^]*separate devices[^]*Never format/,
    );
  });

  it('links only to what is there, and no two things bear one id', () => {
    for (const picture of [faultyClass(), halfDay()]) {
      const elements = elementsFor(picture);
      const ids = elements.flatMap((element) => attribute(element, 'id') ?? []);
      expect(new Set(ids).size).toBe(ids.length);
      const targets = elements.flatMap((element) => [
        attribute(element, 'href')?.match(/^#(.*)/)?.[1] ?? [],
        ...(attribute(element, 'aria-labelledby')?.split(' ') ?? []),
      ]);
      expect(ids).toEqual(expect.arrayContaining(targets.flat()));
    }
  });

  it('has a shoot of nothing as well', () => {
    const elements = elementsFor(pictureOf([]));
    expect(textOf(elements[0] ?? fail())).toContain('No clip could be placed in time yet.');
    expect(withTag(elements, 'table')).toEqual([]);
  });
});

function within(element: Element): readonly Element[] {
  return element.childNodes.flatMap((node) => ('tagName' in node ? [node, ...within(node)] : []));
}

function fail(): never {
  throw new Error('the page has no such element');
}

const section = (picture: ShootPicture): string =>
  textOf(elementsFor(picture).find((element) => attribute(element, 'aria-labelledby') === 'proxies') ?? fail());

describe('the proxies in the report', () => {
  it('stand with what they weigh and take, what has no room, and what differs from the plan before', () => {
    const picture = faultyClass();
    const { proxies } = picture;
    if (proxies === null) throw new Error('no plan');
    const sentence = 'wheel <b>1</b>.mov: new, gets h264 1920x1080.';
    const text = section({ ...picture, proxies: { ...proxies, changes: [{ sentence, clipIds: [] }] } });
    const { planned, leftOut } = proxies.plan.totals;
    expect([planned.count, leftOut.count].every((count) => count > 1)).toBe(true);
    expect(text).toContain(`${planned.count} clips get a proxy: about`);
    expect(text).toContain(`${leftOut.count} clips should and have no room. `);
    expect(text).toMatch(/The budget is [0-9.]+ [MG]B\./);
    expect(text).toContain(showText(sentence));
    expect(text).toContain('left out');
  });

  it('stand beside what was made of them, clip by clip and in all', () => {
    const picture = faultyClass();
    const [first] = picture.proxies?.plan.clips ?? [];
    if (first?.state !== 'planned') throw new Error('the first clip of the plan is planned');
    const { bytes, seconds } = first;
    const made = { encoder: 'libx264', predicted: { bytes, seconds } };
    const rendering: ClipRendering = {
      state: 'made',
      why: 'It cuts back to its original.',
      fraction: null,
      run: '0123456789abcdef',
      made: { ...made, bytes: bytes.expected * 1.1, seconds: seconds.expected / 2 },
    };
    const clips = picture.clips.map((clip) => (clip.id === first.clipId ? { ...clip, rendering } : clip));
    const text = section({ ...picture, clips });
    expect(text).toMatch(/1 clip has it: [0-9.]+ [MG]B where the plan said\s+[0-9.]+ [MG]B \(10 % more\)/);
    expect(text).toContain('(50 % less).');
    expect(text).toContain(printBytes(bytes.expected * 1.1));
  });

  it('are not spoken of where no plan was made', () => {
    const elements = elementsFor({ ...faultyClass(), proxies: null });
    expect(elements.some((element) => attribute(element, 'aria-labelledby') === 'proxies')).toBe(false);
  });
});
