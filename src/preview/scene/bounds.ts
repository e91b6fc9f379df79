import type { Vector } from "./vector";

/** The box of some points along the head frame's axes, mm. */
export interface Box {
  readonly least: Vector;
  readonly most: Vector;
}

/** The box round all points (x, y, z in turn); undefined where there are none. */
export function boxOf(clouds: readonly ArrayLike<number>[]): Box | undefined {
  let [x0, y0, z0, x1, y1, z1] = [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity];
  for (const cloud of clouds) {
    for (let p = 0; p + 2 < cloud.length; p += 3) {
      const x = cloud[p];
      const y = cloud[p + 1];
      const z = cloud[p + 2];
      if (x < x0) x0 = x;
      if (x > x1) x1 = x;
      if (y < y0) y0 = y;
      if (y > y1) y1 = y;
      if (z < z0) z0 = z;
      if (z > z1) z1 = z;
    }
  }
  return x0 <= x1 ? { least: [x0, y0, z0], most: [x1, y1, z1] } : undefined;
}

/** The box round boxes; undefined where there are none. */
export const boxRound = (boxes: readonly Box[]): Box | undefined =>
  boxOf(boxes.map(({ least, most }) => [...least, ...most]));

/** The eight corners, x, y, z in turn; x changes fastest. */
export function cornersOf({ least, most }: Box): number[] {
  const corners: number[] = [];
  for (let i = 0; i < 8; i++) {
    corners.push(i & 1 ? most[0] : least[0], i & 2 ? most[1] : least[1], i & 4 ? most[2] : least[2]);
  }
  return corners;
}

export const centreOf = ({ least, most }: Box): Vector => [
  (least[0] + most[0]) / 2,
  (least[1] + most[1]) / 2,
  (least[2] + most[2]) / 2,
];
