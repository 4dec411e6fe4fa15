import { describe, expect, it } from 'vitest';
import { pictureClip } from '../pottery-class.test-support.ts';
import { readClip } from '../reading/read-clip.ts';
import { TICKS_PER_SECOND } from '../ticks.ts';
import type { PlacedClip } from './placed-clip.ts';
import { findShiftByTakes } from './shift-by-takes.ts';

const second = TICKS_PER_SECOND;
const takesFrom = (...takes: readonly (readonly [number, number])[]): readonly { start: number; end: number }[] =>
  takes.map(([start, length]) => ({ start: start * second, end: (start + length) * second }));

function clipsFrom(...clips: readonly (readonly [number, number])[]): readonly PlacedClip[] {
  return clips.map(([start, length]) => {
    const reading = readClip(pictureClip({ recorder: 'kiln', from: '00:00:00:00', length: 24, name: `${start}` }));
    if (!reading.ok) throw new Error(reading.why);
    const place = { start: start * second, end: (start + length) * second, chain: 0 };
    return { timed: reading.timed, ...place, placedBy: 'timecode', confidence: 'sure', restsOn: '' };
  });
}

describe('the shift of a recorder by the takes', () => {
  it('is found from the pattern of lengths and pauses', () => {
    const takes = takesFrom([0, 100], [150, 40], [220, 90], [400, 70]);
    expect(findShiftByTakes(clipsFrom([1000, 100], [1150, 40], [1220, 90]), takes)).toEqual({
      ticks: -1000 * second,
      share: 1,
    });
  });

  it('is not found when two fit equally well', () => {
    const takes = takesFrom([0, 50], [100, 50], [200, 50], [300, 50], [400, 50]);
    expect(findShiftByTakes(clipsFrom([1000, 50], [1100, 50], [1200, 50]), takes)).toBeNull();
  });

  it('is not found from pauses alone, when the lengths differ', () => {
    const takes = takesFrom([0, 100], [150, 40], [220, 90]);
    expect(findShiftByTakes(clipsFrom([1000, 20], [1150, 20], [1220, 20]), takes)).toBeNull();
  });

  it('is not found from fewer than three clips, nor when it holds for less than 60 % of them', () => {
    const takes = takesFrom([0, 100], [150, 40], [220, 90]);
    expect(findShiftByTakes(clipsFrom([1000, 100], [1150, 40]), takes)).toBeNull();
    const mostlyElsewhere = clipsFrom([1000, 100], [1150, 40], [1220, 90], [2000, 300], [3000, 310], [4000, 320]);
    expect(findShiftByTakes(mostlyElsewhere, takes)).toBeNull();
  });
});
