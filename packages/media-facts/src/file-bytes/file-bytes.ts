/** A file that is read in pieces, each read counted. */
export interface FileBytes {
  readonly size: number;
  /** The bytes from `position`, fewer than `length` at the end of the file, none beyond it. */
  readAt(position: number, length: number): Buffer;
  /** What has been read so far, bytes read twice counted twice. */
  bytesRead(): number;
}
