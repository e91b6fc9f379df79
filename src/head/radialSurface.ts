import type { Vec3 } from "../geometry/vector";
import { splineCoefficients, strideOf } from "./radialSpline";

/** A star-shaped closed surface as plain data, so that it passes between processes. */
export interface RadialSurfaceData {
  /** The point that every ray starts from, mm, head frame; x = 0. */
  readonly center: Vec3;
  /** Height of the flat cut that closes the surface below, mm. */
  readonly baseZ: number;
  /**
   * Samples over azimuth 0..180 (right half; the left half mirrors it), both ends included. On a whole surface over
   * 0..360, the last before the end; an even number.
   */
  readonly columns: number;
  /** Whether left and right have samples of their own. */
  readonly whole?: boolean;
  /** Samples over elevation -90..90, both ends included. */
  readonly rows: number;
  /** Distance from the center, mm, row by row from the lowest. */
  readonly radii: Float64Array;
}

/** What {@link RadialSurface.evaluate} writes: position, outward unit normal and radius at a direction. */
export interface SurfaceSample {
  x: number;
  y: number;
  z: number;
  nx: number;
  ny: number;
  nz: number;
  radius: number;
}

/** Azimuth of a column of samples, rad. */
export const azimuthOfColumn = (
  { columns, whole }: Pick<RadialSurfaceData, "columns" | "whole">,
  column: number,
): number => (whole ? (2 * Math.PI * column) / columns : (Math.PI * column) / (columns - 1));

export const emptySample = (): SurfaceSample => ({ x: 0, y: 0, z: 0, nx: 0, ny: 0, nz: 1, radius: 0 });

const HALF_PI = Math.PI / 2;
/** Closest the normal's formula goes to a pole, where azimuth has no meaning, rad. */
const POLE = HALF_PI - 1e-3;

/**
 * The surface r(azimuth, elevation) about a center, interpolated by a bicubic B-spline through its samples
 * (twice continuously differentiable; de Boor 1978, *A Practical Guide to Splines*), mirrored in the sagittal
 * plane unless it is whole, and continued over the poles. Angles here are radians; positions mm.
 */
export class RadialSurface {
  readonly data: RadialSurfaceData;
  private readonly coefficients: Float64Array;
  private readonly whole: boolean;
  private readonly lastColumn: number;
  private readonly stride: number;
  private readonly perColumn: number;
  private readonly perRow: number;
  /** Written by {@link spline}: radius and its derivatives by azimuth and elevation. */
  private r = 0;
  private rAzimuth = 0;
  private rElevation = 0;
  private readonly foot = emptySample();

  constructor(data: RadialSurfaceData) {
    this.data = data;
    this.whole = data.whole === true;
    this.stride = strideOf(data.columns, this.whole);
    this.perColumn = this.whole ? data.columns / (2 * Math.PI) : (data.columns - 1) / Math.PI;
    this.lastColumn = data.columns - (this.whole ? 1 : 2);
    this.perRow = (data.rows - 1) / Math.PI;
    this.coefficients = splineCoefficients(data.radii, data.columns, data.rows, this.whole);
  }

  private spline(azimuth: number, elevation: number): void {
    const { rows } = this.data;
    let a = azimuth;
    if (a > Math.PI || a < -Math.PI) a -= 2 * Math.PI * Math.round(a / (2 * Math.PI));
    if (this.whole && a < 0) a += 2 * Math.PI;
    const side = a < 0 ? -1 : 1;
    const u = a * side * this.perColumn;
    const v = (elevation + HALF_PI) * this.perRow;
    const i = Math.min(this.lastColumn, Math.max(0, Math.floor(u)));
    const j = Math.min(rows - 2, Math.max(0, Math.floor(v)));
    const s = u - i;
    const t = v - j;
    const s1 = 1 - s;
    const t1 = 1 - t;
    const a0 = (s1 * s1 * s1) / 6;
    const a1 = (4 + 3 * s * s * (s - 2)) / 6;
    const a2 = (4 + 3 * s1 * s1 * (s1 - 2)) / 6;
    const a3 = (s * s * s) / 6;
    const d0 = -s1 * s1 * 0.5;
    const d1 = s * (1.5 * s - 2);
    const d2 = -s1 * (1.5 * s1 - 2);
    const d3 = s * s * 0.5;
    const w = this.stride;
    const c = this.coefficients;
    let value = 0;
    let byAzimuth = 0;
    let byElevation = 0;
    let k = j * w + i;
    for (let n = 0; n < 4; n++) {
      const e0 = c[k];
      const e1 = c[k + 1];
      const e2 = c[k + 2];
      const e3 = c[k + 3];
      const row = a0 * e0 + a1 * e1 + a2 * e2 + a3 * e3;
      let b: number;
      let d: number;
      if (n === 0) {
        b = (t1 * t1 * t1) / 6;
        d = -t1 * t1 * 0.5;
      } else if (n === 1) {
        b = (4 + 3 * t * t * (t - 2)) / 6;
        d = t * (1.5 * t - 2);
      } else if (n === 2) {
        b = (4 + 3 * t1 * t1 * (t1 - 2)) / 6;
        d = -t1 * (1.5 * t1 - 2);
      } else {
        b = (t * t * t) / 6;
        d = t * t * 0.5;
      }
      value += b * row;
      byElevation += d * row;
      byAzimuth += b * (d0 * e0 + d1 * e1 + d2 * e2 + d3 * e3);
      k += w;
    }
    this.r = value;
    this.rAzimuth = byAzimuth * this.perColumn * side;
    this.rElevation = byElevation * this.perRow;
  }

