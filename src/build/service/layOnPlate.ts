import { convexOutline, enclosingCircle } from "../../checks/plate/footprint";
import type { Plate } from "../../checks/printer";

/**
 * From the plate's frame (origin at its middle, z up) to the frame of the points, as 16 numbers, column by column: the
 * piece, turned by `rotation` (three rows of three), stands on the plate and in its middle.
 * @param points x, y, z in turn, mm
 */
export function layOnPlate(points: Float32Array, plate: Plate, rotation: readonly number[]): number[] {
  const count = points.length / 3;
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  let bottom = Infinity;
  const row = (r: number, i: number) =>
    rotation[3 * r] * points[3 * i] +
    rotation[3 * r + 1] * points[3 * i + 1] +
    rotation[3 * r + 2] * points[3 * i + 2];
  for (let i = 0; i < count; i++) {
    x[i] = row(0, i);
    y[i] = row(1, i);
    bottom = Math.min(bottom, row(2, i));
  }
  const [middleX, middleY] =
    plate.shape === "round" ? enclosingCircle(convexOutline(x, y)).centre : [middleOf(x), middleOf(y)];
  const offset = [middleX, middleY, bottom];
  // The transpose of a rotation is its inverse.
  const back = (axis: number) => offset.reduce((sum, value, r) => sum + rotation[3 * r + axis] * value, 0);
  const columns = [0, 1, 2].flatMap((r) => [rotation[3 * r], rotation[3 * r + 1], rotation[3 * r + 2], 0]);
  return [...columns, back(0), back(1), back(2), 1];
}

function middleOf(values: Float64Array): number {
  let [least, most] = [Infinity, -Infinity];
  for (const value of values) {
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return (least + most) / 2;
}
