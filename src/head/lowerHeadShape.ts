/**
 * The head below the girth without nose, eyes, mouth and ears: distances from the axis of the head form, mm, on
 * a head of average measures. Proportions by eye and by the means of ANSUR II (sellion to menton 119.5, breadth
 * over the cheekbones 139.7, neck girth 375; Gordon et al. 2014).
 */

/** Azimuths of the columns of {@link LOWER_HEAD}: every 15 degrees from front to back. */
export const LOWER_COLUMNS = 13;

/** Height above the tragion on the average head, mm, then the distance from the axis for each azimuth. */
export const LOWER_HEAD: readonly { readonly z: number; readonly d: readonly number[] }[] = [
  { z: 20, d: [97.5, 97, 94, 88.5, 81, 76, 75, 77, 81.5, 86.5, 91, 94, 94.5] },
  { z: 0, d: [97.5, 96.5, 92, 85, 77.5, 73, 72, 73, 77, 83, 88, 91.5, 92] },
  { z: -30, d: [97, 94.5, 87, 78.5, 72, 68, 66.5, 66, 67, 70, 74, 77, 78] },
  { z: -60, d: [94.5, 91, 82, 71, 63, 58.5, 56.5, 55, 56, 59, 63, 66, 67] },
  { z: -78, d: [95.5, 90, 76, 62, 55, 53, 53, 53, 54, 57, 61, 64, 65] },
  { z: -91, d: [88, 80, 62, 52, 50, 51, 52, 53, 54, 57, 61, 64, 65] },
  { z: -98, d: [64, 60, 52, 49, 49.5, 51, 52.5, 53.5, 55, 58, 62, 65, 66] },
  { z: -115, d: [43, 43.5, 45, 47, 49, 51, 53, 54.5, 56.5, 60, 64, 67, 68] },
  { z: -135, d: [40, 40.5, 42.5, 45.5, 49, 52, 55, 57.5, 60, 64, 68, 72, 73] },
  { z: -160, d: [40, 41, 43, 47, 52, 56, 60, 63, 67, 71, 76, 80, 81] },
  { z: -185, d: [41, 42, 45, 50, 55, 60, 65, 69, 73, 78, 83, 87, 88] },
];

/** Row of the table that the neck girth is taken at, and the first row that scales with it in full. */
export const NECK_ROW = 7;
export const FIRST_NECK_ROW = 6;
/** Where the neck is cut off on the average head, mm. */
export const BASE_HEIGHT = -150;
