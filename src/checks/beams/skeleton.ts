import type { Part } from "../../design/part";
import { meshVolume } from "../../geometry/measure";
import type { TriangleMesh } from "../../geometry/mesh";
import type { SignedDistance } from "../../geometry/signedDistance";
import { emptyPlace } from "../../geometry/triangleTree";
import type { Vec3 } from "../../geometry/vector";
import { MessageError } from "../../message";
import type { WornPiece } from "../wornPiece";
import { type Bridges, bridgesOf, Groups } from "./bridges";
import { type Seams, seamsOf } from "./seams";
import { TubeLine } from "./tubeLine";

/** Of one part, its nodes in the skeleton: the samples of a tube's centre line, or one node for any other body. */
export interface Limb {
  readonly part: number;
  readonly line?: TubeLine;
  /** First node, and how many. */
  readonly first: number;
  readonly count: number;
}

/** A stretch of a tube that alone holds what lies beyond it. */
export interface HangingStretch {
  readonly limb: Limb;
  /** Samples on the side that holds it and on the side that hangs; of the limb's line, counted from 0. */
  readonly from: number;
  readonly to: number;
  /** What hangs: nodes `skeleton.order` from `start` to before `end`, or, when `isRest`, all others of the component. */
  readonly start: number;
  readonly end: number;
  readonly isRest: boolean;
}

/** A piece as a graph: centre lines of its tubes, joined where the finished surfaces of two parts meet. */
export interface Skeleton {
  /** By part; none for cuts, nor for parts without surface in the piece. */
  readonly limbs: readonly (Limb | undefined)[];
  readonly seams: Seams;
  /** Node of each seam entry in its first part and in its second. */
  readonly firstNode: Int32Array;
  readonly secondNode: Int32Array;
  /** Of each part, the seam entries that it has a share in. */
  readonly entriesOf: readonly (readonly number[])[];
  /** Limb of each node. */
  readonly limbOf: readonly Limb[];
  /** 1 for samples that are in the piece: not those of an end that is buried in another part. */
  readonly alive: Uint8Array;
  /** 1 for sections that lie on the head, which bears them. */
  readonly seated: Uint8Array;
  /** x, y, z of each node in turn, mm. */
  readonly points: Float64Array;
  /** The piece's vertices, to which the seams point. */
  readonly positions: Float32Array;
  /** Volume that each node stands for, mm³. */
  readonly mass: Float64Array;
  /** Nodes so that what hangs by a stretch stands together. */
  readonly order: Int32Array;
  /** Points of bodies that are no tubes, where a load can act: by node. */
  readonly farPoints: ReadonlyMap<number, Float64Array>;
  readonly hanging: readonly HangingStretch[];
  /** First node of `order` in the piece's component, and one past its last. */
  readonly component: readonly [number, number];
}

/** The point of a seam entry, mm. */
export function seamPoint(
  { seams, positions: p }: Pick<Skeleton, "seams" | "positions">,
  entry: number,
): Vec3 {
  const v = 3 * seams.vertices[entry];
  return [p[v], p[v + 1], p[v + 2]];
}

