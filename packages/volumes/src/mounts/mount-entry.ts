/** One line of the mount table: what is mounted where. Paths are unescaped; nothing in it is a promise for the next moment. */
export interface MountEntry {
  readonly path: string;
  /** The kernel's mount id. It is used again after an unmount; on macOS, which has none, the device again. */
  readonly mountId: string;
  /** `major:minor` of the file system: equal for two mounts of one file system. */
  readonly device: string;
  /** The folder of the file system that is mounted: `/` unless it is a bind mount or a subvolume. */
  readonly root: string;
  /** The driver's name, which is not always the format's: exFAT can be `exfat` or `fuseblk`. */
  readonly fileSystem: string;
  readonly source: string;
  readonly readOnly: boolean;
  /** The address of the server of a network mount, where the kernel tells it. */
  readonly serverAddress: string | null;
}
