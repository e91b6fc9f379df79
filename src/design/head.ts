import type { SurfaceLine } from "../head/coordinates";
import { LANDMARKS, type Landmark } from "../head/landmarks";
import { REGIONS } from "../head/regions";
import { number, oneOf, options } from "./check";
import { makeContext } from "./context";
import { type HeadPlace, HeadSpace } from "./headSpace";
import { Path } from "./path";
import type { Point, PointLike } from "./point";
import { isIn, type Region, type RegionName, scatterPoints } from "./region";
import { azimuthAlong, lengthTo } from "./surfaceArcs";

/** Girth of the mean head that sizes are given for, mm: the mean of ANSUR II's men and women. */
const meanGirth = 568;

/** The wearer's head, grown by ease and hair, as a design meets it: what `make` receives as `head`. */
export class DesignHead extends HeadSpace {
  /** The wearer's girth, length, breadth and crown height (tragion to the top of the head), mm, without ease. */
  get measurements(): {
    readonly girth: number;
    readonly length: number;
    readonly breadth: number;
    readonly crownHeight: number;
  } {
    const { girth, length, breadth, crownHeight } = this.surface.measurements;
    return { girth, length, breadth, crownHeight };
  }

  /**
   * The named points of the head, on the grown form.
   * @example head.landmarks.crown.moved({ up: 60 })
   */
  get landmarks(): Readonly<Record<Landmark, Point>> {
    return Object.fromEntries(
      LANDMARKS.map((name) => [name, this.at(this.surface.landmark(name))]),
    ) as Record<Landmark, Point>;
  }

  /**
   * The line of the greatest girth, closed; it starts at the middle of the brow and runs to the right.
   * @example band("ring", head.girthLine, { radius: 6 })
   */
  get girthLine(): Path {
    return linePath(this.surface.girthLine);
  }

  /**
   * The middle line from the brow over the crown to the nape.
   * @example band("spine", head.sagittalLine.part(0, 0.7), { width: 16 })
   */
  get sagittalLine(): Path {
    return linePath(this.surface.sagittalLine);
  }

  /**
   * The line from the left tragion over the crown to the right tragion.
   * @example band("arch", head.coronalLine.part(0.2, 0.8), { width: 16 })
   */
  get coronalLine(): Path {
    return linePath(this.surface.coronalLine);
  }

  /**
   * The edge of the hair, closed; it starts at the middle of the brow and runs to the right.
   * @example band("fillet", head.hairline, { radius: 4 })
   */
  get hairline(): Path {
    return linePath(this.surface.hairline);
  }

  /**
   * Calls `make` once for each of `times` azimuths spread evenly about the head, and collects what it gives. With a
   * pitch in place of the times they lie so many mm apart along the girth, about, and their number is the head's.
   * @example head.around(9, (azimuth, i) => tube(`ray ${i + 1}`, [ring.atAzimuth(azimuth), onHead({ azimuth, elevation: 30, lift: 60 })]))
   * @example head.around({ pitch: 40 }, (azimuth, i) => tube(`ray ${i + 1}`, [ring.atAzimuth(azimuth), onHead({ azimuth, elevation: 30, lift: 60 })]))
   */
  around<T>(
    times: number | { readonly pitch: number },
    make: (azimuth: number, index: number) => T,
    within: { from?: number; to?: number } = {},
  ): T[] {
    options(within, "around", ["from", "to"]);
    const from = number(within.from ?? 0, "from of around");
    const to = number(within.to ?? from + 360, "to of around");
    const whole = Math.abs(Math.abs(to - from) - 360) < 1e-9;
    if (typeof times === "object" && times !== null) {
      return this.#pitched(times, from, to, whole).map(make);
    }
    const n = number(times, "how many times around", { least: 0, most: 100_000, whole: true });
    const step = n === 1 ? 0 : (to - from) / (whole ? n : n - 1);
    return Array.from({ length: n }, (_, i) => make(from + i * step, i));
  }

  /**
   * A size that grows with the head: as given on a head of mean girth (568 mm), in proportion on others. Every other
   * length stays as it is on all heads.
   * @example tube("stem", [ring.at(0), onHead({ azimuth: 0, elevation: 40, lift: 30 })], { radius: head.sized(5) })
   */
  sized(size: number): number {
    return (number(size, "a size") * this.surface.measurements.girth) / meanGirth;
  }

  /** Azimuths at even lengths along the girth between two, as near to the pitch as goes. */
  #pitched(times: { readonly pitch: number }, from: number, to: number, whole: boolean): number[] {
    options(times, "around", ["pitch"]);
    const pitch = number(times.pitch, "pitch of around", { above: 0 });
    const lengths = this.girthLengths;
    const [start, end] = [lengthTo(lengths, from), lengthTo(lengths, to)];
    const spaces = Math.max(1, Math.round(Math.abs(end - start) / pitch));
    number(spaces, "how many times around", { most: 100_000 });
    return Array.from({ length: whole ? spaces : spaces + 1 }, (_, i) =>
      azimuthAlong(lengths, start + ((end - start) * i) / spaces),
    );
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
    if (typeof region === "string") oneOf(region, "region of scatter", REGIONS);
    const { random } = makeContext("scatter");
    return scatterPoints(this, (place) => isIn(region, place), {
      spacing,
      most,
      random: random.named(
        `scatter ${typeof region === "string" ? region : JSON.stringify(region)} ${spacing}`,
      ),
    }).map((place) => this.at({ ...place, lift }));
  }

  /**
   * Whether a point lies over a region of the head.
   * @example head.isOver("hair", stem.at(0.5))
   */
  isOver(region: RegionName | Region, point: PointLike): boolean {
    return isIn(region, this.coordinatesOf(point));
  }
}

/**
 * A point on the wearer's head, or off it by `lift`: the usual way to say where a tube goes.
 * @example onHead({ azimuth: 90, elevation: 30, lift: 10 })
 */
export const onHead = (place: HeadPlace): Point => makeContext("onHead").head.at(place);

const linePath = ({ points, closed }: SurfaceLine): Path => new Path({ kind: "through", closed, points });