/** The skeleton of a piece. `grown`: the head that it was hollowed to. */
export function skeletonOf(piece: WornPiece, grown: SignedDistance): Skeleton {
  const { mesh, parts } = piece;
  const known = { ...mesh, partOfTriangle: knownParts(mesh.partOfTriangle, parts) };
  const limbs = limbsOf(parts, known.partOfTriangle);
  const limbOf = limbs.flatMap((limb) => (limb ? Array.from({ length: limb.count }, () => limb) : []));
  const nodes = limbOf.length;
  const seams = seamsOf(known);
  const exposed = new Uint8Array(nodes);
  const nodeOfVertex = exposedNodes(known, limbs, exposed);
  const nodeAt = (part: number, vertex: number): number => {
    const limb = limbs[part];
    if (!limb) return -1;
    const node = nodeOfVertex[vertex];
    if (node >= limb.first && node < limb.first + limb.count) return node;
    if (!limb.line) return limb.first;
    const p = known.positions;
    return limb.first + limb.line.nearest(p[3 * vertex], p[3 * vertex + 1], p[3 * vertex + 2]);
  };
  const firstNode = seams.first.map((part, i) => nodeAt(part, seams.vertices[i]));
  const secondNode = seams.second.map((part, i) => nodeAt(part, seams.vertices[i]));

  const entriesOf: number[][] = parts.map(() => []);
  for (let i = 0; i < seams.count; i++) {
    entriesOf[seams.first[i]].push(i);
    entriesOf[seams.second[i]].push(i);
  }

  const alive = new Uint8Array(nodes);
  const points = new Float64Array(3 * nodes);
  const mass = new Float64Array(nodes);
  const farPoints = new Map<number, Float64Array>();
  const seated = new Uint8Array(nodes);
  for (const limb of limbs) {
    if (limb?.line) layLine(limb, limb.line, piece, grown, { exposed, alive, points, mass, seated });
    else if (limb) {
      const part = parts[limb.part];
      alive[limb.first] = 1;
      const body = part.kind === "solid" ? part.mesh : undefined;
      mass[limb.first] = body ? Math.abs(meshVolume(body)) || 1e-9 : 1e-9;
      farPoints.set(limb.first, body ? farthestPoints(body) : new Float64Array(0));
    }
  }
  seatLumps(piece, limbs, seated);

  const groups = new Groups(nodes);
  for (let i = 0; i < seams.count; i++) {
    if (firstNode[i] >= 0 && secondNode[i] >= 0) groups.join(firstNode[i], secondNode[i]);
  }
  const joined = groups.numbered();
  const ends: number[] = [];
  const stretches: { limb: Limb; from: number; to: number }[] = [];
  for (const limb of limbs) {
    for (let i = 0; i < (limb?.line?.stretches ?? 0); i++) {
      const to = limb!.line!.next(i);
      if (!alive[limb!.first + i] || !alive[limb!.first + to]) continue;
      ends.push(joined.of[limb!.first + i], joined.of[limb!.first + to]);
      stretches.push({ limb: limb!, from: i, to });
    }
  }
  const bridges = bridgesOf({ nodes: joined.count, ends });
  return {
    limbs,
    seams,
    firstNode,
    secondNode,
    entriesOf,
    limbOf,
    alive,
    seated,
    points,
    positions: known.positions,
    farPoints,
    mass,
    ...hangingOf(bridges, joined, stretches, ends, alive, mass, seated),
  };
}

/** The part of each triangle; −1 for those of cuts and of no part of the design. */
function knownParts(partOfTriangle: Int32Array, parts: readonly Part[]): Int32Array {
  const isKnown = Uint8Array.from(parts, ({ kind }) => (kind === "cut" ? 0 : 1));
  const known = new Int32Array(partOfTriangle.length);
  for (let t = 0; t < known.length; t++) {
    const part = partOfTriangle[t];
    known[t] = part >= 0 && isKnown[part] === 1 ? part : -1;
  }
  return known;
}

function limbsOf(parts: readonly Part[], partOfTriangle: Int32Array): (Limb | undefined)[] {
  const hasSurface = new Uint8Array(parts.length);
  for (let t = 0; t < partOfTriangle.length; t++) {
    if (partOfTriangle[t] >= 0) hasSurface[partOfTriangle[t]] = 1;
  }
  let first = 0;
  return parts.map((part, index) => {
    if (part.kind === "cut" || !hasSurface[index]) return undefined;
    const line = part.kind === "tube" ? lineOf(part.shape) : undefined;
    const limb: Limb = { part: index, ...(line && { line }), first, count: line?.count ?? 1 };
    first += limb.count;
    return limb;
  });
}

function lineOf(shape: ConstructorParameters<typeof TubeLine>[0]): TubeLine | undefined {
  try {
    return new TubeLine(shape);
  } catch (error) {
    // A tube that cannot be swept is one lump to this check: the build says what is wrong with it.
    if (error instanceof MessageError) return undefined;
    throw error;
  }
}

