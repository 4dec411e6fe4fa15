import type { Json, Otio } from './otio-json.ts';

/**
 * A `Timeline.1` around its tracks. Free of markers: a newer reader refuses the marker that older ones know, so findings are in
 * the metadata.
 */
export function timelineObject(timeline: {
  readonly name: string;
  readonly metadata: { readonly [key: string]: Json };
  readonly globalStartTime: Otio;
  readonly tracks: readonly Otio[];
}): Otio {
  return {
    OTIO_SCHEMA: 'Timeline.1',
    metadata: { quayside: { schema: 1, ...timeline.metadata } },
    name: timeline.name,
    global_start_time: timeline.globalStartTime,
    tracks: {
      OTIO_SCHEMA: 'Stack.1',
      metadata: {},
      name: 'tracks',
      source_range: null,
      effects: [],
      markers: [],
      enabled: true,
      children: timeline.tracks,
    },
  };
}
