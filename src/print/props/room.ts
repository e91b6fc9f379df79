import type { Plate } from "../../checks/printer";
import type { SignedDistance } from "../../geometry/signedDistance";
import { emptyPlace, type TriangleTree } from "../../geometry/triangleTree";
import type { Vec3 } from "../../geometry/vector";
import { leastDeparture, type PropLimits, radiusFor } from "./propLimits";

const farthestAside = 100;
/** Higher than any printer, mm. */
const greatestHeight = 1000;
/** Least step where a way is only looked for, mm: it is asked again, finely, before a strut is built. */
const roughStep = 1;
/** Least step along a strut between two questions, mm, and what it may miss. */
const leastStep = 0.25;
const missed = 0.13;
/** By so much of its radius a strut bulges where it bends and by its corners. */
const bulge = 1.1;

/** Uprights that a way may lead to stand on a grid of this step, mm. */
const gridStep = 3;

/** The room about a placed piece in which struts may stand, plate's frame. */
export class Room {
  readonly tree: TriangleTree;
  readonly limits: PropLimits;
  readonly #distanceTo: SignedDistance;
  readonly #plate: Plate | undefined;
  readonly #place = emptyPlace();
  /** Free height of the grid's uprights, as far as asked for. */
  readonly #heights = new Map<number, number>();
  readonly #steps: readonly (readonly [i: number, j: number])[];

  /** @param plate where given, feet stay on it */
  constructor(distance: SignedDistance, limits: PropLimits, plate?: Plate) {
    this.tree = distance.tree;
    this.#distanceTo = distance;
    this.limits = limits;
    this.#plate = plate;
    this.#steps = stepsAround(Math.ceil(farthestAside / gridStep));
  }

  /** Places of a grid around a place no farther than `aside` mm, at most 100, the nearest first, with their distance. */
  *uprightsNear(
    x: number,
    y: number,
    aside: number,
  ): Generator<readonly [x: number, y: number, away: number]> {
    const [i, j] = [Math.round(x / gridStep), Math.round(y / gridStep)];
    for (const [di, dj] of this.#steps) {
      const [px, py] = [(i + di) * gridStep, (j + dj) * gridStep];
      const away = Math.hypot(px - x, py - y);
      if (away > aside + gridStep) return;
      if (away <= aside && away > 1e-6) yield [px, py, away];
    }
  }

  /**
   * Height up to which a strut could stand upright on the plate at a place of the grid, mm; 0: not at all. Never too low:
   * what is free is asked again, finely, before a strut is built.
   * @param lower radius of the strut on the plate; it narrows upwards as struts do
   */
  freeHeight(x: number, y: number, lower: number): number {
    const widest = Math.floor(lower);
    const [i, j] = [Math.round(x / gridStep), Math.round(y / gridStep)];
    const key = ((i + 1024) * 2048 + (j + 1024)) * 256 + Math.min(255, widest);
    const known = this.#heights.get(key);
    if (known !== undefined) return known;
    const { clearance, thickness, foot } = this.limits;
    let height = 0;
    if (this.isOnPlate(x, y, foot / 2)) {
      while (height < greatestHeight) {
        const radius = Math.max(thickness / 2, widest - radiusFor(height, this.limits));
        const need = clearance + radius;
        const { distance } = this.tree.nearest(x, y, height, this.#place, need + 60);
        if (distance < need) break;
        height += Math.max(roughStep, (distance === Infinity ? need + 60 : distance) - need);
      }
    }
    this.#heights.set(key, height);
    return height;
  }

  /** Whether a strut whose radius changes evenly keeps the clearance from the piece. Its ends are outside of the piece. */
  isFree(from: Vec3, to: Vec3, fromRadius: number, toRadius: number): boolean {
    const { clearance } = this.limits;
    const length = Math.hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2]);
    const growth = length > 0 ? (toRadius - fromRadius) / length : 0;
    // A radius that grows is met sooner.
    const speed = 1 + Math.max(0, bulge * growth);
    for (let s = 0; ; ) {
      const k = length > 0 ? s / length : 0;
      const need = bulge * (fromRadius + (toRadius - fromRadius) * k) + clearance + missed;
      const far = need + 40;
      const found = this.#distance(from, to, k, far);
      if (found < need) return false;
      if (s >= length) return true;
      s = Math.min(length, s + Math.max(leastStep, (found - need) / speed));
    }
  }

  /** Whether a strut that begins at a place of the surface leaves it as a neck must. `radiusAt`: by the length from there. */
  leaves(contact: Vec3, end: Vec3, radiusAt: (length: number) => number): boolean {
    const { clearance, neckLength } = this.limits;
    const length = Math.hypot(end[0] - contact[0], end[1] - contact[1], end[2] - contact[2]);
    // No nearer than a neck is wide: it grows out of the surface.
    for (
      let s = Math.min(length, Math.max(neckLength, 2 * radiusAt(0)));
      ;
      s = Math.min(length, s + leastStep)
    ) {
      const radius = radiusAt(s);
      const need = Math.min(clearance + radius + missed, Math.max(leastDeparture * s, radius));
      if (this.#distance(contact, end, s / length, need + 1) < need - 1e-6) return false;
      if (s >= length) return true;
    }
  }

  /** How level a triangle of the piece lies: z of its unit normal. */
  levelOf(triangle: number): number {
    return this.#distanceTo.faceNormals[3 * triangle + 2];
  }

  /** Whether a foot lies on the plate. */
  isOnPlate(x: number, y: number, radius: number): boolean {
    const plate = this.#plate;
    if (!plate) return true;
    if (plate.shape === "round") return Math.hypot(x, y) + radius <= plate.diameter / 2;
    return Math.abs(x) + radius <= plate.width / 2 && Math.abs(y) + radius <= plate.depth / 2;
  }

  #distance(from: Vec3, to: Vec3, k: number, most: number): number {
    const x = from[0] + (to[0] - from[0]) * k;
    const y = from[1] + (to[1] - from[1]) * k;
    const z = from[2] + (to[2] - from[2]) * k;
    const { distance } = this.tree.nearest(x, y, z, this.#place, most);
    return distance === Infinity ? most : distance;
  }
}

/** Steps of a grid, the nearest first; equal ones in a fixed order. */
function stepsAround(most: number): (readonly [number, number])[] {
  const steps: (readonly [number, number])[] = [];
  for (let i = -most; i <= most; i++) for (let j = -most; j <= most; j++) steps.push([i, j]);
  return steps.sort((a, b) => a[0] ** 2 + a[1] ** 2 - (b[0] ** 2 + b[1] ** 2) || a[0] - b[0] || a[1] - b[1]);
}
