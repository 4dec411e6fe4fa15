/** One entry of an edit list. `mediaTime` is null for an empty edit, in which the track shows nothing. */
export interface Edit {
  /** In ticks of the whole film's clock. */
  readonly duration: number;
  /** In ticks of the track's own clock. */
  readonly mediaTime: number | null;
}

export interface Media {
  readonly ticks: number;
  readonly timescale: number;
  readonly filmTimescale: number;
  readonly edits: readonly Edit[];
  /** How much later than decoded the first sample is shown; an edit that begins there trims nothing. */
  readonly firstShift: number;
}

/** What is left of a track when its edit list is applied, in ticks of the track's own clock. */
export interface Shown {
  readonly headTicks: number;
  readonly ticks: number;
}

/** The part of a track that its edit list shows. The list's lengths are rounded to the film's clock, so they only count where they cut more than that. */
export function shownPart({ ticks, timescale, filmTimescale, edits, firstShift }: Media): Shown {
  const [first] = edits.filter(({ mediaTime }) => mediaTime !== null);
  const headTicks = Math.min(ticks, Math.max(0, (first?.mediaTime ?? 0) - firstShift));
  const rest = ticks - headTicks;
  const filmTicks = edits.reduce((sum, edit) => (edit.mediaTime === null ? sum : sum + edit.duration), 0);
  // A length of 0 is what fragmented files write: everything that follows.
  if (filmTicks === 0 || filmTimescale === 0) return { headTicks, ticks: rest };
  const edited = (filmTicks * timescale) / filmTimescale;
  const rounding = timescale / filmTimescale;
  return { headTicks, ticks: rest - edited > rounding ? Math.round(edited) : rest };
}
