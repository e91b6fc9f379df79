import { minus, unit, type Vector } from "./vector";

/** A mesh whose triangles may be of several parts. */
export interface MarkedMesh {
  readonly positions: Float32Array;
  readonly triangles: Uint32Array;
  readonly partOfTriangle?: Int32Array | undefined;
}

/** How far out of a part's middle its mark is looked for, mm. */
const outwards = 12;

/** A part whose surface lies further from its middle than this goes round something, mm. */
const hollowReach = 30;

/**
 * A point on the surface of each part where a mark can stand: near the part's middle, on the side away from the head;
 * on the front of a part that goes round the head. Parts without triangles have none.
 *
 * @param parts indices of the parts; a mesh without `partOfTriangle` is all of the first
 * @param headMiddle head frame, mm
 */
export function markPlaces(
  mesh: MarkedMesh,
  parts: readonly number[],
  headMiddle: Vector,
): Map<number, Vector> {
  const wanted = new Map(parts.map((part, i) => [part, i]));
  const middles = middlesOf(mesh, wanted);
  const aims = middles.map((middle) => middle && aimOf(middle, headMiddle));
  const nearest = parts.map(() => ({ distance: Infinity, triangle: -1 }));
  const foremost = parts.map(() => ({ forward: -Infinity, triangle: -1 }));
  for (let t = 0; t < mesh.triangles.length / 3; t++) {
    const i = indexOf(mesh, t, wanted);
    const aim = i === undefined ? undefined : aims[i];
    if (i === undefined || !aim) continue;
    const [x, y, z] = centreOf(mesh, t);
    const distance = (x - aim[0]) ** 2 + (y - aim[1]) ** 2 + (z - aim[2]) ** 2;
    if (distance < nearest[i].distance) nearest[i] = { distance, triangle: t };
    if (y > foremost[i].forward) foremost[i] = { forward: y, triangle: t };
  }
  const places = new Map<number, Vector>();
  for (const [i, part] of parts.entries()) {
    if (nearest[i].triangle < 0) continue;
    const goesRound = nearest[i].distance > hollowReach ** 2;
    places.set(part, centreOf(mesh, goesRound ? foremost[i].triangle : nearest[i].triangle));
  }
  return places;
}

/** Middle of each wanted part, weighted by area. */
function middlesOf(mesh: MarkedMesh, wanted: ReadonlyMap<number, number>): (Vector | undefined)[] {
  const sums = new Float64Array(4 * wanted.size);
  for (let t = 0; t < mesh.triangles.length / 3; t++) {
    const i = indexOf(mesh, t, wanted);
    if (i === undefined) continue;
    const area = areaOf(mesh, t);
    const centre = centreOf(mesh, t);
    sums[4 * i] += area * centre[0];
    sums[4 * i + 1] += area * centre[1];
    sums[4 * i + 2] += area * centre[2];
    sums[4 * i + 3] += area;
  }
  return Array.from({ length: wanted.size }, (_, i) => {
    const area = sums[4 * i + 3];
    return area > 0 ? [sums[4 * i] / area, sums[4 * i + 1] / area, sums[4 * i + 2] / area] : undefined;
  });
}

function aimOf(middle: Vector, headMiddle: Vector): Vector {
  const away = minus(middle, headMiddle);
  const out: Vector = Math.hypot(...away) < 1 ? [0, 1, 0] : unit(away);
  return [middle[0] + outwards * out[0], middle[1] + outwards * out[1], middle[2] + outwards * out[2]];
}

function indexOf(
  mesh: MarkedMesh,
  triangle: number,
  wanted: ReadonlyMap<number, number>,
): number | undefined {
  return mesh.partOfTriangle ? wanted.get(mesh.partOfTriangle[triangle]) : 0;
}

function centreOf({ positions: p, triangles }: MarkedMesh, t: number): Vector {
  const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
  return [
    (p[a] + p[b] + p[c]) / 3,
    (p[a + 1] + p[b + 1] + p[c + 1]) / 3,
    (p[a + 2] + p[b + 2] + p[c + 2]) / 3,
  ];
}

function areaOf({ positions: p, triangles }: MarkedMesh, t: number): number {
  const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  return Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 2;
}
