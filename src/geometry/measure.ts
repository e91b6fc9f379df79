import { sectionAxes } from "./frames";
import type { TriangleMesh } from "./mesh";
import { type PreparedTube, prepareTube } from "./rings";
import type { TubeShape } from "./tubeShape";

/** Enclosed volume of a closed mesh, mm³: negative if it is inside out (divergence theorem). */
export function meshVolume({ positions: p, triangles: t }: TriangleMesh): number {
  let sum = 0;
  for (let i = 0; i < t.length; i += 3) {
    const a = t[i] * 3;
    const b = t[i + 1] * 3;
    const c = t[i + 2] * 3;
    sum +=
      p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]) +
      p[a + 1] * (p[b + 2] * p[c] - p[b] * p[c + 2]) +
      p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c]);
  }
  return sum / 6;
}

/** Surface area of a mesh, mm². */
export function meshArea({ positions: p, triangles: t }: TriangleMesh): number {
  let sum = 0;
  for (let i = 0; i < t.length; i += 3) {
    const a = t[i] * 3;
    const b = t[i + 1] * 3;
    const c = t[i + 2] * 3;
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    sum += Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx);
  }
  return sum / 2;
}

export interface TubeMeasures {
  /** Length of the path, mm, without what tips add beyond it. */
  readonly length: number;
  /** Swept volume, mm³, as if the tube were solid, alone and free of self-overlap. */
  readonly volume: number;
  /** Surface, mm², with tips. */
  readonly area: number;
  /** Least and greatest radius with tips worked in, mm. */
  readonly leastRadius: number;
  readonly greatestRadius: number;
}

/**
 * Length, volume and area of a tube from its formula, without a mesh: ∫ A·r²·(1 - κ·c) ds by Simpson's rule, where c is
 * the section's centre of area (Pappus' theorem), and half balls for domes.
 */
export function tubeVolumeAndLength(shape: TubeShape): TubeMeasures {
  const tube = prepareTube(shape, 0.1);
  const { curve, profile, section } = tube;
  const shares = quadratureShares(tube);
  const radii = shares.map((share) => profile.radiusAt(share * curve.length));
  const bends = bendsOf(tube, shares, radii);
  let volume = 0;
  let area = 0;
  for (let i = 0; i + 2 < shares.length; i += 2) {
    const h = (shares[i + 2] - shares[i]) * curve.length;
    for (let k = 0; k <= 2; k++) {
      const weight = (k === 1 ? 4 : 1) / 6;
      const r = radii[i + k];
      volume += weight * h * section.area * r * r * (1 - bends[i + k]);
    }
    for (let k = 0; k < 2; k++) {
      const step = (shares[i + k + 1] - shares[i + k]) * curve.length;
      const rise = radii[i + k + 1] - radii[i + k];
      area +=
        (section.perimeter * (radii[i + k] + radii[i + k + 1]) * Math.sqrt(step * step + rise * rise)) / 2;
    }
  }
  if (!curve.closed) {
    for (const [cap, r] of [
      [profile.start, radii[0]],
      [profile.end, radii[radii.length - 1]],
    ] as const) {
      const dome = cap.kind === "dome" ? cap.radius : 0;
      volume += (2 / 3) * section.area * dome ** 3;
      area += section.perimeter * dome * dome + Math.max(0, section.area * (r * r - dome * dome));
    }
  }
  return {
    length: curve.length,
    volume,
    area,
    leastRadius: radii.reduce((a, b) => Math.min(a, b)),
    greatestRadius: profile.greatest,
  };
}

/** Steps of the quadrature between two places where path or radius may change: an even number. */
const stepsBetween = 4;

/** Shares of the path at which the quadrature looks, from 0 to 1. */
function quadratureShares({ curve, profile }: PreparedTube): Float64Array {
  const marks = [0, 1, ...curve.stations()];
  for (const position of [...profile.corners, ...profile.knots]) marks.push(position / curve.length);
  const stations = Float64Array.from(marks.filter((share) => share >= 0 && share <= 1))
    .sort()
    .filter((share, i, sorted) => i === 0 || share !== sorted[i - 1]);
  const shares = new Float64Array(stepsBetween * (stations.length - 1) + 1);
  shares[0] = stations[0];
  for (let i = 0; i + 1 < stations.length; i++) {
    const [a, b] = [stations[i], stations[i + 1]];
    for (let k = 1; k < stepsBetween; k++) shares[stepsBetween * i + k] = a + ((b - a) * k) / stepsBetween;
    shares[stepsBetween * (i + 1)] = b;
  }
  return shares;
}

/** A centre of area nearer to the path than this lies on it but for rounding, radii. */
const onPath = 1e-12;

/** κ·c at each share: 0 where the section's centre of area lies on the path, which then need not be looked at. */
function bendsOf({ curve, section, turnAt }: PreparedTube, shares: Float64Array, radii: Float64Array) {
  const bends = new Float64Array(shares.length);
  const [cx, cy] = section.centroid;
  if (Math.abs(cx) + Math.abs(cy) < onPath) return bends;
  const samples = curve.sample(shares);
  const axes = sectionAxes(samples, shares, turnAt);
  for (let i = 0; i < bends.length; i++) {
    let sum = 0;
    for (let k = i * 3; k < i * 3 + 3; k++) {
      sum += samples.curvatures[k] * (cx * axes.x[k] + cy * axes.y[k]);
    }
    bends[i] = sum * radii[i];
  }
  return bends;
}