/** Marks the samples that have surface of their own in the piece; answers a node of each vertex, −1 for none. */
function exposedNodes(
  { positions, triangles, partOfTriangle }: WornPiece["mesh"],
  limbs: readonly (Limb | undefined)[],
  exposed: Uint8Array,
): Int32Array {
  const nodeOfVertex = new Int32Array(positions.length / 3).fill(-1);
  const corner = [0, 0, 0];
  for (let t = 0; t < partOfTriangle.length; t++) {
    const limb = partOfTriangle[t] < 0 ? undefined : limbs[partOfTriangle[t]];
    if (!limb) continue;
    if (!limb.line) {
      exposed[limb.first] = 1;
      continue;
    }
    for (let k = 0; k < 3; k++) {
      const v = triangles[3 * t + k];
      let node = nodeOfVertex[v];
      if (node < limb.first || node >= limb.first + limb.count) {
        node = limb.first + limb.line.nearest(positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]);
        if (nodeOfVertex[v] < 0) nodeOfVertex[v] = node;
      }
      corner[k] = node;
    }
    const least = Math.min(corner[0], corner[1], corner[2]);
    const most = Math.max(corner[0], corner[1], corner[2]);
    // A long triangle covers the samples between its corners; of a closed tube, by the shorter way round.
    const half = limb.first + limb.count / 2;
    if (!limb.line.closed || most - least <= limb.count / 2) exposed.fill(1, least, most + 1);
    else {
      for (const node of corner) {
        if (node < half) exposed.fill(1, limb.first, node + 1);
        else exposed.fill(1, node, limb.first + limb.count);
      }
    }
  }
  return nodeOfVertex;
}

interface Nodes {
  readonly exposed: Uint8Array;
  readonly alive: Uint8Array;
  readonly points: Float64Array;
  readonly mass: Float64Array;
  readonly seated: Uint8Array;
}

function layLine(
  { first, count }: Limb,
  line: TubeLine,
  piece: WornPiece,
  grown: SignedDistance,
  nodes: Nodes,
): void {
  nodes.points.set(line.points.subarray(0, 3 * count), 3 * first);
  let from = 0;
  let to = count - 1;
  if (!line.closed) {
    while (from < count && !nodes.exposed[first + from]) from++;
    while (to > from && !nodes.exposed[first + to]) to--;
  }
  for (let i = from; i <= to; i++) nodes.alive[first + i] = 1;
  // Between, a section without surface is buried in other parts, or it is gone: hollowed or cut away.
  for (let i = from; i <= to; i++) {
    if (nodes.exposed[first + i]) continue;
    let end = i;
    while (end < to && !nodes.exposed[first + end + 1]) end++;
    for (let at = i + (((end - i) % gap) >> 1); at <= end; at += gap) {
      const p = 3 * at;
      if (isInside(piece, line.points[p], line.points[p + 1], line.points[p + 2])) continue;
      nodes.alive.fill(0, first + at, first + Math.min(end, at + gap - 1) + 1);
    }
    i = end;
  }
  const place = emptyPlace();
  for (let i = 0; i < count; i++) {
    const before = i > 0 ? line.positions[i] - line.positions[i - 1] : 0;
    const after = i + 1 < count ? line.positions[i + 1] - line.positions[i] : 0;
    const r = line.radii[i];
    nodes.mass[first + i] = nodes.alive[first + i] ? (line.moments.area * r * r * (before + after)) / 2 : 0;
    if (!nodes.alive[first + i]) continue;
    const [px, py, pz] = [line.points[3 * i], line.points[3 * i + 1], line.points[3 * i + 2]];
    grown.nearest(px, py, pz, place, r * line.reach);
    if (place.triangle < 0) continue;
    const reach = reachTowards(line, i, place.x - px, place.y - py, place.z - pz);
    // On the surface itself the direction to it is rounding.
    if (place.distance < Math.max(reach / 2, r / 50)) nodes.seated[first + i] = 1;
  }
}

/** Of a buried run, every so many samples are asked whether they are there. */
const gap = 4;

/** Rays that do not run along the axes of a design. */
const rays: readonly Vec3[] = [
  [0.36, 0.48, 0.8],
  [-0.8, 0.36, 0.48],
  [0.48, -0.8, -0.36],
];

/** Whether a point lies in the piece: how often a ray leaves it, two of three of one mind. */
function isInside({ tree }: WornPiece, x: number, y: number, z: number): boolean {
  const votes = [0, 0];
  for (const [dx, dy, dz] of rays) {
    let hits = 0;
    for (let hit = 0; hit >= 0 && hits < 1000; ) {
      hit = tree.firstHit(x, y, z, dx, dy, dz, Infinity, hit + 1e-6);
      if (hit >= 0) hits++;
    }
    if (++votes[hits % 2] === 2) break;
  }
  return votes[1] === 2;
}

