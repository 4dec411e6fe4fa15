import type { ShootSubject } from '@quayside/step-sdk';

/** A clip and a group as a step of scope `shoot` is told of them. */
export type Clip = ShootSubject['clips'][number];
export type Group = ShootSubject['groups'][number];
