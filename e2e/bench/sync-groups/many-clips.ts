import type { Clip } from '@quayside/shoot';
import { CAMERAS } from '../../media/lay-class.ts';

/** Takes of four cameras, two minutes apart, a day of 720 after another. */
export function manyClips(count: number): readonly Clip[] {
  return Array.from({ length: count }, (_, index) =>
    clipOf(CAMERAS[index % CAMERAS.length] ?? 'wheel', Math.floor(index / CAMERAS.length)),
  );
}

const TAKES_PER_DAY = 400;

function clipOf(recorder: string, take: number): Clip {
  const day = Math.floor(take / TAKES_PER_DAY);
  const minutes = (take % TAKES_PER_DAY) * 2;
  const label = [9 + Math.floor(minutes / 60), minutes % 60, 0, 0]
    .map((part) => String(part).padStart(2, '0'))
    .join(':');
  const path = `CLIPS/${recorder}-${take}.mov`;
  const beganAt = Date.UTC(2026, 0, 1 + day, 9) + minutes * 60_000;
  return {
    id: `${recorder}-${day}/${path}`,
    rollId: `${recorder}-${day}`,
    path,
    recorder,
    role: 'camera',
    sizeInBytes: 1_000_000 + take,
    modifiedAt: new Date(beganAt + 60_000).toISOString(),
    facts: {
      kind: 'picture',
      container: 'mov',
      durationMs: 60_060,
      picture: {
        codec: 'prores',
        profile: 'LT',
        width: 3840,
        height: 2160,
        pixelAspect: null,
        rate: { numerator: 24_000, denominator: 1001 },
        isVariableRate: false,
        frameCount: 1440,
        scan: 'progressive',
        bitDepth: 10,
        chroma: '4:2:2',
        colour: { primaries: null, transfer: null, matrix: null },
      },
      startTimecode: label,
      sound: [{ codec: 'pcm', channels: 2, sampleRate: 48_000, bitDepth: 24, sampleCount: 1440 * 2002 }],
      wave: null,
      device: { make: null, model: null, serial: null },
      reel: null,
      created: { at: new Date(beganAt).toISOString(), zone: 'utc' },
      damage: [],
    },
  };
}
