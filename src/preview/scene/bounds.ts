import type { Vector } from "./vector";

/** The box of some points along the head frame's axes, mm. */
export interface Box {
  readonly least: Vector;
  readonly most: Vector;
}

/** A box that takes in one point after the other. */
export class GrowingBox {
  #x0 = Infinity;
  #y0 = Infinity;
  #z0 = Infinity;
  #x1 = -Infinity;
  #y1 = -Infinity;
  #z1 = -Infinity;

  /** Takes in the point whose x, y, z begin at an index. */
  add(points: ArrayLike<number>, at: number): void {
    const x = points[at];
    const y = points[at + 1];
    const z = points[at + 2];
    if (x < this.#x0) this.#x0 = x;
    if (x > this.#x1) this.#x1 = x;
    if (y < this.#y0) this.#y0 = y;
    if (y > this.#y1) this.#y1 = y;
    if (z < this.#z0) this.#z0 = z;
    if (z > this.#z1) this.#z1 = z;
  }

  /** Least x, y, z, then the greatest; from infinity to minus infinity where there was no point. */
  get sides(): readonly [x0: number, y0: number, z0: number, x1: number, y1: number, z1: number] {
    return [this.#x0, this.#y0, this.#z0, this.#x1, this.#y1, this.#z1];
  }
}

/** The box round all points (x, y, z in turn); undefined where there are none. */
export function boxOf(clouds: readonly ArrayLike<number>[]): Box | undefined {
  const box = new GrowingBox();
  for (const cloud of clouds) {
    for (let at = 0; at + 2 < cloud.length; at += 3) box.add(cloud, at);
  }
  const [x0, y0, z0, x1, y1, z1] = box.sides;
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
