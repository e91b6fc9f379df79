import type { TriangleMesh } from "../geometry/mesh";
import { degrees, distance, radians, type Vec3 } from "../geometry/vector";
import type { HeadCoordinates, HeadDirection, SurfaceLine } from "./coordinates";
import { FINE, type MeshResolution, meshSurface } from "./headMesh";
import { LANDMARKS, type Landmark, landmarkDirection } from "./landmarks";
import type { Measurements } from "./measurements";
import { type LineName, namedLine } from "./namedLines";
import { emptySample, type RadialSurface } from "./radialSurface";
import { inRegion, type Region } from "./regions";
import { shortestLine } from "./shortestLine";

/** The nearest place of a surface to a point. */
export interface Nearest {
  readonly point: Vec3;
  /** Outward unit normal there. */
  readonly normal: Vec3;
  /** Positive outside, mm. */
  readonly distance: number;
}

/** What the bare head form and the grown head answer alike. Angles in degrees, positions in mm, head frame. */
export abstract class HeadSurface {
  /** The measurements the head was built from, mm. */
  readonly measurements: Measurements;
  /** The surface in radians, for tight loops. */
  readonly surface: RadialSurface;
  private readonly sample = emptySample();
  private landmarkCache?: Readonly<Record<Landmark, Vec3>>;

  protected constructor(measurements: Measurements, surface: RadialSurface) {
    this.measurements = measurements;
    this.surface = surface;
  }

  /** Center that azimuth and elevation are seen from; it lies in the girth plane. */
  get center(): Vec3 {
    return this.surface.data.center;
  }

  /** The point at a place, `lift` mm off this surface (0 unless given), in the direction of {@link normalAt}. */
  pointAt(place: HeadDirection & { readonly lift?: number }): Vec3 {
    const s = this.surface.evaluate(radians(place.azimuth), radians(place.elevation), this.sample);
    const lift = place.lift ?? 0;
    return [s.x + lift * s.nx, s.y + lift * s.ny, s.z + lift * s.nz];
  }

  /** Outward unit normal of the bare head at a place: the direction that lift goes. */
  normalAt(place: HeadDirection): Vec3 {
    const s = this.surface.evaluate(radians(place.azimuth), radians(place.elevation), this.sample);
    return [s.nx, s.ny, s.nz];
  }

  /** The place of a point: the foot of its perpendicular to the bare head, and its lift off this surface. */
  coordinatesOf(point: Vec3): HeadCoordinates {
    const lift = this.surface.footOf(point[0], point[1], point[2], this.sample);
    return { ...this.directionOf([this.sample.x, this.sample.y, this.sample.z]), lift };
  }

  /** Azimuth and elevation in which a point is seen from the head's center. */
  directionOf(point: Vec3): HeadDirection {
    return {
      azimuth: degrees(this.surface.azimuthOf(point[0], point[1])),
      elevation: degrees(this.surface.elevationOf(point[0], point[1], point[2])),
    };
  }

  /** The nearest point of the surface, its normal and the signed distance (positive outside), mm. */
  nearest(point: Vec3): Nearest {
    const distance = this.surface.footOf(point[0], point[1], point[2], this.sample);
    const s = this.sample;
    return { point: [s.x, s.y, s.z], normal: [s.nx, s.ny, s.nz], distance };
  }

  /** Signed distance to the surface, positive outside, mm; good to about 0.01 mm on the cranium, and fast. */
  signedDistance(point: Vec3): number {
    return this.surface.signedDistance(point[0], point[1], point[2]);
  }

  /** A closed mesh of the surface, outward, left-right symmetric unless it is a scan's; {@link FINE} unless another is given. */
  mesh(resolution: MeshResolution = FINE): TriangleMesh {
    return meshSurface(this.surface, resolution);
  }

  /** Named points, on this surface. */
  get landmarks(): Readonly<Record<Landmark, Vec3>> {
    if (!this.landmarkCache) {
      this.landmarkCache = Object.fromEntries(
        LANDMARKS.map((name) => [name, this.pointAt(this.landmark(name))]),
      ) as Record<Landmark, Vec3>;
    }
    return this.landmarkCache;
  }

  /** Azimuth and elevation of a named point. */
  landmark(name: Landmark): HeadDirection {
    return landmarkDirection(this.landmarkSurface(), name, this.measurements);
  }

  /** Landmarks are found on the bare head. */
  protected abstract landmarkSurface(): RadialSurface;

  /** A named line as places and points on this surface. */
  line(name: LineName): SurfaceLine {
    return this.trace(namedLine(name, this), name === "girthLine" || name === "hairline");
  }

  get girthLine(): SurfaceLine {
    return this.line("girthLine");
  }
  get sagittalLine(): SurfaceLine {
    return this.line("sagittalLine");
  }
  get coronalLine(): SurfaceLine {
    return this.line("coronalLine");
  }
  get hairline(): SurfaceLine {
    return this.line("hairline");
  }

  /** Places as points on this surface. */
  trace(coordinates: readonly HeadDirection[], closed: boolean): SurfaceLine {
    return { coordinates, points: coordinates.map((place) => this.pointAt(place)), closed };
  }

  /**
   * The shortest line along the surface between two places, as `count` points evenly spaced, ends included: a
   * thread pulled tight over the head.
   */
  lineBetween(from: HeadDirection, to: HeadDirection, count = 33): SurfaceLine {
    const points = shortestLine(this.surface, this.pointAt(from), this.pointAt(to), count);
    return { coordinates: points.map((point) => this.coordinatesOf(point)), points, closed: false };
  }

  /** Whether a place lies in a named region. */
  isIn(region: Region, place: HeadDirection): boolean {
    return inRegion(region, place);
  }

  /** Length of this surface's closed curve at one elevation, mm; at 0 the girth of this surface. */
  perimeterAt(elevation: number, samples = 360): number {
    let sum = 0;
    let before = this.pointAt({ azimuth: 0, elevation });
    for (let i = 1; i <= samples; i++) {
      const point = this.pointAt({ azimuth: (360 * i) / samples, elevation });
      sum += distance(before, point);
      before = point;
    }
    return sum;
  }
}
