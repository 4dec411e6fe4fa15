/**
 * What operating systems leave on a drive by themselves: names of files or folders, at any depth, written just so, with `*`
 * for any run of characters. Footage never has these names, so leaving them out cannot lose a take.
 */
export const DEFAULT_LITTER: readonly string[] = [
  // macOS
  '._*',
  '.DS_Store',
  '.AppleDouble',
  '.DocumentRevisions-V100',
  '.Spotlight-V100',
  '.TemporaryItems',
  '.Trashes',
  '.VolumeIcon.icns',
  '.apdisk',
  '.com.apple.timemachine.donotpresent',
  '.fseventsd',
  // Windows
  '$RECYCLE.BIN',
  'Desktop.ini',
  'desktop.ini',
  'System Volume Information',
  'Thumbs.db',
  // Linux desktops, and the folder that every ext4 has; what has been recovered into it is listed all the same
  '.Trash-*',
  'lost+found',
];
