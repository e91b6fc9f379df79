import type { Box } from "manifold-3d";

/** Whether two boxes touch or overlap: solids in boxes that do not are apart. */
export const boxesMeet = ({ min, max }: Box, other: Box): boolean =>
  min[0] <= other.max[0] &&
  other.min[0] <= max[0] &&
  min[1] <= other.max[1] &&
  other.min[1] <= max[1] &&
  min[2] <= other.max[2] &&
  other.min[2] <= max[2];
