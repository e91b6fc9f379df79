import type { Vec3 } from "../../geometry/vector";
import type { Surroundings } from "./faceCost";

/** A, B, … Z, AA, AB … */
export function letterOf(index: number): string {
  const rest = Math.floor(index / 26);
  return (rest > 0 ? letterOf(rest - 1) : "") + String.fromCharCode(65 + (index % 26));
}

/** How far from the middle counts as a side, as a share of half the extent. */
const aside = 0.2;

/** Where a piece lies on the headpiece, in words: "left front", "top", "middle". */
export function placeInWords(centre: Vec3, { middle, half }: Surroundings): string {
  const [x, y, z] = [0, 1, 2].map((axis) => (centre[axis] - middle[axis]) / Math.max(half[axis], 1));
  const words = [
    x > aside ? "right" : x < -aside ? "left" : "",
    y > aside ? "front" : y < -aside ? "back" : "",
    z > 2 * aside ? "top" : "",
  ].filter((word) => word !== "");
  return words.join(" ") || "middle";
}
