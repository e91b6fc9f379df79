import type { TriangleMesh } from "./mesh";
import type { SweptSections } from "./sweptSections";

/** By how much the surface along a crease may miss the solid's, mm. */
const creaseError = 0.18;
/** A surface deeper than this within the solid is a flap that was left over, mm. */
const flapDepth = 0.1;

/** A closed mesh in which rows of vertices are drawn together, each row to one point. */
export class ShrunkMesh {
  private readonly positions: Float32Array;
  /** The vertex that stands for each. */
  private readonly standIn: Uint32Array;
  private readonly isCrease: Uint8Array;
  private isChanged = false;

  constructor(private readonly mesh: TriangleMesh) {
    this.positions = mesh.positions.slice();
    this.standIn = Uint32Array.from({ length: mesh.positions.length / 3 }, (_, i) => i);
    this.isCrease = new Uint8Array(this.standIn.length);
  }

  /** Draws neighbouring vertices together at a point. */
  shrink(vertices: readonly number[], point: ArrayLike<number>): void {
    this.isChanged = true;
    const [first] = vertices;
    for (const vertex of vertices) this.standIn[vertex] = first;
    this.isCrease[first] = 1;
    for (let k = 0; k < 3; k++) this.positions[first * 3 + k] = point[k];
  }

  /** Draws vertices of a row together where they lie nearer than `distance` mm to the next. */
  join(row: readonly number[], distance: number): void {
    const { standIn, positions: p } = this;
    for (let k = 0; k + 1 < row.length; k++) {
      const [a, b] = [standIn[row[k]], standIn[row[k + 1]]];
      if (a === b) continue;
      const [x, y, z] = [0, 1, 2].map((axis) => p[b * 3 + axis] - p[a * 3 + axis]);
      if (x * x + y * y + z * z >= distance * distance) continue;
      // A crease stays where it is.
      if (this.isCrease[b]) for (let axis = 0; axis < 3; axis++) p[a * 3 + axis] = p[b * 3 + axis];
      this.isCrease[a] = 1;
      for (const vertex of row) if (standIn[vertex] === b) standIn[vertex] = a;
    }
  }

  /** Whether the triangles about the creases keep to the surface of the solid, and each of their edges has two. */
  liesOn(solid: SweptSections): boolean {
    const edges = new Set<number>();
    const size = this.standIn.length;
    let ok = true;
    this.eachTriangle((a, b, c) => {
      if (!ok || !(this.isCrease[a] || this.isCrease[b] || this.isCrease[c])) return;
      for (const [from, to] of [
        [a, b],
        [b, c],
        [c, a],
      ]) {
        if (!(this.isCrease[from] || this.isCrease[to])) continue;
        ok &&= !edges.has(from * size + to);
        edges.add(from * size + to);
      }
      ok &&= this.isNear(solid, a, b, c);
    });
    if (!ok) return false;
    for (const edge of edges) if (!edges.has((edge % size) * size + Math.floor(edge / size))) return false;
    return true;
  }

  /** The mesh without the vertices that are gone and the triangles that have no area. */
  finish(): TriangleMesh {
    if (!this.isChanged) return this.mesh;
    const index = new Int32Array(this.standIn.length).fill(-1);
    const positions = new Float32Array(this.positions.length);
    let count = 0;
    const triangles: number[] = [];
    const take = (vertex: number) => {
      if (index[vertex] < 0) {
        for (let k = 0; k < 3; k++) positions[count * 3 + k] = this.positions[vertex * 3 + k];
        index[vertex] = count++;
      }
      triangles.push(index[vertex]);
    };
    this.eachTriangle((a, b, c) => {
      take(a);
      take(b);
      take(c);
    });
    return { positions: positions.slice(0, count * 3), triangles: Uint32Array.from(triangles) };
  }

  private eachTriangle(tell: (a: number, b: number, c: number) => void): void {
    const { triangles: t } = this.mesh;
    for (let i = 0; i < t.length; i += 3) {
      const [a, b, c] = [this.standIn[t[i]], this.standIn[t[i + 1]], this.standIn[t[i + 2]]];
      if (a !== b && b !== c && c !== a) tell(a, b, c);
    }
  }

  /** Looks at the middle of a triangle and of its sides, and a little above and below them. */
  private isNear(solid: SweptSections, a: number, b: number, c: number): boolean {
    const p = this.positions;
    const normal = [0, 0, 0];
    for (let k = 0; k < 3; k++) {
      const [u, v] = [(k + 1) % 3, (k + 2) % 3];
      normal[k] =
        (p[b * 3 + u] - p[a * 3 + u]) * (p[c * 3 + v] - p[a * 3 + v]) -
        (p[b * 3 + v] - p[a * 3 + v]) * (p[c * 3 + u] - p[a * 3 + u]);
    }
    const size = Math.hypot(normal[0], normal[1], normal[2]);
    if (size < 1e-9) return true;
    const q = new Float64Array(3);
    const shifted = (by: number) => q.map((value, k) => value + (by * normal[k]) / size);
    for (const [u, v, w] of looks) {
      for (let k = 0; k < 3; k++) q[k] = u * p[a * 3 + k] + v * p[b * 3 + k] + w * p[c * 3 + k];
      const depth = solid.depth(q);
      if (depth > flapDepth && solid.depth(shifted(creaseError)) > 0.01) return false;
      if (depth < -creaseError && solid.depth(shifted(-creaseError)) < -0.01) return false;
    }
    return true;
  }
}

const looks = [
  [1 / 3, 1 / 3, 1 / 3],
  [0.5, 0.5, 0],
  [0, 0.5, 0.5],
  [0.5, 0, 0.5],
];
