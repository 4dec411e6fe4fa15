import { Shoot } from '@quayside/shoot';
import { z } from 'zod';
import { RollAnswer } from './roll-answer.ts';

const Count = z.int().nonnegative();

/** A shoot with how its rolls stand. */
export const ShootAnswer = z.object({
  ...Shoot.shape,
  rollCount: Count,
  clearCount: Count.describe('Rolls whose drives may be recorded over.'),
  holdCount: Count,
});
export type ShootAnswer = z.output<typeof ShootAnswer>;

/** A shoot with its rolls, newest first. */
export const ShootDetail = ShootAnswer.extend({ rolls: z.array(RollAnswer) });
export type ShootDetail = z.output<typeof ShootDetail>;
