import { join, rootOf } from "../../geometry/disjointSets";
import type { PartMesh } from "../../geometry/mesh";
import { anyPerpendicular, cross, dot, scale, type Vec2, type Vec3 } from "../../geometry/vector";
import { type Lumps, lumpsOf } from "./lumps";

/** The points p with normal · p = offset; the normal is a unit vector and looks to the side "above". */
export interface CutPlane {
  readonly normal: Vec3;
  /** mm */
  readonly offset: number;
}

/** One closed outline of a section: the edges of the mesh that it crosses, in order, material to the left seen from above. */
export interface SectionLoop {
  /** Triangles that the outline runs over; side i leads from point i to point i + 1. */
  readonly triangles: readonly number[];
  /** The edge under point i: its vertex below the plane and the one above. */
  readonly below: readonly number[];
  readonly above: readonly number[];
  /** Points in the plane's own axes, mm. */
  readonly points: readonly Vec2[];
  /** mm², positive round material, negative round a hole. */
  readonly area: number;
}

/** One connected face of a section: an outline with its holes. */
export interface SectionFace {
  /** The outline first, then its holes. */
  readonly loops: readonly SectionLoop[];
  /** mm² */
  readonly area: number;
  /** mm */
  readonly perimeter: number;
  /** Centre of area, mm, the mesh's frame. */
  readonly centre: Vec3;
  /** Parts whose surface the outline runs over: more than one where parts meet. */
  readonly parts: readonly number[];
  /** Whether the outline runs over a face of an earlier cut. */
  readonly abuts: boolean;
  /** Index of the region that the face bounds from above, and of the one that it bounds from below. */
  readonly below: number;
  readonly above: number;
}

/** Where a plane cuts a mesh: faces, and the regions of the mesh between them. */
export interface Section {
  readonly plane: CutPlane;
  readonly axes: PlaneAxes;
  readonly faces: readonly SectionFace[];
  /** Region of each vertex. */
  readonly region: Int32Array;
  readonly regionCount: number;
  /** Of each lump: 1 above the plane, −1 below, 0 where it may lie on both sides. */
  readonly side: Int8Array;
}

/** Two unit vectors in a plane; u × v is its normal. */
export interface PlaneAxes {
  readonly origin: Vec3;
  readonly u: Vec3;
  readonly v: Vec3;
}

/** Triangles of cut faces carry −2 − (number of the cut face) in place of a part. */
export const partOfCutFace = (face: number): number => -2 - face;
export const cutFaceOfPart = (part: number): number => -2 - part;

export function axesOf({ normal, offset }: CutPlane): PlaneAxes {
  const u = anyPerpendicular(normal);
  return { origin: scale(normal, offset), u, v: cross(normal, u) };
}

export const inAxes = ({ origin, u, v }: PlaneAxes, [x, y]: Vec2): Vec3 => [
  origin[0] + x * u[0] + y * v[0],
  origin[1] + x * u[1] + y * v[1],
  origin[2] + x * u[2] + y * v[2],
];

/** A vertex nearer to a plane than this would give an outline that runs through it; the plane is moved a little. mm */
const clearOfVertices = 2e-4;
const mostNudges = 60;

/** Height of each vertex over the plane, mm; the plane is moved until no vertex lies in it. */
function heightsOver(positions: Float32Array, plane: CutPlane): { heights: Float64Array; plane: CutPlane } {
  const [nx, ny, nz] = plane.normal;
  const count = positions.length / 3;
  const heights = new Float64Array(count);
  let nudge = 0;
  for (let tries = 0; ; tries++) {
    const offset = plane.offset + nudge;
    let least = Infinity;
    for (let i = 0; i < count; i++) {
      const h = nx * positions[3 * i] + ny * positions[3 * i + 1] + nz * positions[3 * i + 2] - offset;
      heights[i] = h;
      const away = h < 0 ? -h : h;
      if (away < least) least = away;
    }
    if (least > clearOfVertices || (tries >= mostNudges && least > 0)) {
      return { heights, plane: { normal: plane.normal, offset } };
    }
    nudge = (tries % 2 === 0 ? 1 : -1) * (Math.floor(tries / 2) + 1) * 0.00137;
  }
}

/**
 * Cuts a closed mesh by a plane, without changing it.
 * @param lumps of the mesh, where they are known
 * @throws RangeError when the mesh is not closed or the plane is no plane.
 */
