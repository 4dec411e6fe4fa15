import { z } from 'zod';
import { BasedEstimate } from '../estimates/estimate.ts';
import { printBytes } from '../print-bytes.ts';
import type { RecordingFormat } from './recording-format.ts';

/** What is asked: who records what for how long, onto which drives, copied to which destinations. */
export interface CapacityQuestion {
  readonly recorders: readonly {
    readonly name: string;
    readonly format: RecordingFormat;
    /** Bytes that its drive has free now; null when no drive of it is known. */
    readonly driveFreeBytes: number | null;
  }[];
  readonly seconds: number;
  readonly destinations: readonly {
    readonly name: string;
    /** What is free there for this shoot: without what must stay free and what other rolls still bring. Null: it is away. */
    readonly freeBytes: number | null;
    /** How many of the destinations lie on its device and share what is free: 1 when it lies there alone. */
    readonly sharedBy: number;
  }[];
  /** Bytes in a second that were taken in and proven, all drives together, newest last; empty when nothing was measured. */
  readonly measuredIngest: readonly number[];
}

/** What comes of it. Each recorder and destination says for itself whether it is enough; `fits` is true when all that is known is. */
export const Capacity = z.object({
  recorders: z.array(
    z.object({
      name: z.string(),
      format: z.string(),
      bytesPerSecond: z.number().int().nonnegative(),
      /** Of the whole shoot. */
      bytes: z.number().int().nonnegative(),
      isListed: z.boolean(),
      driveFreeBytes: z.number().int().nonnegative().nullable(),
      /** How long its drive still takes this format. */
      secondsLeft: z.number().nonnegative().nullable(),
      isEnough: z.boolean().nullable(),
    }),
  ),
  bytes: z.number().int().nonnegative(),
  destinations: z.array(
    z.object({
      name: z.string(),
      freeBytes: z.number().int().nonnegative().nullable(),
      sharedBy: z.number().int().positive(),
      bytes: z.number().int().nonnegative(),
      /** How long all recorders together can record until it is full. */
      secondsLeft: z.number().nonnegative().nullable(),
      isEnough: z.boolean().nullable(),
    }),
  ),
  ingestSeconds: BasedEstimate,
  /** Null when nothing is known to be too small and something is not known. */
  fits: z.boolean().nullable(),
  /** What does not fit or is not known, one sentence each. */
  cautions: z.array(z.string()),
});
export type Capacity = z.output<typeof Capacity>;

/** Bytes in a second from four drives to proof at two destinations, before anything was measured: a guess, and said to be one. */
const UNMEASURED_INGEST = 250_000_000;

/** Whether a shoot fits on its drives and at its destinations, and how long it takes to bring it in. Sizes are the tables' targets. */
export function planCapacity(question: CapacityQuestion): Capacity {
  const recorders = question.recorders.map(({ name, format, driveFreeBytes }) => {
    const bytes = Math.ceil(format.bytesPerSecond * question.seconds);
    const secondsLeft = driveFreeBytes === null ? null : driveFreeBytes / format.bytesPerSecond;
    const isEnough = driveFreeBytes === null ? null : bytes <= driveFreeBytes;
    const { bytesPerSecond, isListed } = format;
    return { name, format: format.text, bytesPerSecond, bytes, isListed, driveFreeBytes, secondsLeft, isEnough };
  });
  const bytes = recorders.reduce((sum, recorder) => sum + recorder.bytes, 0);
  const perSecond = recorders.reduce((sum, recorder) => sum + recorder.bytesPerSecond, 0);
  const destinations = question.destinations.map(({ name, freeBytes, sharedBy }) => ({
    name,
    freeBytes,
    sharedBy,
    bytes,
    secondsLeft: freeBytes === null || perSecond === 0 ? null : freeBytes / (perSecond * sharedBy),
    isEnough: freeBytes === null ? null : bytes * sharedBy <= freeBytes,
  }));
  const answers = [...recorders, ...destinations].map(({ isEnough }) => isEnough);
  return {
    recorders,
    bytes,
    destinations,
    ingestSeconds: ingestTime(bytes, question.measuredIngest),
    fits: answers.includes(false) ? false : answers.includes(null) ? null : true,
    cautions: [...recorders.flatMap(ofRecorder), ...destinations.flatMap(ofDestination)],
  };
}

function ingestTime(bytes: number, measured: readonly number[]): BasedEstimate {
  const recent = measured.slice(-RECENT).toSorted((one, other) => one - other);
  const middle = recent[Math.floor(recent.length / 2)];
  if (middle === undefined) {
    const seconds = bytes / UNMEASURED_INGEST;
    return { expected: seconds, low: seconds / 4, high: seconds * 4, basis: 'never measured here' };
  }
  const [slowest = middle] = recent;
  const fastest = recent.at(-1) ?? middle;
  return {
    expected: bytes / middle,
    low: bytes / Math.max(fastest, middle * 1.25),
    high: bytes / Math.min(slowest, middle / 1.25),
    basis: 'measured here',
  };
}

const RECENT = 9;

function ofRecorder({ name, isEnough, bytes, driveFreeBytes, secondsLeft }: Capacity['recorders'][number]): string[] {
  if (isEnough === null) return [`No drive of ${name} is connected: it needs ${printBytes(bytes)}.`];
  if (isEnough) return [];
  return [
    `The drive of ${name} is too small: it needs ${printBytes(bytes)} and has ${printBytes(driveFreeBytes ?? 0)} free, which is ${hours(secondsLeft ?? 0)}.`,
  ];
}

function ofDestination({
  name,
  isEnough,
  bytes,
  freeBytes,
  sharedBy,
  secondsLeft,
}: Capacity['destinations'][number]): string[] {
  if (isEnough === null) return [`Destination ${name} is away: it needs ${printBytes(bytes)}.`];
  if (isEnough) return [];
  const shared = sharedBy === 1 ? '' : `, shared by ${sharedBy} destinations on one device`;
  return [
    `Destination ${name} is too small: it needs ${printBytes(bytes)} and has ${printBytes(freeBytes ?? 0)} free${shared}, which is ${hours(secondsLeft ?? 0)} of all recorders.`,
  ];
}

function hours(seconds: number): string {
  const minutes = Math.floor(seconds / 60);
  return `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, '0')} min`;
}
