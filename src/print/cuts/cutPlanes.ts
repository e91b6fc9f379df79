import type { Part } from "../../design/part";
import { Curve } from "../../geometry/curve";
import type { PartMesh } from "../../geometry/mesh";
import { add, dot, normalize, scale, subtract, type Vec3 } from "../../geometry/vector";
import type { BuildVolume } from "./buildRoom";
import type { CutPlane } from "./planeSection";

/** A plane to try. With a place, only the face about that place is cut. */
export interface Candidate {
  readonly plane: CutPlane;
  readonly near?: { readonly at: Vec3; readonly within: number };
}

/** A place on a tube with the direction of its path there. */
export interface TubePlace {
  readonly part: number;
  readonly at: Vec3;
  readonly along: Vec3;
  readonly radius: number;
}

/** Steps along a tube, mm, and the most planes of tubes that are tried on one piece. */
const tubeStep = 14;
const mostTubePlanes = 60;
/** Planes across each direction, evenly over the piece. */
const slices = 8;

/** Places along every tube, some 14 mm apart, its ends left out. */
export function tubePlaces(parts: readonly Part[]): TubePlace[] {
  return parts.flatMap((part, index) => {
    if (part.kind !== "tube") return [];
    const curve = new Curve(part.shape.path);
    const count = Math.max(2, Math.round(curve.length / tubeStep));
    return Array.from({ length: count - 1 }, (_, i) => {
      const share = (i + 1) / count;
      return {
        part: index,
        at: curve.pointAt(share),
        along: curve.tangentAt(share),
        radius: radiusAt(part.shape.radius, share),
      };
    });
  });
}

function radiusAt({ shares, radii }: { shares: readonly number[]; radii: readonly number[] }, share: number) {
  const next = shares.findIndex((one) => one >= share);
  if (next <= 0) return radii[next < 0 ? radii.length - 1 : 0];
  const k = (share - shares[next - 1]) / (shares[next] - shares[next - 1]);
  return radii[next - 1] + k * (radii[next] - radii[next - 1]);
}

/** Level, upright and slanting directions, and the fan about the head's vertical axis. */
const normals: readonly Vec3[] = [
  ...Array.from({ length: 8 }, (_, k): Vec3 => [Math.cos((k * Math.PI) / 8), Math.sin((k * Math.PI) / 8), 0]),
  [0, 0, 1],
  ...[
    [1, 0, 1],
    [-1, 0, 1],
    [0, 1, 1],
    [0, -1, 1],
  ].map((v) => normalize(v as unknown as Vec3)),
];

/**
 * Planes to try on a piece: across it in many directions, its own long axes among them; through the vertical axis of
 * the head; and across its tubes.
 * @param outer its outermost points
 */
export function candidatesFor(
  mesh: PartMesh,
  outer: Float64Array,
  volume: BuildVolume,
  places: readonly TubePlace[],
): Candidate[] {
  const candidates: Candidate[] = [];
  const sides =
    volume.plate.shape === "round"
      ? [volume.plate.diameter, volume.height]
      : [Math.min(volume.plate.width, volume.plate.depth), volume.height];
  for (const normal of [...normals, ...ownAxes(outer)]) {
    let [least, most] = [Infinity, -Infinity];
    for (let i = 0; i < outer.length; i += 3) {
      const h = normal[0] * outer[i] + normal[1] * outer[i + 1] + normal[2] * outer[i + 2];
      least = Math.min(least, h);
      most = Math.max(most, h);
    }
    const offsets = Array.from(
      { length: slices },
      (_, i) => least + ((i + 1) / (slices + 1)) * (most - least),
    );
    // As much as the printer takes, from either end; a pin sticks out a little.
    for (const side of sides) offsets.push(least + side - 10, most - side + 10);
    if (Math.abs(normal[2]) < 1e-9) offsets.push(0);
    for (const offset of offsets) {
      if (offset > least + 2 && offset < most - 2) candidates.push({ plane: { normal, offset } });
    }
  }
  const present = new Set(mesh.partOfTriangle);
  const box = boxOf(outer);
  const own = places.filter(
    ({ part, at }) => present.has(part) && at.every((x, axis) => x > box[axis] && x < box[axis + 3]),
  );
  const every = Math.max(1, own.length / mostTubePlanes);
  for (let k = 0; k < own.length; k += every) {
    const { at, along, radius } = own[Math.floor(k)];
    candidates.push({
      plane: { normal: along, offset: dot(along, at) },
      near: { at, within: 1.2 * radius + 2 },
    });
  }
  return candidates;
}

function boxOf(points: Float64Array): number[] {
  const box = [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity];
  for (let i = 0; i < points.length; i++) {
    box[i % 3] = Math.min(box[i % 3], points[i]);
    box[3 + (i % 3)] = Math.max(box[3 + (i % 3)], points[i]);
  }
  return box;
}

/** The main axes of a cloud of points, the longest first (power iteration on its second moments). */
function ownAxes(points: Float64Array): Vec3[] {
  const count = points.length / 3;
  let mean: Vec3 = [0, 0, 0];
  for (let i = 0; i < count; i++) mean = add(mean, [points[3 * i], points[3 * i + 1], points[3 * i + 2]]);
  mean = scale(mean, 1 / count);
  const m = new Float64Array(9);
  for (let i = 0; i < count; i++) {
    const p = subtract([points[3 * i], points[3 * i + 1], points[3 * i + 2]], mean);
    for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) m[3 * r + c] += p[r] * p[c];
  }
  const axes: Vec3[] = [];
  for (const start of [
    [1, 0.31, 0.17],
    [0.13, 1, 0.29],
  ] as const) {
    let v: Vec3 = start;
    for (let step = 0; step < 60; step++) {
      let next: Vec3 = [
        m[0] * v[0] + m[1] * v[1] + m[2] * v[2],
        m[3] * v[0] + m[4] * v[1] + m[5] * v[2],
        m[6] * v[0] + m[7] * v[1] + m[8] * v[2],
      ];
      for (const axis of axes) next = subtract(next, scale(axis, dot(next, axis)));
      v = normalize(next, v);
    }
    axes.push(v);
  }
  return axes;
}
