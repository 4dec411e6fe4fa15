import { StepFailure } from '@quayside/step-sdk';

/** For each sound track, in order, how many channels it has when its file does not declare where they belong, else null. */
export function undeclaredChannels(said: string): readonly (number | null)[] {
  return [...said.matchAll(/^ *Stream #0:\d+.*: Audio: .*, \d+ Hz, ([^,]+)/gm)].map(([, layout = '']) => {
    const count = /^(\d+) channels$/.exec(layout)?.[1];
    return count === undefined ? null : Number(count);
  });
}

/** Places in front and above, which ITU-R BS.1770 weighs alike; none of the rear ones, and not that of the low frequencies. */
const EQUAL_PLACES = 'FL FR FC FLC FRC TC TFL TFC TFR DL DR WL WR TSL TSR BFC BFL BFR'.split(' ');

/**
 * A filter that gives the channels of a sound recorder places that all weigh alike, since the measuring filter takes no
 * channels without any.
 * @throws StepFailure `TOO_MANY_CHANNELS`
 */
export function neutralLayout(count: number): string {
  if (count > EQUAL_PLACES.length) {
    const sentence = `A sound track has ${count} channels, and at most ${EQUAL_PLACES.length} can be measured together. Have the recorder write files of fewer channels.`;
    throw new StepFailure({ code: 'TOO_MANY_CHANNELS', sentence, retry: 'never' });
  }
  const places = EQUAL_PLACES.slice(0, count);
  return `channelmap=map=${places.map((_, place) => place).join('|')}:channel_layout=${places.join('+')}`;
}