export function sectionOf(mesh: PartMesh, wanted: CutPlane, lumps = lumpsOf(mesh)): Section {
  if (!(Math.abs(Math.hypot(...wanted.normal) - 1) < 1e-6) || !Number.isFinite(wanted.offset)) {
    throw new RangeError(
      `The plane's normal is ${wanted.normal.join(", ")} and its offset ${wanted.offset}: the normal must be a unit vector, the offset finite.`,
    );
  }
  const { positions, triangles } = mesh;
  const { heights, plane } = heightsOver(positions, wanted);
  const axes = axesOf(plane);
  const crossing: number[] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const up = heights[triangles[t]] > 0;
    if (up !== heights[triangles[t + 1]] > 0 || up !== heights[triangles[t + 2]] > 0) crossing.push(t / 3);
  }
  const faces = facesOf(chained(mesh, crossing, heights, axes), mesh, axes);
  const { region, regionCount, side } = regionsOf(lumps, heights, plane, faces);
  return {
    plane,
    axes,
    region,
    regionCount,
    side,
    faces: faces.map((face) => ({
      ...face,
      below: region[face.loops[0].below[0]],
      above: region[face.loops[0].above[0]],
    })),
  };
}

/**
 * Vertices joined by edges that the plane does not cross, each region with its number. A lump that lies on one side is
 * taken as a whole; only where the plane passes through a lump are its vertices looked at.
 */
function regionsOf(
  lumps: Lumps,
  heights: Float64Array,
  { normal: [nx, ny, nz], offset }: CutPlane,
  faces: readonly OpenFace[],
): Pick<Section, "region" | "regionCount" | "side"> {
  const { count, ofVertex, centres, radii, inner, innerFrom, pairs, outer, outerFrom } = lumps;
  const side = new Int8Array(count);
  for (let i = 0; i < count; i++) {
    const h = nx * centres[3 * i] + ny * centres[3 * i + 1] + nz * centres[3 * i + 2] - offset;
    side[i] = h > radii[i] ? 1 : h < -radii[i] ? -1 : 0;
  }
  const parent = new Int32Array(count + ofVertex.length);
  for (let i = 0; i < parent.length; i++) parent[i] = i;
  const nodeOf = (vertex: number) => (side[ofVertex[vertex]] === 0 ? count + vertex : ofVertex[vertex]);
  const joinFine = (edges: Uint32Array, from: number, to: number) => {
    for (let e = 2 * from; e < 2 * to; e += 2) {
      if (heights[edges[e]] > 0 === heights[edges[e + 1]] > 0)
        join(parent, nodeOf(edges[e]), nodeOf(edges[e + 1]));
    }
  };
  for (let i = 0; i < count; i++) if (side[i] === 0) joinFine(inner, innerFrom[i], innerFrom[i + 1]);
  for (let p = 0; p < pairs.length / 2; p++) {
    const a = pairs[2 * p];
    const b = pairs[2 * p + 1];
    if (side[a] === 0 || side[b] === 0) joinFine(outer, outerFrom[p], outerFrom[p + 1]);
    else if (side[a] === side[b]) join(parent, a, b);
  }
  for (const { loops } of faces) {
    for (const loop of loops) {
      join(parent, nodeOf(loops[0].below[0]), nodeOf(loop.below[0]));
      join(parent, nodeOf(loops[0].above[0]), nodeOf(loop.above[0]));
    }
  }
  const numberOf = new Int32Array(parent.length).fill(-1);
  const region = new Int32Array(ofVertex.length);
  let regionCount = 0;
  for (let i = 0; i < region.length; i++) {
    const root = rootOf(parent, nodeOf(i));
    if (numberOf[root] < 0) numberOf[root] = regionCount++;
    region[i] = numberOf[root];
  }
  return { region, regionCount, side };
}

