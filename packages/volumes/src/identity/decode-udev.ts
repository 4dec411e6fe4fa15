/** Undoes udev's encoding of labels, as in `ID_FS_LABEL_ENC` and in the links below `/dev/disk`: `\x20` for a space, by bytes. */
export function decodeUdev(text: string): string {
  const pieces = text.split(/(\\x[0-9a-f]{2})/i);
  const bytes = pieces.map((piece, index) => (index % 2 ? Buffer.from(piece.slice(2), 'hex') : Buffer.from(piece)));
  return Buffer.concat(bytes).toString();
}
