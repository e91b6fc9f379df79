import { alone, join, rootOf } from "./disjointSets";
import { edgeTable } from "./edgeTable";
import { type EvenSamples, evenSamples } from "./evenSamples";
import type { TriangleMesh } from "./mesh";
import { hashOf } from "./weldVertices";

/** A mesh of one surface or a few, facing outward, and what was done to make it so. */
export interface CleanedMesh {
  readonly mesh: TriangleMesh;
  /** Triangles without area that were dropped. */
  readonly flat: number;
  /** Triangles that were dropped because another has the same three vertices. */
  readonly duplicates: number;
  /** Small pieces that were dropped, and their share of the whole surface. */
  readonly loosePieces: number;
  readonly looseShare: number;
  /** Pieces that were dropped because they lie inside the largest one. */
  readonly innerPieces: number;
  /** Triangles that were turned over. */
  readonly turned: number;
  /** Edges that only one triangle has: 0 for a closed mesh. */
  readonly openEdges: number;
}

/** A piece with less than this share of the largest piece's area is dropped. */
const leastPiece = 0.05;
/** A triangle with less area than this share of its longest side squared has none. */
const flatShare = 1e-10;
/** Below this share of its greatest possible flux, a patch does not tell by its shape which side is out. */
const tellingFlux = 0.1;
/** So many pieces at most, the largest, are asked whether they lie inside the very largest, each at so many places. */
const mostAsked = 16;
const askedPlaces = 25;
const shellSamples = 4000;

/**
 * Makes a mesh as it comes from a scanner fit to be measured: drops triangles without area, second triangles on the
 * same vertices, small loose pieces and pieces inside the largest; turns triangles so that neighbours agree and the
 * surface faces outward. The mesh may be open; its positions stay as they are.
 *
 * Out is where the flux of the vector from the middle of the surface is positive: for a closed mesh the sign of its
 * volume (divergence theorem), and for an open bowl, however shallow, its outer side as well.
 */
export function cleanMesh(given: TriangleMesh): CleanedMesh {
  const whole = withArea(given);
  const unique = withoutDuplicates(whole.mesh);
  const areas = triangleAreas(unique.mesh);
  const pieces = piecesOf(unique.mesh, areas);
  const large: number[] = [];
  let looseArea = 0;
  const greatest = pieces.areas.reduce((most, area) => Math.max(most, area), 0);
  const total = pieces.areas.reduce((sum, area) => sum + area, 0);
  for (let piece = 0; piece < pieces.count; piece++) {
    if (pieces.areas[piece] >= leastPiece * greatest) large.push(piece);
    else looseArea += pieces.areas[piece];
  }
  const inner = piecesInside(unique.mesh, pieces, large);
  const kept = new Set(large.filter((piece) => !inner.has(piece)));
  const mesh = compact(unique.mesh, (triangle) => kept.has(pieces.of[triangle]));
  const facing = faceOutward(mesh);
  return {
    mesh: facing.mesh,
    flat: whole.dropped,
    duplicates: unique.dropped,
    loosePieces: pieces.count - large.length,
    looseShare: total > 0 ? looseArea / total : 0,
    innerPieces: inner.size,
    turned: facing.turned,
    openEdges: facing.openEdges,
  };
}

interface Filtered {
  readonly mesh: TriangleMesh;
  readonly dropped: number;
}

function withArea(mesh: TriangleMesh): Filtered {
  const { positions: p, triangles } = mesh;
  const keep = (t: number): boolean => {
    const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
    if (a === b || b === c || c === a) return false;
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const [wx, wy, wz] = [vx - ux, vy - uy, vz - uz];
    const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    const longest = Math.max(
      ux * ux + uy * uy + uz * uz,
      vx * vx + vy * vy + vz * vz,
      wx * wx + wy * wy + wz * wz,
    );
    return Math.sqrt(nx * nx + ny * ny + nz * nz) > flatShare * longest;
  };
  return filtered(mesh, keep);
}

function withoutDuplicates(mesh: TriangleMesh): Filtered {
  const { triangles } = mesh;
  const count = triangles.length / 3;
  let capacity = 16;
  while (capacity < 2 * count) capacity *= 2;
  const mask = capacity - 1;
  const slots = new Int32Array(capacity).fill(-1);
  const sorted = new Uint32Array(triangles);
  for (let i = 0; i < sorted.length; i += 3) {
    if (sorted[i] > sorted[i + 1]) swap(sorted, i, i + 1);
    if (sorted[i + 1] > sorted[i + 2]) swap(sorted, i + 1, i + 2);
    if (sorted[i] > sorted[i + 1]) swap(sorted, i, i + 1);
  }
  const keep = (t: number): boolean => {
    const [a, b, c] = [sorted[3 * t], sorted[3 * t + 1], sorted[3 * t + 2]];
    let slot = hashOf(a, b, c) & mask;
    for (; slots[slot] >= 0; slot = (slot + 1) & mask) {
      const other = 3 * slots[slot];
      if (sorted[other] === a && sorted[other + 1] === b && sorted[other + 2] === c) return false;
    }
    slots[slot] = t;
    return true;
  };
  return filtered(mesh, keep);
}

