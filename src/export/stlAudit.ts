import { alone, join, rootOf } from "../geometry/disjointSets";
import type { TriangleMesh } from "../geometry/mesh";
import { hashOf, powerOfTwoOver } from "../geometry/weldVertices";
import { readStl } from "./stl";

/** What an STL file is, judged from its bytes alone. */
export interface StlAudit {
  /** Every edge is shared by exactly two triangles in opposite directions, and no triangle is degenerate. */
  readonly closed: boolean;
  readonly triangles: number;
  readonly vertices: number;
  /** Separate bodies, joined by edges, whose surface faces outwards. */
  readonly pieces: number;
  /** Closed shells inside a piece whose surface faces inwards: hollows. */
  readonly voids: number;
  /** Shells that face inwards and lie inside no piece: bodies that are inside out. */
  readonly insideOut: number;
  /** Edges with one triangle. */
  readonly openEdges: number;
  /** Edges with more than two triangles. */
  readonly overSharedEdges: number;
  /** Edges with two triangles that run along it in the same direction. */
  readonly misorientedEdges: number;
  /** Triangles with two corners in one place. */
  readonly degenerateTriangles: number;
  /** mm³, voids taken away. */
  readonly volumeMm3: number;
}

/**
 * Judges a binary STL as a reader of it would find it: corners welded by exact 32-bit value (−0 as 0), edges
 * counted, shells told apart by the sign of their volume.
 * @throws RangeError when the bytes are not a whole binary STL.
 */
export const auditStl = (bytes: Uint8Array): StlAudit => auditWelded(readStl(bytes));

/** The audit of a mesh whose vertices are welded already. */
export function auditWelded(mesh: TriangleMesh): StlAudit {
  const count = mesh.triangles.length / 3;
  const edges = countEdges(mesh);
  const shells = measureShells(mesh, edges.shellOf);
  const pieces = shells.filter((shell) => shell.volume >= 0);
  const inward = shells.filter((shell) => shell.volume < 0);
  const voids = inward.filter((shell) => pieces.some((piece) => isInside(shell, piece))).length;
  const faults = edges.open + edges.overShared + edges.misoriented + edges.degenerate;
  return {
    closed: count > 0 && faults === 0,
    triangles: count,
    vertices: mesh.positions.length / 3,
    pieces: pieces.length,
    voids,
    insideOut: inward.length - voids,
    openEdges: edges.open,
    overSharedEdges: edges.overShared,
    misorientedEdges: edges.misoriented,
    degenerateTriangles: edges.degenerate,
    volumeMm3: shells.reduce((sum, shell) => sum + shell.volume, 0),
  };
}

interface EdgeCount {
  open: number;
  overShared: number;
  misoriented: number;
  degenerate: number;
  /** For each triangle the first triangle of its shell. */
  shellOf: Int32Array;
}

function countEdges({ triangles }: TriangleMesh): EdgeCount {
  const corners = triangles.length;
  const capacity = powerOfTwoOver(2 * corners);
  const mask = capacity - 1;
  const slots = new Int32Array(capacity).fill(-1);
  // Per edge: its two vertices (low, high), how often it is run low to high and back, one triangle on it.
  const low = new Uint32Array(corners);
  const high = new Uint32Array(corners);
  const along = new Uint16Array(corners);
  const against = new Uint16Array(corners);
  const triangleOn = new Int32Array(corners);
  // A shell is named by its first triangle.
  const parent = alone(corners / 3);
  let edges = 0;
  let degenerate = 0;
  for (let triangle = 0; triangle < corners / 3; triangle++) {
    const first = 3 * triangle;
    const a = triangles[first];
    const b = triangles[first + 1];
    const c = triangles[first + 2];
    if (a === b || b === c || c === a) degenerate++;
    for (let side = 0; side < 3; side++) {
      const from = triangles[first + side];
      const to = triangles[first + (side === 2 ? 0 : side + 1)];
      const lo = Math.min(from, to);
      const hi = Math.max(from, to);
      let slot = hashOf(lo, hi, 0) & mask;
      let edge = slots[slot];
      while (edge >= 0 && (low[edge] !== lo || high[edge] !== hi)) {
        slot = (slot + 1) & mask;
        edge = slots[slot];
      }
      if (edge < 0) {
        edge = edges++;
        slots[slot] = edge;
        low[edge] = lo;
        high[edge] = hi;
        triangleOn[edge] = triangle;
      } else {
        join(parent, triangleOn[edge], triangle);
      }
      if (from === lo) along[edge]++;
      else against[edge]++;
    }
  }
  let open = 0;
  let overShared = 0;
  let misoriented = 0;
  for (let edge = 0; edge < edges; edge++) {
    const shared = along[edge] + against[edge];
    if (shared === 1) open++;
    else if (shared > 2) overShared++;
    else if (along[edge] !== 1) misoriented++;
  }
  for (let triangle = 0; triangle < parent.length; triangle++) parent[triangle] = rootOf(parent, triangle);
  return { open, overShared, misoriented, degenerate, shellOf: parent };
}

interface Shell {
  volume: number;
  readonly least: [number, number, number];
  readonly most: [number, number, number];
}

function measureShells({ positions, triangles }: TriangleMesh, shellOf: Int32Array): Shell[] {
  const numberOf = new Int32Array(shellOf.length);
  const shells: Shell[] = [];
  // One fixed apex near the mesh keeps the digits of the signed tetrahedra.
  const apex = triangles.length > 0 ? 3 * triangles[0] : 0;
  const [ox, oy, oz] = [positions[apex], positions[apex + 1], positions[apex + 2]];
  for (let triangle = 0; triangle < shellOf.length; triangle++) {
    if (shellOf[triangle] === triangle) {
      numberOf[triangle] = shells.length;
      shells.push({
        volume: 0,
        least: [Infinity, Infinity, Infinity],
        most: [-Infinity, -Infinity, -Infinity],
      });
    }
    const shell = shells[numberOf[shellOf[triangle]]];
    const a = 3 * triangles[3 * triangle];
    const b = 3 * triangles[3 * triangle + 1];
    const c = 3 * triangles[3 * triangle + 2];
    for (let axis = 0; axis < 3; axis++) {
      const p = positions[a + axis];
      const q = positions[b + axis];
      const r = positions[c + axis];
      const least = p < q ? Math.min(p, r) : Math.min(q, r);
      const most = p > q ? Math.max(p, r) : Math.max(q, r);
      if (least < shell.least[axis]) shell.least[axis] = least;
      if (most > shell.most[axis]) shell.most[axis] = most;
    }
    const bx = positions[b] - ox;
    const by = positions[b + 1] - oy;
    const bz = positions[b + 2] - oz;
    const cx = positions[c] - ox;
    const cy = positions[c + 1] - oy;
    const cz = positions[c + 2] - oz;
    shell.volume +=
      (positions[a] - ox) * (by * cz - bz * cy) +
      (positions[a + 1] - oy) * (bz * cx - bx * cz) +
      (positions[a + 2] - oz) * (bx * cy - by * cx);
  }
  for (const shell of shells) shell.volume /= 6;
  return shells;
}

const isInside = (inner: Shell, outer: Shell): boolean =>
  inner.least.every((value, axis) => value >= outer.least[axis]) &&
  inner.most.every((value, axis) => value <= outer.most[axis]) &&
  -inner.volume < outer.volume;
