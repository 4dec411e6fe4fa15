/**
 * A large copy is made durable block by block, and proven by blocks when it is gone on with. An interruption costs at most
 * two of them again: the one being written and the one being made durable. A multiple of every buffer's size.
 */
export const BLOCK_BYTES = 32 * 1024 * 1024;

/** Up to here a copy is made anew after an interruption, which costs no more than two blocks. */
const NOT_WORTH_KEEPING_BYTES = 2 * BLOCK_BYTES;

/** True for a file whose copy is kept when it is interrupted, to be gone on with. */
export function isWorthKeeping(sizeInBytes: number): boolean {
  return sizeInBytes > NOT_WORTH_KEEPING_BYTES;
}
