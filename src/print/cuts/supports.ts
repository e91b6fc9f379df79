import { anyPerpendicular, cross, normalize, type Vec3 } from "../../geometry/vector";
import type { BuildVolume } from "./buildRoom";
import type { Lumps } from "./lumps";
import type { Section } from "./planeSection";

/**
 * How far bodies reach in fixed directions: what is needed to guess whether they fit, and quick to join. For each of 13
 * ways up (the axes of a cube, of its edges and of its corners) the way up itself and eight level directions, both ways.
 */
const ups: readonly Vec3[] = [
  [0, 0, 1],
  [1, 0, 0],
  [0, 1, 0],
  [1, 1, 0],
  [1, -1, 0],
  [1, 0, 1],
  [1, 0, -1],
  [0, 1, 1],
  [0, 1, -1],
  [1, 1, 1],
  [1, 1, -1],
  [1, -1, 1],
  [-1, 1, 1],
].map((v) => normalize(v as unknown as Vec3));
/** Level directions of each, over half a turn. */
const level = 8;
const perUp = 1 + level;
const directions: readonly Vec3[] = ups.flatMap((up) => {
  const u = anyPerpendicular(up);
  const v = cross(up, u);
  return [
    up,
    ...Array.from({ length: level }, (_, k): Vec3 => {
      const [c, s] = [Math.cos((k * Math.PI) / level), Math.sin((k * Math.PI) / level)];
      return [c * u[0] + s * v[0], c * u[1] + s * v[1], c * u[2] + s * v[2]];
    }),
  ];
});
const count = directions.length;
const flat = Float64Array.from(directions.flat());

/** Reach along each direction, then against each, mm from the origin. */
export type Supports = Float64Array;

const nothing = (): Supports => new Float64Array(2 * count).fill(-Infinity);

function reach(into: Float64Array, at: number, x: number, y: number, z: number): void {
  for (let d = 0; d < count; d++) {
    const h = flat[3 * d] * x + flat[3 * d + 1] * y + flat[3 * d + 2] * z;
    if (h > into[at + d]) into[at + d] = h;
    if (-h > into[at + count + d]) into[at + count + d] = -h;
  }
}

/** The reach of every lump of a mesh, one after the other. */
export function lumpSupports(positions: Float32Array, { count: lumps, ofVertex }: Lumps): Float64Array {
  const supports = new Float64Array(2 * count * lumps).fill(-Infinity);
  for (let i = 0; i < ofVertex.length; i++) {
    reach(supports, 2 * count * ofVertex[i], positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]);
  }
  return supports;
}

/** The reach of every region of a cut mesh. */
export function regionSupports(
  positions: Float32Array,
  { count: lumps, members, memberFrom }: Lumps,
  ofLumps: Float64Array,
  { region, regionCount, side }: Section,
): Supports[] {
  const supports = Array.from({ length: regionCount }, nothing);
  for (let i = 0; i < lumps; i++) {
    if (side[i] !== 0) {
      merge(supports[region[members[memberFrom[i]]]], ofLumps, 2 * count * i);
      continue;
    }
    for (let k = memberFrom[i]; k < memberFrom[i + 1]; k++) {
      const v = members[k];
      reach(supports[region[v]], 0, positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]);
    }
  }
  return supports;
}

function merge(into: Supports, from: Float64Array, at: number): void {
  for (let d = 0; d < 2 * count; d++) if (from[at + d] > into[d]) into[d] = from[at + d];
}

/** The reach of several bodies and points together. */
export function together(bodies: readonly Supports[], points: readonly Vec3[] = []): Supports {
  const all = nothing();
  for (const body of bodies) merge(all, body, 0);
  for (const [x, y, z] of points) reach(all, 0, x, y, z);
  return all;
}

/** A guess at the room of a body: the best of 52 layings. See `Room`. */
export function guessedRoom(
  supports: Supports,
  { plate, height }: BuildVolume,
): { room: number; excess: number } {
  const extent = (d: number) => supports[d] + supports[count + d];
  let best = { room: -Infinity, excess: Infinity };
  const consider = (tall: number, wide: number, deep: number, w: number, d: number) => {
    const room = Math.min(height - tall, w - wide, d - deep);
    const excess = Math.max(0, tall / height - 1) + Math.max(0, wide / w - 1) + Math.max(0, deep / d - 1);
    if (excess < best.excess || (excess === best.excess && room > best.room)) best = { room, excess };
  };
  for (let u = 0; u < ups.length; u++) {
    const tall = extent(u * perUp);
    if (plate.shape === "round") {
      let widest = 0;
      for (let k = 0; k < level; k++) widest = Math.max(widest, extent(u * perUp + 1 + k));
      consider(tall, widest, widest, plate.diameter, plate.diameter);
      continue;
    }
    for (let k = 0; k < level / 2; k++) {
      const [a, b] = [extent(u * perUp + 1 + k), extent(u * perUp + 1 + k + level / 2)];
      consider(tall, a, b, plate.width, plate.depth);
      if (plate.width !== plate.depth) consider(tall, b, a, plate.width, plate.depth);
    }
  }
  return best;
}
