/** How a person would do the same by hand: two copies, and the three files hashed. */
export const CP_AND_XXHSUM =
  'cp wheel/clip.mov a/ && cp wheel/clip.mov b/ && xxhsum -H2 wheel/clip.mov a/clip.mov b/clip.mov';

/** The same for one who knows that a copy in memory proves nothing. Needs root. */
export const CP_AND_XXHSUM_FROM_MEDIUM =
  'cp wheel/clip.mov a/ && cp wheel/clip.mov b/ && sync && echo 3 > /proc/sys/vm/drop_caches && xxhsum -H2 wheel/clip.mov a/clip.mov b/clip.mov';

/** The same with a tool that compares by itself. */
export const RCLONE =
  'rclone copy wheel a && rclone copy wheel b && rclone check --download wheel a && rclone check --download wheel b';
