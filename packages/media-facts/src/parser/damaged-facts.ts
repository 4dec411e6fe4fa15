import type { MediaFacts } from '@quayside/shoot';

/** The facts of a file of which nothing is known but that there is something wrong with it. */
export function damagedFacts(kind: MediaFacts['damage'][number]['kind'], why: string): MediaFacts {
  return { ...NO_FACTS, damage: [{ kind, why }] };
}

/** The facts of a file that says nothing. */
export const NO_FACTS: MediaFacts = {
  kind: 'other',
  container: null,
  durationMs: null,
  picture: null,
  startTimecode: null,
  sound: [],
  wave: null,
  device: { make: null, model: null, serial: null },
  reel: null,
  created: null,
  damage: [],
};