  /** Distance from the center to the surface in a direction, mm, the flat base included. */
  radius(azimuth: number, elevation: number): number {
    this.spline(azimuth, elevation);
    const down = -Math.sin(elevation);
    const cut = (this.data.center[2] - this.data.baseZ) / down;
    return down > 0 && this.r > cut ? cut : this.r;
  }

  /** The same without the base: the neck goes on below it. */
  uncutRadius(azimuth: number, elevation: number): number {
    this.spline(azimuth, elevation);
    return this.r;
  }

  /** Position and outward unit normal in a direction. */
  evaluate(azimuth: number, elevation: number, out: SurfaceSample): SurfaceSample {
    return this.evaluateTo(azimuth, elevation, out, this.data.baseZ);
  }

  /** The same without the base: the neck goes on below it. */
  evaluateUncut(azimuth: number, elevation: number, out: SurfaceSample): SurfaceSample {
    return this.evaluateTo(azimuth, elevation, out, Number.NEGATIVE_INFINITY);
  }

  private evaluateTo(azimuth: number, elevation: number, out: SurfaceSample, baseZ: number): SurfaceSample {
    this.spline(azimuth, elevation);
    const { center } = this.data;
    const sa = Math.sin(azimuth);
    const ca = Math.cos(azimuth);
    const se = Math.sin(elevation);
    const ce = Math.cos(elevation);
    let r = this.r;
    const cut = se < 0 ? (center[2] - baseZ) / -se : Number.POSITIVE_INFINITY;
    if (r > cut) {
      r = cut;
      out.nx = 0;
      out.ny = 0;
      out.nz = -1;
    } else {
      if (Math.abs(elevation) > POLE) this.spline(azimuth, elevation > 0 ? POLE : -POLE);
      const gradientAzimuth = this.rAzimuth / Math.max(ce, Math.cos(POLE));
      const gradientElevation = this.rElevation;
      // The normal of r(u): r·u less the gradient of r along the unit sphere.
      const nx = r * ce * sa + gradientElevation * se * sa - gradientAzimuth * ca;
      const ny = r * ce * ca + gradientElevation * se * ca + gradientAzimuth * sa;
      const nz = r * se - gradientElevation * ce;
      const l = 1 / Math.sqrt(nx * nx + ny * ny + nz * nz);
      out.nx = nx * l;
      out.ny = ny * l;
      out.nz = nz * l;
    }
    out.radius = r;
    out.x = center[0] + r * ce * sa;
    out.y = center[1] + r * ce * ca;
    out.z = center[2] + r * se;
    return out;
  }

  /** Azimuth of a point as seen from the center, rad. */
  azimuthOf(x: number, y: number): number {
    return Math.atan2(x - this.data.center[0], y - this.data.center[1]);
  }

  /** Elevation of a point as seen from the center, rad. */
  elevationOf(x: number, y: number, z: number): number {
    const { center } = this.data;
    return Math.atan2(z - center[2], Math.hypot(x - center[0], y - center[1]));
  }

  /**
   * The foot of the perpendicular from a point to the surface, written to `out`, found by moving along the
   * tangent plane until what is left of the offset is normal. Returns the signed distance along the normal,
   * positive outside, mm. `tolerance` is the tangential rest it stops at, mm.
   */
  footOf(x: number, y: number, z: number, out: SurfaceSample, tolerance = 1e-5): number {
    const { center } = this.data;
    let azimuth = this.azimuthOf(x, y);
    let elevation = this.elevationOf(x, y, z);
    let bestDistance = 0;
    let best = Number.POSITIVE_INFINITY;
    let [mx, my, mz] = [0, 0, 0];
    let [px, py, pz] = [0, 0, 0];
    const foot = this.foot;
    for (let k = 0; k < 60; k++) {
      this.evaluate(azimuth, elevation, foot);
      const dx = x - foot.x;
      const dy = y - foot.y;
      const dz = z - foot.z;
      const along = dx * foot.nx + dy * foot.ny + dz * foot.nz;
      const tx = dx - along * foot.nx;
      const ty = dy - along * foot.ny;
      const tz = dz - along * foot.nz;
      const rest = Math.sqrt(tx * tx + ty * ty + tz * tz);
      if (rest < best) {
        best = rest;
        bestDistance = along;
        Object.assign(out, foot);
      }
      if (rest < tolerance) break;
      // On a sphere of the local radius the foot moves by r / (r + distance) of the tangential offset; after a
      // first move the share is read off what that move did (Barzilai and Borwein 1988), so that flat and sharp
      // places converge alike.
      let share = foot.radius / Math.max(0.3 * foot.radius, foot.radius + along);
      if (k > 0) {
        const moved = mx * mx + my * my + mz * mz;
        const gained = mx * (px - tx) + my * (py - ty) + mz * (pz - tz);
        if (gained > 1e-3 * moved) share = Math.min(2, Math.max(0.02, moved / gained));
      }
      // Never further than a third of the radius at once.
      share = Math.min(share, (0.35 * foot.radius) / rest);
      mx = share * tx;
      my = share * ty;
      mz = share * tz;
      px = tx;
      py = ty;
      pz = tz;
      const fx = foot.x + mx - center[0];
      const fy = foot.y + my - center[1];
      const fz = foot.z + mz - center[2];
      azimuth = Math.atan2(fx, fy);
      elevation = Math.atan2(fz, Math.sqrt(fx * fx + fy * fy));
    }
    return bestDistance;
  }

  /**
   * Signed distance to the surface, positive outside, mm: exact on the cranium to about 0.01 mm, in hollows
   * (behind the ears, under the chin) the distance along one normal.
   */
  signedDistance(x: number, y: number, z: number): number {
    return this.footOf(x, y, z, this.scratch, 0.02);
  }

  private readonly scratch = emptySample();
}