function swap(values: Uint32Array, i: number, j: number): void {
  const kept = values[i];
  values[i] = values[j];
  values[j] = kept;
}

function filtered({ positions, triangles }: TriangleMesh, keep: (triangle: number) => boolean): Filtered {
  const kept = new Uint32Array(triangles.length);
  let length = 0;
  for (let t = 0; 3 * t < triangles.length; t++) {
    if (!keep(t)) continue;
    kept[length] = triangles[3 * t];
    kept[length + 1] = triangles[3 * t + 1];
    kept[length + 2] = triangles[3 * t + 2];
    length += 3;
  }
  return { mesh: { positions, triangles: kept.slice(0, length) }, dropped: (triangles.length - length) / 3 };
}

function triangleAreas({ positions: p, triangles }: TriangleMesh): Float64Array {
  const areas = new Float64Array(triangles.length / 3);
  for (let t = 0; t < areas.length; t++) {
    const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    areas[t] = Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 2;
  }
  return areas;
}

interface Pieces {
  readonly count: number;
  /** Piece of each triangle. */
  readonly of: Uint32Array;
  readonly areas: readonly number[];
}

/** Triangles that hang together by their vertices. */
function piecesOf({ positions, triangles }: TriangleMesh, areas: Float64Array): Pieces {
  const parent = alone(positions.length / 3);
  for (let i = 0; i < triangles.length; i += 3) {
    join(parent, triangles[i], triangles[i + 1]);
    join(parent, triangles[i], triangles[i + 2]);
  }
  const number = new Int32Array(parent.length).fill(-1);
  const of = new Uint32Array(areas.length);
  const sums: number[] = [];
  for (let t = 0; t < areas.length; t++) {
    const at = rootOf(parent, triangles[3 * t]);
    if (number[at] < 0) number[at] = sums.push(0) - 1;
    of[t] = number[at];
    sums[number[at]] += areas[t];
  }
  return { count: sums.length, of, areas: sums };
}

/** Which of the pieces lie inside the largest: by its winding number at their places. */
function piecesInside(mesh: TriangleMesh, pieces: Pieces, large: readonly number[]): Set<number> {
  const inside = new Set<number>();
  const bySize = [...large].sort((a, b) => pieces.areas[b] - pieces.areas[a]);
  const [largest, ...others] = bySize.slice(0, 1 + mostAsked);
  if (others.length === 0) return inside;
  const isOf = (piece: number) => (triangle: number) => pieces.of[triangle] === piece;
  const shell = evenSamples(faceOutward(compact(mesh, isOf(largest))).mesh, shellSamples);
  for (const piece of others) {
    const { count, positions } = evenSamples(mesh, askedPlaces, isOf(piece));
    let sum = 0;
    for (let i = 0; i < count; i++) {
      sum += windingNumber(shell, positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]);
    }
    if (Math.abs(sum) > 0.5 * count) inside.add(piece);
  }
  return inside;
}

/**
 * How often a surface goes round a point: 1 inside a closed outward one, 0 outside, less clear near the openings of an
 * open one (Jacobson, Kavan, Sorkine-Hornung 2013, *Robust inside-outside segmentation using generalized winding
 * numbers*, ACM TOG 32(4)); here the flux of samples, as that of Barill et al. 2018 (*Fast winding numbers for soups and
 * clouds*, ACM TOG 37(4)).
 */
function windingNumber(
  { count, positions, normals, area }: EvenSamples,
  x: number,
  y: number,
  z: number,
): number {
  let sum = 0;
  for (let i = 0; i < 3 * count; i += 3) {
    const [dx, dy, dz] = [positions[i] - x, positions[i + 1] - y, positions[i + 2] - z];
    // A sample stands for a patch, not for a point: nearer than its size its flux no longer grows.
    const squared = Math.max(area, dx * dx + dy * dy + dz * dz);
    sum += (dx * normals[i] + dy * normals[i + 1] + dz * normals[i + 2]) / (squared * Math.sqrt(squared));
  }
  return (area * sum) / (4 * Math.PI);
}

/** Some of the triangles, with the vertices that they use. */
function compact({ positions, triangles }: TriangleMesh, keep: (triangle: number) => boolean): TriangleMesh {
  const vertexOf = new Int32Array(positions.length / 3).fill(-1);
  const kept = new Uint32Array(triangles.length);
  let length = 0;
  let vertices = 0;
  for (let t = 0; 3 * t < triangles.length; t++) {
    if (!keep(t)) continue;
    for (let corner = 3 * t; corner < 3 * t + 3; corner++) {
      const vertex = triangles[corner];
      if (vertexOf[vertex] < 0) vertexOf[vertex] = vertices++;
      kept[length++] = vertexOf[vertex];
    }
  }
  const moved = new Float32Array(3 * vertices);
  for (let v = 0; v < vertexOf.length; v++) {
    if (vertexOf[v] < 0) continue;
    for (let axis = 0; axis < 3; axis++) moved[3 * vertexOf[v] + axis] = positions[3 * v + axis];
  }
  return { positions: moved, triangles: kept.slice(0, length) };
}

