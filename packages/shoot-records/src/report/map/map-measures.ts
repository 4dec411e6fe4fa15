/** The measures of a map in its own units, which are CSS pixels at full size. */
export const MAP = {
  width: 1040,
  /** Room at the right for the edge of the last band. */
  margin: 2,
  /** Where the names of the recorders stand. */
  gutter: 100,
  headerHeight: 40,
  laneHeight: 25,
  barHeight: 19,
  axisHeight: 24,
  /** Between two groups, for the length of the pause. */
  pauseWidth: 30,
  /** Narrower than this a group's heading does not fit. */
  smallestPanel: 128,
} as const;

/** About how wide a character is at a size, for fonts of average width: labels are cut by it, and clipped beyond. */
export const CHARACTER_WIDTH = 0.64;
