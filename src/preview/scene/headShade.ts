import type { Vector } from "./vector";

/** The head's shade: a map over directions from its middle, columns round the vertical, rows from below to above. */
export const shadeSize = { columns: 96, rows: 48 };

/** Gap at which the piece no longer darkens the head, mm. */
const farGap = 45;

/** Points looked at: more would not change the map. */
const mostPoints = 40_000;

/**
 * How much the piece keeps light from the head, 0 to 255 by direction: what lies near darkens most. Counted from the
 * piece's points, spread softly; a hint of contact that costs a few milliseconds, not a measure.
 *
 * @param clouds points of the piece, x, y, z in turn, mm
 * @param middle of the head
 * @param halves half axes of the head, mm
 */
export function headShade(clouds: readonly Float32Array[], middle: Vector, halves: Vector): Uint8Array {
  const { columns, rows } = shadeSize;
  const dark = new Float32Array(columns * rows);
  const total = clouds.reduce((sum, cloud) => sum + cloud.length / 3, 0);
  const stride = 3 * Math.max(1, Math.floor(total / mostPoints));
  const size = (halves[0] + halves[1] + halves[2]) / 3;
  for (const cloud of clouds) {
    for (let p = 0; p + 2 < cloud.length; p += stride) {
      const x = (cloud[p] - middle[0]) / halves[0];
      const y = (cloud[p + 1] - middle[1]) / halves[1];
      const z = (cloud[p + 2] - middle[2]) / halves[2];
      const distance = Math.sqrt(x * x + y * y + z * z);
      const gap = (distance - 1) * size;
      if (gap >= farGap || distance === 0) continue;
      const near = 1 - Math.max(0, gap) / farGap;
      const column = Math.min(columns - 1, Math.floor((Math.atan2(x, y) / (2 * Math.PI) + 0.5) * columns));
      const row = Math.min(rows - 1, Math.floor((Math.asin(z / distance) / Math.PI + 0.5) * rows));
      const at = row * columns + column;
      dark[at] = Math.max(dark[at], near * near);
    }
  }
  const soft = blurred(blurred(dark));
  return Uint8Array.from(soft, (value) => Math.min(255, Math.round(300 * value)));
}

/** Each direction and its neighbours, round the vertical without a seam. */
function blurred(map: Float32Array): Float32Array {
  const { columns, rows } = shadeSize;
  const across = new Float32Array(map.length);
  for (let row = 0; row < rows; row++) {
    // Near the poles a column is narrow.
    const reach = Math.min(
      12,
      Math.ceil(1.5 / Math.max(0.1, Math.cos(((row + 0.5) / rows - 0.5) * Math.PI))),
    );
    for (let column = 0; column < columns; column++) {
      let sum = 0;
      for (let d = -reach; d <= reach; d++) sum += map[row * columns + ((column + d + columns) % columns)];
      across[row * columns + column] = sum / (2 * reach + 1);
    }
  }
  const soft = new Float32Array(map.length);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      let sum = 0;
      for (let d = -1; d <= 1; d++) {
        const other = Math.max(0, Math.min(rows - 1, row + d));
        sum += across[other * columns + column];
      }
      soft[row * columns + column] = sum / 3;
    }
  }
  return soft;
}