interface Facing {
  readonly mesh: TriangleMesh;
  readonly turned: number;
  readonly openEdges: number;
}

/** Turns triangles so that neighbours agree, then each patch of agreeing triangles outward. */
function faceOutward(mesh: TriangleMesh): Facing {
  const { positions: p, triangles } = mesh;
  const count = triangles.length / 3;
  const { parent, turn, openEdges } = patchesOf(mesh);
  const areas = triangleAreas(mesh);
  const pieces = piecesOf(mesh, areas);
  const middles = new Float64Array(3 * pieces.count);
  const centre = [0, 0, 0];
  const readCentre = (t: number): void => {
    const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
    for (let axis = 0; axis < 3; axis++) centre[axis] = (p[a + axis] + p[b + axis] + p[c + axis]) / 3;
  };
  for (let t = 0; t < count; t++) {
    readCentre(t);
    const piece = pieces.of[t];
    for (let axis = 0; axis < 3; axis++) {
      middles[3 * piece + axis] += (areas[t] * centre[axis]) / pieces.areas[piece];
    }
  }
  // By the first triangle of each patch: its flux as its triangles agree, the most it could be; by piece: as given.
  const flux = new Float64Array(count);
  const most = new Float64Array(count);
  const given = new Float64Array(pieces.count);
  for (let t = 0; t < count; t++) {
    readCentre(t);
    const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
    const middle = 3 * pieces.of[t];
    const [x, y, z] = [
      centre[0] - middles[middle],
      centre[1] - middles[middle + 1],
      centre[2] - middles[middle + 2],
    ];
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const through = (x * (uy * vz - uz * vy) + y * (uz * vx - ux * vz) + z * (ux * vy - uy * vx)) / 2;
    flux[parent[t]] += turn[t] === 1 ? -through : through;
    most[parent[t]] += areas[t] * Math.hypot(x, y, z);
    given[pieces.of[t]] += through;
  }
  // A patch that does not tell follows the sense in which most of its triangles were given.
  const givenAs = new Float64Array(count);
  for (let t = 0; t < count; t++) givenAs[parent[t]] += turn[t] === 1 ? -areas[t] : areas[t];
  let turned = 0;
  const facing = new Uint32Array(triangles);
  for (let t = 0; t < count; t++) {
    const patch = parent[t];
    const tells = Math.abs(flux[patch]) >= tellingFlux * most[patch];
    const outward = tells ? flux[patch] >= 0 : givenAs[patch] * (given[pieces.of[t]] < 0 ? -1 : 1) >= 0;
    if ((turn[t] === 1) === outward) {
      facing[3 * t + 1] = triangles[3 * t + 2];
      facing[3 * t + 2] = triangles[3 * t + 1];
      turned++;
    }
  }
  return { mesh: { positions: p, triangles: facing }, turned, openEdges };
}

interface Patches {
  /** For each triangle the first of its patch. */
  readonly parent: Uint32Array;
  /** 1 for a triangle that runs against that first one. */
  readonly turn: Uint8Array;
  readonly openEdges: number;
}

/** Triangles joined over edges that just two of them have, with the way each runs (union by root, with parity). */
function patchesOf(mesh: TriangleMesh): Patches {
  const count = mesh.triangles.length / 3;
  const { count: edges, uses, halves, sameWay } = edgeTable(mesh);
  const parent = new Uint32Array(count);
  for (let t = 0; t < count; t++) parent[t] = t;
  // Against its parent; the root's is 0.
  const turn = new Uint8Array(count);
  const rootOf = (of: number): number => {
    let root = of;
    let parity = 0;
    while (parent[root] !== root) {
      parity ^= turn[root];
      root = parent[root];
    }
    // Everything on the way is hung to the root.
    for (let at = of; parent[at] !== root && at !== root; ) {
      const next = parent[at];
      const own = turn[at];
      parent[at] = root;
      turn[at] = parity;
      parity ^= own;
      at = next;
    }
    return root;
  };
  let openEdges = 0;
  for (let edge = 0; edge < edges; edge++) {
    if (uses[edge] === 1) openEdges++;
    if (uses[edge] !== 2) continue;
    const a = (halves[2 * edge] / 3) | 0;
    const b = (halves[2 * edge + 1] / 3) | 0;
    const rootA = rootOf(a);
    const rootB = rootOf(b);
    if (rootA === rootB) continue;
    const [first, later] = rootA < rootB ? [rootA, rootB] : [rootB, rootA];
    parent[later] = first;
    turn[later] = turn[a] ^ turn[b] ^ sameWay[edge];
  }
  for (let t = 0; t < count; t++) rootOf(t);
  return { parent, turn, openEdges };
}
