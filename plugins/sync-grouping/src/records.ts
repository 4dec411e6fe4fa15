import { FolderName } from '@quayside/shoot';
import { renderShootRecords } from '@quayside/shoot-records';
import { defineStep } from '@quayside/step-sdk/built-in';
import { z } from 'zod';
import { lastGrouping } from './last-grouping.ts';
import { pictureOf } from './picture-of.ts';

/**
 * Writes the timelines, tables and the report of a shoot beside its footage, at every destination that holds sealed rolls of
 * it. What is there is replaced file by file, each whole or not at all.
 */
export const records = defineStep({
  name: 'records',
  scope: 'shoot',
  after: ['sync-grouping', 'proxy-planning', 'seal'],
  needs: ['shoots'],
  config: z.object({}),
  input: z.object({ shootId: FolderName }),
  output: z.object({ recordsState: z.string(), destinations: z.array(z.string()) }),
  async run({ input: { shootId }, context }) {
    const material = await context.shoots.material(shootId);
    const grouping = lastGrouping(material.grouping);
    const places = grouping === null || material.clips.length === 0 ? [] : await context.shoots.places(shootId);
    const madeAt = new Date().toISOString();
    for (const place of places) {
      context.signal.throwIfAborted();
      // Without a grouping there are no places.
      if (grouping === null) break;
      const picture = pictureOf({ id: shootId, material, grouping }, place, madeAt);
      await context.shoots.write(shootId, place.destination, renderShootRecords(picture));
    }
    return { recordsState: material.recordsState, destinations: places.map(({ destination }) => destination) };
  },
});