/** How far a section reaches from its path in a direction (of any length), mm. */
function reachTowards(line: TubeLine, i: number, dx: number, dy: number, dz: number): number {
  const size = Math.hypot(dx, dy, dz);
  if (!(size > 0)) return line.radii[i];
  const a = 3 * i;
  const u = (dx * line.x[a] + dy * line.x[a + 1] + dz * line.x[a + 2]) / size;
  const v = (dx * line.y[a] + dy * line.y[a + 1] + dz * line.y[a + 2]) / size;
  if (!line.outline) return line.radii[i] * Math.hypot(u, v);
  let most = 0;
  for (const [x, y] of line.outline) most = Math.max(most, x * u + y * v);
  return most * line.radii[i];
}

/** Farthest vertices of a body in 26 directions: where a load on it acts at its worst. */
function farthestPoints({ positions }: TriangleMesh): Float64Array {
  const found: number[] = [];
  for (let code = 0; code < 27; code++) {
    const [dx, dy, dz] = [(code % 3) - 1, (((code / 3) | 0) % 3) - 1, ((code / 9) | 0) - 1];
    if (dx === 0 && dy === 0 && dz === 0) continue;
    let best = -Infinity;
    let at = -1;
    for (let i = 0; i < positions.length; i += 3) {
      const d = positions[i] * dx + positions[i + 1] * dy + positions[i + 2] * dz;
      if (d > best) {
        best = d;
        at = i;
      }
    }
    if (at >= 0) found.push(positions[at], positions[at + 1], positions[at + 2]);
  }
  return Float64Array.from(found);
}

/** Bodies other than tubes that were hollowed to the head rest on it. */
function seatLumps(piece: WornPiece, limbs: readonly (Limb | undefined)[], seated: Uint8Array): void {
  const { partOfTriangle } = piece.mesh;
  if (!limbs.some((limb) => limb && !limb.line)) return;
  for (let t = 0; t < partOfTriangle.length; t++) {
    if (partOfTriangle[t] >= 0) continue;
    const limb = limbs[piece.partOf(t)];
    if (limb && !limb.line) seated[limb.first] = 1;
  }
}

/**
 * What hangs by each bridge: the side that does not lie on the head; where neither or both do, the lighter one. Only
 * the piece itself is asked, not what lies apart from it.
 */
function hangingOf(
  bridges: Bridges,
  joined: { readonly count: number; readonly of: Int32Array },
  stretches: readonly { limb: Limb; from: number; to: number }[],
  ends: readonly number[],
  alive: Uint8Array,
  mass: Float64Array,
  seated: Uint8Array,
): Pick<Skeleton, "order" | "hanging" | "component"> {
  // All nodes in the order of their groups along the walk.
  const starts = new Int32Array(joined.count + 1);
  for (const group of joined.of) starts[bridges.place[group] + 1]++;
  for (let i = 0; i < joined.count; i++) starts[i + 1] += starts[i];
  const fill = starts.slice(0, joined.count);
  const order = new Int32Array(joined.of.length);
  joined.of.forEach((group, node) => {
    order[fill[bridges.place[group]]++] = node;
  });
  const masses = new Float64Array(joined.of.length + 1);
  const onHead = new Float64Array(joined.of.length + 1);
  order.forEach((node, i) => {
    masses[i + 1] = masses[i] + (alive[node] ? mass[node] : 0);
    onHead[i + 1] = onHead[i] + (alive[node] && seated[node] ? mass[node] : 0);
  });
  const { componentStart } = bridges;
  let component: [number, number] = [0, 0];
  componentStart.forEach((groupStart, i) => {
    const range: [number, number] = [starts[groupStart], starts[componentStart[i + 1] ?? joined.count]];
    const weight = ([from, to]: [number, number]) => masses[to] - masses[from];
    if (weight(range) > weight(component)) component = range;
  });
  const total = onHead[component[1]] - onHead[component[0]] > 0 ? onHead : masses;
  const whole = total[component[1]] - total[component[0]];
  const hanging: HangingStretch[] = [];
  stretches.forEach(({ limb, from, to }, edge) => {
    if (!bridges.isBridge[edge]) return;
    const far = bridges.beyond[edge];
    const start = starts[bridges.place[far]];
    const end = starts[bridges.end[far]];
    if (start < component[0] || end > component[1]) return;
    const beyond = total[end] - total[start];
    const isRest = beyond > whole - beyond;
    const farIsTo = ends[2 * edge + 1] === far;
    const hangs = farIsTo !== isRest ? to : from;
    hanging.push({ limb, from: hangs === to ? from : to, to: hangs, start, end, isRest });
  });
  return { order, hanging, component };
}