/** The outlines: from triangle to triangle over the edges that the plane crosses. */
function chained(
  { positions, triangles }: PartMesh,
  crossing: readonly number[],
  heights: Float64Array,
  axes: PlaneAxes,
): SectionLoop[] {
  const count = positions.length / 3;
  // Seen from outside, a triangle goes round once up and once down through the plane.
  const byDownEdge = new Map<number, number>();
  const upEdge = new Map<number, readonly [number, number]>();
  for (const t of crossing) {
    for (let k = 0; k < 3; k++) {
      const a = triangles[3 * t + k];
      const b = triangles[3 * t + (k === 2 ? 0 : k + 1)];
      if (heights[a] > 0 === heights[b] > 0) continue;
      if (heights[a] > 0) byDownEdge.set(b * count + a, t);
      else upEdge.set(t, [a, b]);
    }
  }
  const seen = new Set<number>();
  const loops: SectionLoop[] = [];
  for (const start of crossing) {
    if (seen.has(start)) continue;
    const loop = { triangles: [] as number[], below: [] as number[], above: [] as number[] };
    let at = start;
    do {
      seen.add(at);
      const [below, above] = upEdge.get(at)!;
      const next = byDownEdge.get(below * count + above);
      if (next === undefined || (next !== start && seen.has(next))) {
        throw new RangeError(
          `The mesh is not closed: the edge ${below}-${above} does not lie between two triangles.`,
        );
      }
      loop.below.push(below);
      loop.above.push(above);
      loop.triangles.push(next);
      at = next;
    } while (at !== start);
    const points = loop.below.map((below, i): Vec2 => {
      const above = loop.above[i];
      const share = heights[below] / (heights[below] - heights[above]);
      const p: Vec3 = [0, 1, 2].map(
        (axis) =>
          positions[3 * below + axis] +
          share * (positions[3 * above + axis] - positions[3 * below + axis]) -
          axes.origin[axis],
      ) as unknown as Vec3;
      return [dot(p, axes.u), dot(p, axes.v)];
    });
    loops.push({ ...loop, points, area: areaOf(points) });
  }
  return loops;
}

function areaOf(points: readonly Vec2[]): number {
  const [ox, oy] = points[0];
  let twice = 0;
  for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
    twice += (points[j][0] - ox) * (points[i][1] - oy) - (points[i][0] - ox) * (points[j][1] - oy);
  }
  return twice / 2;
}

export function isWithin([x, y]: Vec2, points: readonly Vec2[]): boolean {
  let inside = false;
  for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
    const [a, b] = [points[i], points[j]];
    if (a[1] > y !== b[1] > y && x < a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0])) inside = !inside;
  }
  return inside;
}

type OpenFace = Omit<SectionFace, "below" | "above">;

function facesOf(loops: readonly SectionLoop[], mesh: PartMesh, axes: PlaneAxes): OpenFace[] {
  const outlines = loops.filter(({ area }) => area > 0).sort((a, b) => a.area - b.area);
  const groups = outlines.map((outline) => [outline]);
  for (const hole of loops) {
    if (hole.area > 0) continue;
    const around = outlines.findIndex(
      (outline) => outline.area > -hole.area && isWithin(hole.points[0], outline.points),
    );
    // A speck of an outline may come out with no area, or the wrong sign, by rounding: it is a face of its own.
    if (around >= 0) groups[around].push(hole);
    else groups.push([hole]);
  }
  return groups.map((own) => faceOf(own, mesh, axes));
}

function faceOf(loops: readonly SectionLoop[], mesh: PartMesh, axes: PlaneAxes): OpenFace {
  let [area, perimeter, mx, my] = [0, 0, 0, 0];
  const [ox, oy] = loops[0].points[0];
  const parts = new Set<number>();
  let abuts = false;
  for (const { points, triangles } of loops) {
    for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
      const [ax, ay] = [points[j][0] - ox, points[j][1] - oy];
      const [bx, by] = [points[i][0] - ox, points[i][1] - oy];
      const k = (ax * by - bx * ay) / 2;
      area += k;
      mx += (k * (ax + bx)) / 3;
      my += (k * (ay + by)) / 3;
      perimeter += Math.hypot(ax - bx, ay - by);
    }
    for (const t of triangles) {
      const part = mesh.partOfTriangle[t];
      if (part <= -2) abuts = true;
      else if (part >= 0) parts.add(part);
    }
  }
  const centre: Vec2 = Math.abs(area) > 1e-9 ? [ox + mx / area, oy + my / area] : [ox, oy];
  return {
    loops,
    area: Math.abs(area),
    perimeter,
    centre: inAxes(axes, centre),
    parts: [...parts].sort((a, b) => a - b),
    abuts,
  };
}
