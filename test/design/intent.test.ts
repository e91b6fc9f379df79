import { describe, expect, test } from "vitest";
import type { Make } from "../../src/design";
import { arc, headpiece, onHead, tube } from "../../src/design";
import { runDesign } from "../../src/design/run";
import { distance, type Vec3 } from "../../src/geometry/vector";
import { buildHeadForm, completeMeasurements } from "../../src/head";
import { errorInMake, stand } from "./rig";

/**
 * What an author says holds on every head. Heads: rows of ANSUR II (Gordon et al. 2014, NATICK/TR-15/007): the first
 * two, the smallest and the largest girth of its 4,046 published heads' range, rounded; mm.
 */
const heads = [
  { girth: 583, length: 206, breadth: 150, crownHeight: 140 },
  { girth: 568, length: 201, breadth: 146, crownHeight: 120 },
  { girth: 502, length: 172, breadth: 136, crownHeight: 116 },
  { girth: 635, length: 219, breadth: 166, crownHeight: 138 },
].map((measured) =>
  buildHeadForm(completeMeasurements(measured).measurements).grown({ offset: 1.3, hairThickness: 3 }),
);

/** What `look` finds inside a `make`, on each head. */
const onEach = <T>(look: (given: Make<Record<never, never>>) => T): T[] =>
  heads.map((head) => {
    let found: T | undefined;
    const design = headpiece({
      name: "Test",
      make: (given) => {
        found = look(given);
        return stand();
      },
    });
    runDesign(design, { head: head.toData(), values: {} });
    return found as T;
  });

/** Length of a line over the surface at one elevation or one azimuth, in strides of a twentieth of a degree, mm. */
function walked(
  index: number,
  place: (degree: number) => { azimuth: number; elevation: number },
  to: number,
) {
  const steps = Math.max(1, Math.round(Math.abs(to) * 20));
  let sum = 0;
  let before: Vec3 = heads[index].pointAt(place(0));
  for (let i = 1; i <= steps; i++) {
    const point = heads[index].pointAt(place((to * i) / steps));
    sum += distance(before, point);
    before = point;
  }
  return sum;
}

describe("on every head", () => {
  test("an angle stays an angle, an arc stays a length", () => {
    const places = onEach(({ head }) => ({
      angles: head.coordinatesOf(onHead({ azimuth: 70, elevation: 35, lift: 4 })),
      arcs: head.coordinatesOf(onHead({ azimuth: arc(-60), elevation: arc(45) })),
    }));
    places.forEach(({ angles, arcs }, i) => {
      expect(angles.lift).toBeCloseTo(4, 1);
      expect(walked(i, (degree) => ({ azimuth: degree, elevation: 0 }), arcs.azimuth)).toBeCloseTo(60, 1);
      expect(
        walked(i, (degree) => ({ azimuth: arcs.azimuth, elevation: degree }), arcs.elevation),
      ).toBeCloseTo(45, 1);
    });
    const azimuths = places.map(({ arcs }) => arcs.azimuth);
    expect(new Set(azimuths.map((azimuth) => azimuth.toFixed(1))).size).toBeGreaterThan(2);
  });

  test("an arc round the whole girth comes back to the brow, and one more goes on", () => {
    const girths = heads.map((head) => head.perimeterAt(0, 3600));
    const found = onEach(({ head }) => {
      const girth =
        girths[heads.findIndex(({ measurements }) => measurements.girth === head.measurements.girth)];
      const [whole, more, fifty, brow] = [girth, girth + 50, 50, 0].map((length) =>
        onHead({ azimuth: arc(length), elevation: 0 }),
      );
      return [whole.distanceTo(brow), more.distanceTo(fifty)];
    });
    for (const distances of found) for (const off of distances) expect(off).toBeLessThan(0.05);
  });

  test("tubes keep their diameter, and grow with the head where it is said", () => {
    const design = headpiece({
      name: "Test",
      make: ({ head }) => {
        const path = [onHead({ azimuth: 0, elevation: 10 }), onHead({ azimuth: 0, elevation: 50, lift: 60 })];
        return [tube("kept", path, { radius: 5 }), tube("sized", path, { radius: head.sized(5) })];
      },
    });
    for (const head of heads) {
      const { parts } = runDesign(design, { head: head.toData(), values: {} });
      const [kept, sized] = parts.map((part) =>
        part.kind === "tube" ? Math.max(...part.shape.radius.radii) : 0,
      );
      expect(kept).toBe(5);
      expect(sized).toBeCloseTo((5 * head.measurements.girth) / 568, 9);
    }
  });

  test("spacing keeps its count, or its pitch", () => {
    const spaced = onEach(({ head }) => ({
      counted: head.around(12, (azimuth) => azimuth),
      pitched: head.around({ pitch: 30 }, (azimuth) => azimuth),
      front: head.around({ pitch: 20 }, (azimuth) => azimuth, { from: -60, to: 60 }),
      girth: head.girthLine.length,
      along: head.girthLine.spreadEvery(30).length,
    }));
    spaced.forEach(({ counted, pitched, front, girth, along }, i) => {
      expect(counted).toEqual(Array.from({ length: 12 }, (_, k) => 30 * k));
      expect(pitched).toHaveLength(Math.round(girth / 30));
      expect(along).toBe(pitched.length);
      const gaps = pitched
        .slice(1)
        .map((azimuth, k) =>
          walked(i, (degree) => ({ azimuth: pitched[k] + degree, elevation: 0 }), azimuth - pitched[k]),
        );
      for (const gap of gaps) expect(gap).toBeCloseTo(girth / pitched.length, 1);
      expect(front[0]).toBeCloseTo(-60, 9);
      expect(front.at(-1)).toBeCloseTo(60, 9);
    });
    expect(new Set(spaced.map(({ pitched }) => pitched.length)).size).toBeGreaterThan(1);
  });

  test("a pitch that is none is refused by its name", () => {
    expect(errorInMake(({ head }) => head.around({ pitch: 0 }, () => 0)).text).toContain(
      "pitch of around is 0",
    );
    expect(errorInMake(({ head }) => head.around({ pich: 4 } as never, () => 0)).suggestion).toContain(
      "pitch",
    );
    expect(errorInMake(() => onHead({ azimuth: arc(Number.NaN), elevation: 0 })).text).toContain(
      "length of an arc",
    );
  });
});
