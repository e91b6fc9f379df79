import { lerp, type Vec3 } from "../geometry/vector";
import { emptySample, type RadialSurface, type SurfaceSample } from "./radialSurface";

/** Tangential rest at which the line counts as tight, mm. */
const TIGHT = 2e-3;

const drop = (surface: RadialSurface, x: number, y: number, z: number, out: SurfaceSample): SurfaceSample =>
  surface.evaluate(surface.azimuthOf(x, y), surface.elevationOf(x, y, z), out);

/**
 * A geodesic between two points of a surface: a chain of points relaxed until the pull of its neighbours on each
 * is normal to the surface, from coarse to fine, each level starting from the one before.
 */
export const shortestLine = (surface: RadialSurface, from: Vec3, to: Vec3, count: number): Vec3[] => {
  const last = Math.max(1, Math.round(count) - 1);
  const sample = emptySample();
  const onSurface = (p: Vec3): Vec3 => {
    const s = drop(surface, p[0], p[1], p[2], sample);
    return [s.x, s.y, s.z];
  };
  let line: Vec3[] = [from, middle(surface, from, to), to];
  line = relax(surface, line, sample);
  while (line.length - 1 < last) {
    const finer: Vec3[] = [line[0]];
    for (let i = 1; i < line.length; i++) {
      finer.push(onSurface(lerp(line[i - 1], line[i], 0.5)), line[i]);
    }
    line = relax(surface, finer, sample);
  }
  return resample(line, last).map((p, i) => (i === 0 ? from : i === last ? to : onSurface(p)));
};

/** A point between the two, off the straight line where that passes through the center. */
const middle = (surface: RadialSurface, from: Vec3, to: Vec3): Vec3 => {
  const c = surface.data.center;
  const a: Vec3 = [from[0] - c[0], from[1] - c[1], from[2] - c[2]];
  const b: Vec3 = [to[0] - c[0], to[1] - c[1], to[2] - c[2]];
  const la = Math.hypot(...a);
  const lb = Math.hypot(...b);
  const m: Vec3 = [a[0] / la + b[0] / lb, a[1] / la + b[1] / lb, a[2] / la + b[2] / lb];
  // Opposite places: go over the crown.
  if (Math.hypot(...m) < 0.05) return [c[0] + m[0], c[1] + m[1], c[2] + 1];
  return [c[0] + 80 * m[0], c[1] + 80 * m[1], c[2] + 80 * m[2]];
};

const relax = (surface: RadialSurface, line: Vec3[], sample: SurfaceSample): Vec3[] => {
  const n = line.length;
  const p = line.map((point) => [...point] as [number, number, number]);
  // Over-relaxation suited to a chain of this length (Young 1954).
  const omega = n > 3 ? 2 / (1 + Math.sin(Math.PI / (n - 1))) : 1;
  for (let sweep = 0; sweep < 12 * n; sweep++) {
    let rest = 0;
    for (let i = 1; i < n - 1; i++) {
      const q = p[i];
      const s = drop(surface, q[0], q[1], q[2], sample);
      let dx = (p[i - 1][0] + p[i + 1][0]) / 2 - s.x;
      let dy = (p[i - 1][1] + p[i + 1][1]) / 2 - s.y;
      let dz = (p[i - 1][2] + p[i + 1][2]) / 2 - s.z;
      const along = dx * s.nx + dy * s.ny + dz * s.nz;
      dx -= along * s.nx;
      dy -= along * s.ny;
      dz -= along * s.nz;
      rest = Math.max(rest, Math.abs(dx) + Math.abs(dy) + Math.abs(dz));
      const t = drop(surface, s.x + omega * dx, s.y + omega * dy, s.z + omega * dz, sample);
      q[0] = t.x;
      q[1] = t.y;
      q[2] = t.z;
    }
    if (rest < TIGHT) break;
  }
  return p;
};

/** The chain at even steps of its length. */
const resample = (line: readonly Vec3[], last: number): Vec3[] => {
  const at = [0];
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1], line[i]];
    at.push(at[i - 1] + Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]));
  }
  const out: Vec3[] = [];
  let k = 1;
  for (let i = 0; i <= last; i++) {
    const want = (at[at.length - 1] * i) / last;
    while (k < line.length - 1 && at[k] < want) k++;
    const span = at[k] - at[k - 1];
    out.push(lerp(line[k - 1], line[k], span > 0 ? (want - at[k - 1]) / span : 0));
  }
  return out;
};
