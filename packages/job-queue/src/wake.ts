import type { ChainableCommander } from 'ioredis';
import { rollKey } from './read-rolls.ts';
import type { View } from './view.ts';

/**
 * Adds to a transaction that these rolls wake, because something is noted beside them or their shoot. Those that are being
 * put to sleep in this moment see it by the count of notes, and stay awake.
 */
export function wake(view: View, commands: ChainableCommander, rollIds: readonly string[]): ChainableCommander {
  for (const id of rollIds) commands.hincrby(rollKey(view, id), 'notes', 1).srem(view.key('asleep'), id);
  return commands;
}
