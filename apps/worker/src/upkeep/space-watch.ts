import { statfs } from 'node:fs/promises';
import type { Instant, PipelineEvent } from '@quayside/shoot';

export interface Space {
  readonly name: string;
  /** What may still be written there beyond what is to stay free. */
  readonly freeBytes: number;
  readonly sizeInBytes: number;
}

/** A destination has room again when a tenth more than the limit is free: at the limit it would be told to and fro. */
const AGAIN = 1.1;

/** Says once when a destination becomes nearly full, and once when it has room again. It forgets when the worker ends. */
export class SpaceWatch {
  readonly #low = new Set<string>();
  readonly #limit: number;

  /** `lowPercent`: with less free it is nearly full; 0 never is. */
  constructor(lowPercent: number) {
    this.#limit = lowPercent / 100;
  }

  look({ name, freeBytes, sizeInBytes }: Space, now: Instant): PipelineEvent | null {
    const share = freeBytes / Math.max(sizeInBytes, 1);
    const isLow = this.#low.has(name);
    const data = { freeBytes: Math.max(freeBytes, 0), sizeInBytes, severity: isLow ? 'info' : 'warning' };
    if (!isLow && this.#limit > 0 && share < this.#limit) {
      this.#low.add(name);
      const sentence = `Destination ${name} is nearly full: ${gigabytes(freeBytes)} of ${gigabytes(sizeInBytes)} are left for footage. Make room before the next drives come.`;
      return { type: 'destination.low', at: now, subject: name, sentence, data };
    }
    if (!isLow || share < this.#limit * AGAIN) return null;
    this.#low.delete(name);
    const sentence = `Destination ${name} has room again: ${gigabytes(freeBytes)} are left for footage.`;
    return { type: 'destination.roomy', at: now, subject: name, sentence, data };
  }
}

/** How large the file system at a root is, and what an ordinary user may still write there, in bytes. */
export async function spaceAt(root: string): Promise<Omit<Space, 'name'>> {
  const { bavail, blocks, bsize } = await statfs(root);
  return { freeBytes: bavail * bsize, sizeInBytes: blocks * bsize };
}

function gigabytes(bytes: number): string {
  const amount = Math.max(bytes, 0) / 1024 ** 3;
  return `${amount < 10 ? amount.toFixed(1) : Math.round(amount)} GiB`;
}
