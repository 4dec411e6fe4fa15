import type { MediaFacts } from '@quayside/shoot';

const FRAMES_PER_SECOND = 25;
const TAKE_SECONDS = 100;

/** Seconds from the start of one take to the start of the next. */
export const TAKE_EVERY_SECONDS = 110;

/** What a camera's clip of a take says of itself, with all that a usual one says: as much as the view has to hold. */
export function factsOfTake(startSeconds: number): MediaFacts {
  return {
    kind: 'picture',
    container: 'MPEG-4 (qt)',
    durationMs: TAKE_SECONDS * 1000,
    picture: {
      codec: 'ProRes',
      profile: '422 LT',
      width: 1920,
      height: 1080,
      pixelAspect: { numerator: 1, denominator: 1 },
      rate: { numerator: FRAMES_PER_SECOND, denominator: 1 },
      isVariableRate: false,
      frameCount: TAKE_SECONDS * FRAMES_PER_SECOND,
      scan: 'progressive',
      bitDepth: 10,
      chroma: '4:2:2',
      colour: { primaries: 'BT.709', transfer: 'BT.709', matrix: 'BT.709' },
    },
    startTimecode: labelOf(startSeconds),
    sound: [{ codec: 'PCM', channels: 2, sampleRate: 48_000, bitDepth: 24, sampleCount: TAKE_SECONDS * 48_000 }],
    wave: null,
    device: { make: null, model: null, serial: null },
    reel: null,
    created: null,
    damage: [],
  };
}

function labelOf(startSeconds: number): string {
  // A clock begins anew at midnight.
  const parts = [Math.floor(startSeconds / 3600) % 24, Math.floor(startSeconds / 60) % 60, startSeconds % 60, 0];
  return parts.map((part) => String(part).padStart(2, '0')).join(':');
}
