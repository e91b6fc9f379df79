import type { TriangleMesh } from "./mesh";
import { pointToTriangle } from "./pointToTriangle";
import { otherTriangles, triangleKeys } from "./sameTriangles";
import { emptyPlace, TriangleTree } from "./triangleTree";
import type { Vec3 } from "./vector";

/** How far two surfaces are apart at most. */
export interface SurfaceDistance {
  /** mm; the true distance is at most `within` more. */
  readonly distance: number;
  /** The point of either surface that lies so far from the other, mm. */
  readonly at: Vec3;
  /** mm */
  readonly within: number;
}

/** mm */
export const usualPrecision = 0.05;

/** After so many questions to a tree the precision is halved: a comparison has to end. */
const questionsAtOnePrecision = 1_000_000;

/**
 * Greatest distance from a point of either surface to the other (Hausdorff), by branch and bound: a triangle is divided
 * only while a point of it may lie farther off than the farthest found so far. The distance to one triangle of the other
 * surface is a convex function, so over a triangle it is greatest at a corner: that is the bound (Tang, Lee and Kim
 * 2009, Interactive Hausdorff distance computation for general polygonal models). Triangles that both have are not
 * looked at. The meshes must not be empty.
 * @param precision mm
 */
export function greatestSurfaceDistance(
  a: TriangleMesh,
  b: TriangleMesh,
  precision = usualPrecision,
): SurfaceDistance {
  const search = new Search(precision);
  search.look(a, new TriangleTree(b), triangleKeys(b));
  search.look(b, new TriangleTree(a), triangleKeys(a));
  return { distance: search.distance, at: search.at, within: search.within };
}

/** Numbers of one corner of a triangle that waits: its place, its distance, the other's triangle that is nearest to it. */
const cornerSize = 5;
const triangleSize = 3 * cornerSize;

/** Triangles that wait at most: each time the longest side is halved one more waits, and sides end at the precision. */
const mostWaiting = 512;

class Search {
  distance = 0;
  at: Vec3 = [0, 0, 0];
  within: number;
  #questions = 0;
  readonly #place = emptyPlace();
  readonly #waiting = new Float64Array(triangleSize * mostWaiting);

  constructor(precision: number) {
    this.within = precision;
  }

  /** Looks for a point of a mesh that is farther from the other surface than any so far. */
  look(mesh: TriangleMesh, other: TriangleTree, same: ReadonlySet<number>): void {
    const { positions, triangles } = mesh;
    const count = positions.length / 3;
    const distances = new Float64Array(count);
    const nearest = new Int32Array(count);
    for (let v = 0, guess = -1; v < count; v++) {
      this.#ask(other, positions[3 * v], positions[3 * v + 1], positions[3 * v + 2], guess);
      distances[v] = this.#place.distance;
      nearest[v] = guess = this.#place.triangle;
    }
    // The farthest first: the more is known, the less is to be divided.
    const order = otherTriangles(mesh, same);
    const farthest = (t: number) =>
      Math.max(distances[triangles[3 * t]], distances[triangles[3 * t + 1]], distances[triangles[3 * t + 2]]);
    order.sort((s, t) => farthest(t) - farthest(s));
    const waiting = this.#waiting;
    for (const t of order) {
      for (let corner = 0; corner < 3; corner++) {
        const v = triangles[3 * t + corner];
        const at = cornerSize * corner;
        waiting[at] = positions[3 * v];
        waiting[at + 1] = positions[3 * v + 1];
        waiting[at + 2] = positions[3 * v + 2];
        waiting[at + 3] = distances[v];
        waiting[at + 4] = nearest[v];
      }
      this.#divide(other);
    }
  }

  /** Divides the first triangle that waits as long as it may hold a farther point. */
  #divide(other: TriangleTree): void {
    const waiting = this.#waiting;
    let count = 1;
    while (count > 0) {
      const a = triangleSize * --count;
      const b = a + cornerSize;
      const c = b + cornerSize;
      const [ab, bc, ca] = [this.#apart(a, b), this.#apart(b, c), this.#apart(c, a)];
      const longest = Math.max(ab, bc, ca);
      if (this.#isNear(a, longest, other.mesh) || count + 2 > mostWaiting) continue;
      // Across the longest side, so that no sliver is left: the far corner first, then the ends of that side.
      if (longest === ab) this.#turn(a, 1);
      else if (longest === ca) this.#turn(a, 2);
      const second = a + triangleSize;
      const x = (waiting[b] + waiting[c]) / 2;
      const y = (waiting[b + 1] + waiting[c + 1]) / 2;
      const z = (waiting[b + 2] + waiting[c + 2]) / 2;
      this.#ask(other, x, y, z, waiting[b + 4]);
      // The second half begins as a copy; each half has the middle in place of one end.
      waiting.copyWithin(second, a, second);
      this.#put(c, x, y, z);
      this.#put(second + cornerSize, x, y, z);
      count += 2;
    }
  }

  /** Turns the corners of a triangle that waits, so that the far corner comes first. */
  #turn(a: number, times: number): void {
    const corners = this.#waiting.slice(a, a + triangleSize);
    // The side between the first two corners faces the third; that between the third and the first the second.
    const first = cornerSize * (times === 1 ? 2 : 1);
    for (let i = 0; i < triangleSize; i++) this.#waiting[a + i] = corners[(first + i) % triangleSize];
  }

  /** Writes a corner with what was last asked for it. */
  #put(at: number, x: number, y: number, z: number): void {
    this.#waiting[at] = x;
    this.#waiting[at + 1] = y;
    this.#waiting[at + 2] = z;
    this.#waiting[at + 3] = this.#place.distance;
    this.#waiting[at + 4] = this.#place.triangle;
  }

  /** Whether no point of the triangle at `a` lies farther from the other surface than the farthest known. */
  #isNear(a: number, longest: number, other: TriangleMesh): boolean {
    const w = this.#waiting;
    const enough = this.distance + this.within;
    const [b, c] = [a + cornerSize, a + 2 * cornerSize];
    // No point of a triangle is farther from its nearest corner than its longest side by the root of 3.
    if (Math.max(w[a + 3], w[b + 3], w[c + 3]) + longest / Math.sqrt(3) <= enough) return true;
    for (let corner = a; corner <= c; corner += cornerSize) {
      const triangle = w[corner + 4];
      if (
        pointToTriangle(w[a], w[a + 1], w[a + 2], other, triangle) <= enough &&
        pointToTriangle(w[b], w[b + 1], w[b + 2], other, triangle) <= enough &&
        pointToTriangle(w[c], w[c + 1], w[c + 2], other, triangle) <= enough
      ) {
        return true;
      }
    }
    return false;
  }

  #apart(a: number, b: number): number {
    const w = this.#waiting;
    const [x, y, z] = [w[a] - w[b], w[a + 1] - w[b + 1], w[a + 2] - w[b + 2]];
    return Math.sqrt(x * x + y * y + z * z);
  }

  #ask(tree: TriangleTree, x: number, y: number, z: number, guess: number): void {
    const { distance } = tree.nearest(x, y, z, this.#place, Infinity, guess);
    if (distance > this.distance) {
      this.distance = distance;
      this.at = [x, y, z];
    }
    if (++this.#questions % questionsAtOnePrecision === 0) this.within *= 2;
  }
}
