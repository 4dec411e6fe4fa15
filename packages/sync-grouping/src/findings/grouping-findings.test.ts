import { readFileSync } from 'node:fs';
import { Finding, matterOf } from '@quayside/shoot';
import { describe, expect, it } from 'vitest';
import { groupBySync } from '../group-by-sync.ts';
import { GROUPING_FINDINGS } from './grouping-findings.ts';
import { CONTEXT, pictureClip, POLICY, threeTakesWithout } from '../pottery-class.test-support.ts';

// What recorders do on a set is the trade's common practice and has no published source; it is named where it is relied on.

const LATER = '10:20:00:03';

describe('findings', () => {
  const result = groupBySync(
    [...threeTakesWithout('kiln', LATER), pictureClip({ recorder: 'hands', from: '10:40:00:00', length: 500 })],
    POLICY,
    CONTEXT,
  );

  it('are those of the vocabulary, dated as told, each its own matter', () => {
    for (const finding of result.findings) expect(Finding.parse(finding).at).toBe(CONTEXT.at);
    expect(new Set(result.findings.map(matterOf)).size).toBe(result.findings.length);
  });

  it('are the same matter when grouped again', () => {
    const again = groupBySync(
      [
        ...threeTakesWithout('kiln', LATER),
        pictureClip({ recorder: 'hands', from: '10:40:00:00', length: 500 }),
      ].toReversed(),
      POLICY,
      {
        ...CONTEXT,
        at: '2026-11-25T19:00:00.000Z',
        previous: result.groups,
      },
    );
    expect(again.findings.map(matterOf)).toEqual(result.findings.map(matterOf));
  });

  it('are all in the catalogue of the documentation, word for word, and nothing else is', () => {
    const document = readFileSync(new URL('../../FINDINGS.md', import.meta.url), 'utf8');
    const documented = [...document.matchAll(/^### ([A-Z_]+) \((\w+)\)\n\n(.+)\n\n_What to do:_ (.+)$/gm)].map(
      (entry) => entry.slice(1, 5),
    );
    expect(documented).toEqual(
      Object.entries(GROUPING_FINDINGS).map(([code, { severity, explanation, remedy }]) => [
        code,
        severity,
        explanation,
        remedy,
      ]),
    );
  });
});
