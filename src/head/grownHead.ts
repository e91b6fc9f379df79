import { degrees, radians, type Vec3 } from "../geometry/vector";
import type { HeadCoordinates, HeadDirection } from "./coordinates";
import { HeadSurface } from "./headSurface";
import type { Measurements } from "./measurements";
import { azimuthOfColumn, emptySample, RadialSurface, type RadialSurfaceData } from "./radialSurface";
import { hairShare } from "./regions";

/** A grown head as plain data, for another process. */
export interface GrownHeadData {
  readonly measurements: Measurements;
  readonly surface: RadialSurfaceData;
  /** The head it grew from. */
  readonly bare: RadialSurfaceData;
  /** mm */
  readonly offset: number;
  /** mm */
  readonly hairThickness: number;
}

/**
 * The head form grown by ease and hair; asked like the form itself. A place is that of the bare head below, so it
 * does not move with ease and hair, and lift goes along the bare head's normal from the grown surface: over hair
 * that thins out, the true distance is a little less than the lift.
 */
export class GrownHead extends HeadSurface {
  /** Ease as an offset, mm. */
  readonly offset: number;
  /** mm */
  readonly hairThickness: number;
  private readonly bareData: RadialSurfaceData;
  private bareCache?: RadialSurface;
  private readonly foot = emptySample();

  constructor(data: GrownHeadData) {
    super(data.measurements, new RadialSurface(data.surface));
    this.offset = data.offset;
    this.hairThickness = data.hairThickness;
    this.bareData = data.bare;
  }

  /** The surface of the head under ease and hair. */
  get bare(): RadialSurface {
    this.bareCache ??= new RadialSurface(this.bareData);
    return this.bareCache;
  }

  protected landmarkSurface(): RadialSurface {
    return this.bare;
  }

  override pointAt(place: HeadDirection & { readonly lift?: number }): Vec3 {
    const s = this.bare.evaluate(radians(place.azimuth), radians(place.elevation), this.foot);
    const lift = this.roomAt(place) + (place.lift ?? 0);
    return [s.x + lift * s.nx, s.y + lift * s.ny, s.z + lift * s.nz];
  }

  override normalAt(place: HeadDirection): Vec3 {
    const s = this.bare.evaluate(radians(place.azimuth), radians(place.elevation), this.foot);
    return [s.nx, s.ny, s.nz];
  }

  override coordinatesOf(point: Vec3): HeadCoordinates {
    const foot = this.foot;
    const off = this.bare.footOf(point[0], point[1], point[2], foot);
    const place = {
      azimuth: degrees(this.bare.azimuthOf(foot.x, foot.y)),
      elevation: degrees(this.bare.elevationOf(foot.x, foot.y, foot.z)),
    };
    return { ...place, lift: off - this.roomAt(place) };
  }

  /** Ease and hair at a place, mm. */
  roomAt(place: HeadDirection): number {
    return this.offset + this.hairThickness * hairShare(place.azimuth, place.elevation);
  }

  toData(): GrownHeadData {
    return {
      measurements: this.measurements,
      surface: this.surface.data,
      bare: this.bareData,
      offset: this.offset,
      hairThickness: this.hairThickness,
    };
  }

  static fromData(data: GrownHeadData): GrownHead {
    return new GrownHead(data);
  }
}

/** From one azimuth to another, rad; on a whole surface the short way. */
const turnBetween = (from: number, to: number, whole: boolean): number => {
  const turn = to - from;
  return whole ? turn - 2 * Math.PI * Math.round(turn / (2 * Math.PI)) : turn;
};

/** Room at a place of the bare head, mm. */
const roomAt = (offset: number, hair: number, azimuth: number, elevation: number): number =>
  hair > 0 ? offset + hair * hairShare(degrees(azimuth), degrees(elevation)) : offset;

/**
 * Radii of the surface grown along its normals by `offset` everywhere and `hairThickness` where hair grows, mm.
 * For each ray, the place of the bare head whose grown point lies on the ray is sought; in hollows narrower than
 * the room, where there is none, the room is measured along the ray.
 */
export const growRadii = (bare: RadialSurface, offset: number, hairThickness: number): RadialSurfaceData => {
  const { center, columns, rows, baseZ, whole } = bare.data;
  const radii = new Float64Array(columns * rows);
  const s = emptySample();
  const bottom = center[2] - baseZ;
  for (let j = 0; j < rows; j++) {
    const elevation = Math.PI * (j / (rows - 1) - 0.5);
    for (let i = 0; i < columns; i++) {
      const azimuth = azimuthOfColumn(bare.data, i);
      const k = j * columns + i;
      const plain = bare.uncutRadius(azimuth, elevation);
      // Beyond the neck's cut only smoothness matters.
      if (elevation < 0 && plain * -Math.sin(elevation) > bottom * 1.15) {
        radii[k] = plain + roomAt(offset, hairThickness, azimuth, elevation);
        continue;
      }
      let a = azimuth;
      let e = elevation;
      let r = 0;
      let miss = Number.POSITIVE_INFINITY;
      for (let n = 0; n < 8; n++) {
        bare.evaluateUncut(a, e, s);
        const room = roomAt(offset, hairThickness, a, e);
        const x = s.x + room * s.nx - center[0];
        const y = s.y + room * s.ny - center[1];
        const z = s.z + room * s.nz - center[2];
        const h = Math.hypot(x, y);
        const da = j === rows - 1 ? 0 : turnBetween(azimuth, Math.atan2(x, y), whole === true);
        const de = Math.atan2(z, h) - elevation;
        const off = Math.abs(da) * Math.cos(elevation) + Math.abs(de);
        if (off < miss) {
          miss = off;
          r = Math.hypot(h, z);
        }
        if (off < 1e-5) break;
        a = whole ? a - da : Math.min(Math.PI, Math.max(0, a - da));
        e = Math.min(Math.PI / 2, e - de);
      }
      if (miss > 1e-3) {
        bare.evaluateUncut(azimuth, elevation, s);
        const facing =
          (s.nx * (s.x - center[0]) + s.ny * (s.y - center[1]) + s.nz * (s.z - center[2])) / s.radius;
        r = plain + roomAt(offset, hairThickness, azimuth, elevation) / Math.max(0.4, facing);
      }
      radii[k] = r;
    }
  }
  return { center, baseZ, columns, ...(whole && { whole }), rows, radii };
};
