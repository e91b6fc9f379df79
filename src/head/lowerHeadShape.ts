/**
 * The head below the girth without nose, eyes, mouth and ears: distances from the upright axis through the head
 * form's center, mm, on a head of average measures. Down to the chin they follow, rounded and slimmed, level
 * sections of the two magnetic resonance volumes named in craniumShape.ts; the neck is drawn to the mean neck girth
 * of ANSUR II (375; Gordon et al. 2014).
 */

/** Azimuths of the columns of {@link LOWER_HEAD}: every 15 degrees from front to back. */
export const LOWER_COLUMNS = 13;

/** Height above the tragion on the average head, mm, then the distance from the axis for each azimuth. */
export const LOWER_HEAD: readonly { readonly z: number; readonly d: readonly number[] }[] = [
  { z: 20, d: [104.8, 101.6, 98.4, 89.6, 81.2, 76.2, 74.8, 76.8, 80.4, 84.4, 87.2, 88.4, 88.2] },
  { z: 5, d: [103.4, 98.8, 96.6, 89.4, 80.6, 75.2, 72.8, 74.2, 77.6, 81.2, 84.4, 86.2, 86.4] },
  { z: -15, d: [103.6, 99.8, 97.4, 90.0, 81.6, 75.2, 70.0, 69.4, 71.4, 74.0, 77.2, 79.6, 80.6] },
  { z: -30, d: [104.4, 100.2, 94.4, 85.6, 77.6, 72.4, 68.2, 66.2, 66.6, 68.4, 71.2, 73.4, 74.4] },
  { z: -45, d: [103.2, 97.4, 89.8, 80.6, 73.0, 68.6, 65.0, 63.0, 62.6, 64.0, 67.0, 69.0, 70.0] },
  { z: -60, d: [100.0, 94.4, 84.4, 72.6, 65.8, 62.8, 61.6, 61.4, 61.6, 62.4, 64.6, 66.0, 66.6] },
  { z: -73, d: [99.4, 91.4, 77.4, 64.8, 59.6, 58.8, 59.4, 60.4, 61.2, 62.2, 63.8, 65.0, 65.4] },
  { z: -85, d: [94.6, 84.2, 67.0, 56.6, 54.6, 56.2, 58.4, 60.0, 61.4, 62.8, 64.2, 65.2, 65.6] },
  { z: -93, d: [80.0, 71.0, 57.6, 52.0, 52.4, 55.0, 57.8, 59.8, 61.6, 63.2, 64.8, 65.8, 66.2] },
  { z: -100, d: [60.0, 56.6, 51.4, 50.0, 51.8, 54.8, 57.8, 60.0, 62.0, 64.0, 65.8, 66.8, 67.2] },
  { z: -114, d: [46.0, 46.6, 47.8, 49.6, 52.2, 55.2, 58.2, 60.8, 63.2, 65.6, 67.8, 69.2, 69.6] },
  { z: -134, d: [43.6, 44.4, 46.2, 49.2, 52.8, 56.6, 60.2, 63.4, 66.6, 69.6, 72.4, 74.4, 75.0] },
  { z: -160, d: [43.6, 44.6, 47.0, 51.0, 55.8, 60.6, 65.2, 69.4, 73.4, 77.4, 80.8, 83.4, 84.2] },
  { z: -190, d: [45.0, 46.4, 49.4, 54.6, 60.0, 65.8, 71.0, 76.0, 81.0, 85.6, 89.6, 92.4, 93.4] },
];

/** Row of the table that the neck girth is taken at, and the first row that scales with it in full. */
export const NECK_ROW = 10;
export const FIRST_NECK_ROW = 9;
/** Where the neck is cut off on the average head, mm. */
export const BASE_HEIGHT = -150;
