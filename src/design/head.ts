import type { Vec3 } from "../geometry/vector";
import { distance } from "../geometry/vector";
import { number, oneOf, options } from "./check";
import { makeContext } from "./context";
import type { HeadSurface } from "./headSurface";
import { Path } from "./path";
import { Point, type PointLike, toPoint } from "./point";
import { isIn, type Region, type RegionName, regionNames, scatterPoints } from "./region";

/** A place on the head: degrees, and mm off the grown head form. */
export interface HeadCoordinates {
  /** 0 front, 90 the wearer's right, 180 back, -90 left. */
  readonly azimuth: number;
  /** 0 at the girth, 90 at the crown, negative below. */
  readonly elevation: number;
  /** Distance off the head form grown by ease and hair, mm; 0 unless given. */
  readonly lift?: number;
}

const landmarkNames = [
  "crown",
  "brow",
  "nape",
  "back",
  "leftTemple",
  "rightTemple",
  "leftTragion",
  "rightTragion",
] as const;
type LandmarkName = (typeof landmarkNames)[number];

/** The wearer's head, grown by ease and hair, as a design meets it: what `make` receives as `head`. */
export class DesignHead {
  readonly #surface: HeadSurface;

  constructor(surface: HeadSurface) {
    this.#surface = surface;
  }

  /** The wearer's girth, length, breadth and crown height (tragion to the top of the head), mm, without ease. */
  get measurements(): HeadSurface["measurements"] {
    return this.#surface.measurements;
  }

  /**
   * The named points of the head, on the grown form.
   * @example head.landmarks.crown.moved({ up: 60 })
   */
  get landmarks(): Readonly<Record<LandmarkName, Point>> {
    return Object.fromEntries(
      landmarkNames.map((name) => [name, this.pointNear(this.#surface.landmarks[name])]),
    ) as Record<LandmarkName, Point>;
  }

  /**
   * A point on or off the head.
   * @example head.at({ azimuth: 45, elevation: 20, lift: 10 })
   */
  at(place: HeadCoordinates): Point {
    options(place, "at", ["azimuth", "elevation", "lift"]);
    const azimuth = number(place.azimuth, "azimuth");
    const elevation = number(place.elevation, "elevation", { least: -90, most: 90 });
    const lift = number(place.lift ?? 0, "lift");
    const out = this.#surface.normalAt({ azimuth, elevation });
    return new Point(this.#surface.pointAt({ azimuth, elevation, lift }), out);
  }

  /** Azimuth, elevation and lift of a point. */
  coordinatesOf(point: PointLike): Required<HeadCoordinates> {
    return this.#surface.coordinatesOf(toPoint(point).position);
  }

  /** The line of the greatest girth, closed; it starts at the middle of the brow and runs to the right. */
  get girthLine(): Path {
    return new Path({ kind: "through", closed: true, points: this.#surface.lines.girthLine });
  }

  /** The middle line from the brow over the crown to the nape. */
  get sagittalLine(): Path {
    return new Path({ kind: "through", closed: false, points: this.#surface.lines.sagittalLine });
  }

  /** The line from the right tragion over the crown to the left tragion. */
  get coronalLine(): Path {
    return new Path({ kind: "through", closed: false, points: this.#surface.lines.coronalLine });
  }

  /** The edge of the hair, closed; it starts at the middle of the brow and runs to the right. */
  get hairline(): Path {
    return new Path({ kind: "through", closed: true, points: this.#surface.lines.hairline });
  }

  /**
   * Calls `make` once for each of `times` azimuths spread evenly about the head, and collects what it gives.
   * @example head.around(9, (azimuth, i) => tube(`ray ${i + 1}`, …))
   */
  around<T>(
    times: number,
    make: (azimuth: number, index: number) => T,
    within: { from?: number; to?: number } = {},
  ): T[] {
    const n = number(times, "how many times around", { least: 0, most: 100_000, whole: true });
    options(within, "around", ["from", "to"]);
    const from = number(within.from ?? 0, "from of around");
    const to = number(within.to ?? from + 360, "to of around");
    const whole = Math.abs(Math.abs(to - from) - 360) < 1e-9;
    const step = n === 1 ? 0 : (to - from) / (whole ? n : n - 1);
    return Array.from({ length: n }, (_, i) => make(from + i * step, i));
  }

  /**
   * Points scattered over a region of the head, none nearer to another than the spacing, mm. Seeded: the same
   * design gives the same points.
   * @example head.scatter("crown", { spacing: 18 })
   */
  scatter(region: RegionName | Region, spread: { spacing: number; lift?: number; most?: number }): Point[] {
    options(spread, "scatter", ["spacing", "lift", "most"]);
    const spacing = number(spread.spacing, "spacing of scatter", { least: 2 });
    const most = number(spread.most ?? 5000, "most of scatter", { least: 1, whole: true });
    const lift = number(spread.lift ?? 0, "lift of scatter");
    if (typeof region === "string") oneOf(region, "region of scatter", regionNames);
    const { random } = makeContext("scatter");
    return scatterPoints(this, (place) => isIn(this.#surface, region, place), {
      spacing,
      most,
      random: random.named(
        `scatter ${typeof region === "string" ? region : JSON.stringify(region)} ${spacing}`,
      ),
    }).map((place) => this.at({ ...place, lift }));
  }

  /** Whether a point lies over a region of the head. */
  isOver(region: RegionName | Region, point: PointLike): boolean {
    return isIn(this.#surface, region, this.coordinatesOf(point));
  }

  /** @internal Direction off the head at a position. */
  outAt(position: Vec3): Vec3 {
    return this.#surface.nearest(position).normal;
  }

  /** @internal A bare position as a point of this head. */
  pointNear(position: Vec3): Point {
    return new Point(position, this.outAt(position));
  }

  /** @internal The shortest line over the surface between two places. */
  surfaceLine(from: Vec3, to: Vec3): readonly Vec3[] {
    return this.#surface.lineBetween(from, to);
  }

  /** @internal The point that lies further up the head by a length along the surface, its lift kept. */
  raise(point: Point, by: number): Point {
    const { azimuth, elevation, lift } = this.coordinatesOf(point);
    const step = 0.5 * Math.sign(by);
    let walked = 0;
    let at = elevation;
    let here = this.#surface.pointAt({ azimuth, elevation, lift: 0 });
    while (walked < Math.abs(by) && Math.abs(at + step) <= 90) {
      const next = this.#surface.pointAt({ azimuth, elevation: at + step, lift: 0 });
      const stride = distance(here, next);
      const share = Math.min(1, (Math.abs(by) - walked) / stride);
      at += step * share;
      walked += stride;
      here = next;
    }
    return this.at({ azimuth, elevation: at, lift });
  }
}

/**
 * A point on the wearer's head, or off it by `lift`: the usual way to say where a tube goes.
 * @example onHead({ azimuth: 90, elevation: 30, lift: 10 })
 */
export const onHead = (place: HeadCoordinates): Point => makeContext("onHead").head.at(place);
