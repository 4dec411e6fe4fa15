// TypeScript's library without the DOM does not know this global of Node; only what is used here is stated.
declare const WebAssembly: {
  readonly Memory: new (size: { initial: number; maximum: number }) => { readonly buffer: ArrayBuffer };
};

const WASM_PAGE_BYTES = 64 * 1024;

/** The alignment of memory, length and offset that direct I/O asks for; no file system in use asks for more. */
export const ALIGNMENT_BYTES = 4096;

/** Page-aligned memory, which direct I/O needs and a `Buffer` is not. Never given back to the system: take it once, use it again. */
export function allocateAligned(sizeInBytes: number): Uint8Array {
  const pages = Math.ceil(sizeInBytes / WASM_PAGE_BYTES);
  return new Uint8Array(new WebAssembly.Memory({ initial: pages, maximum: pages }).buffer, 0, sizeInBytes);
}

/** The length rounded up to what direct I/O can move. */
export function alignedLength(length: number): number {
  return Math.ceil(length / ALIGNMENT_BYTES) * ALIGNMENT_BYTES;
}
