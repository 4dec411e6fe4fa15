import { PipelineEvent, type StreamedEvent } from '@quayside/shoot';
import { ask, parseRow, type View } from './view.ts';

/** One entry of the stream as Redis gives it: its id, then field and value in turn. */
export type Entry = readonly [id: string, fields: readonly string[]];

/** The events in entries of the stream. Unreadable ones are told and passed over. */
export function parseEntries(view: View, entries: readonly Entry[]): StreamedEvent[] {
  return entries.flatMap(([id, [, text]]) => {
    const event = parseRow(view, PipelineEvent, { key: `${view.key('events')} ${id}`, text });
    return event === null ? [] : [{ ...event, id }];
  });
}

/** The id of the newest event, or `'0'` when the stream is empty. */
export async function lastEventId(view: View): Promise<string> {
  const [newest] = await ask(view, (redis) => redis.xrevrange(view.key('events'), '+', '-', 'COUNT', 1));
  return newest?.[0] ?? '0';
}
