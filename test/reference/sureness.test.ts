import { beforeAll, describe, expect, it } from "vitest";
import { completeMeasurements } from "../../src/head/completeMeasurements";
import type { HeadsModel } from "../../src/head/headsModel";
import { LEAST_ADULT_GIRTH, SURVEY } from "../../src/head/population";
import { DRAWN_FIELDS, type DrawnField, someHeads, surveyedHeads } from "../../src/head/surveyedHeads";
import {
  type Case,
  calibrationBins,
  calibrationCases,
  fittedModel,
  isHeldOut,
  situations,
} from "../bench/calibration";

/**
 * The source of all: ANSUR II (Gordon et al. 2014, *2012 Anthropometric Survey of U.S. Army Personnel: Methods and
 * Summary Statistics*, NATICK/TR-15/007). The model is fitted to three quarters of the heads and judged on the others.
 */
const heads = surveyedHeads();
const seed = 20_128;

let model: HeadsModel;
beforeAll(() => {
  model = fittedModel(heads);
});

const columnOf = (field: DrawnField): number[] =>
  Array.from(
    { length: heads.count },
    (_, k) => heads.values[k * DRAWN_FIELDS.length + DRAWN_FIELDS.indexOf(field)],
  );

describe("the surveyed heads", () => {
  it("are those whose means, deviations and extremes population.ts states", () => {
    expect(heads.count).toBe(4046);
    expect(heads.isWoman.reduce((sum, one) => sum + one, 0)).toBe(1324);
    for (const { field, mean, deviation, quantiles } of SURVEY) {
      const drawn = DRAWN_FIELDS.find((one) => one === field);
      if (!drawn) continue;
      const values = columnOf(drawn);
      const own = values.reduce((sum, value) => sum + value, 0) / values.length;
      const squares = values.reduce((sum, value) => sum + (value - own) ** 2, 0);
      expect(own, field).toBeCloseTo(mean, 1);
      expect(Math.sqrt(squares / (values.length - 1)), field).toBeCloseTo(deviation, 2);
      expect(
        values.reduce((a, b) => Math.min(a, b)),
        field,
      ).toBe(quantiles[0]);
      expect(
        values.reduce((a, b) => Math.max(a, b)),
        field,
      ).toBe(quantiles.at(-1));
    }
  });
});

describe(`drawn heads, seed ${seed}`, () => {
  it("hold a head's own measure as often below each share of the draws as the share says", () => {
    const draws = 100;
    for (const taken of [["girth"], ["girth", "length"], ["girth", "length", "breadth"]] as const) {
      const below: Partial<Record<DrawnField, number[]>> = {};
      for (let head = 3; head < heads.count; head += 4) {
        const measure = (field: DrawnField): number =>
          heads.values[head * DRAWN_FIELDS.length + DRAWN_FIELDS.indexOf(field)];
        const given = Object.fromEntries(taken.map((field) => [field, measure(field)]));
        const { measurements, estimated } = completeMeasurements({ girth: given.girth, ...given });
        const drawn = model.draw({ measurements, estimated }, draws, seed + head);
        DRAWN_FIELDS.forEach((field, k) => {
          if ((taken as readonly string[]).includes(field)) return;
          let lower = 0;
          for (let i = 0; i < draws; i++) {
            const value = drawn.values[i * DRAWN_FIELDS.length + k];
            lower += value < measure(field) ? 1 / draws : 0;
          }
          below[field] ??= [];
          below[field].push(lower);
        });
      }
      for (const [field, shares] of Object.entries(below)) {
        for (const share of [0.1, 0.25, 0.5, 0.75, 0.9]) {
          const found = shares.filter((own) => own < share).length / shares.length;
          // Three standard errors of a share of 1,011 heads, and half a mm that the survey rounds to.
          expect(Math.abs(found - share), `${field} given ${taken.join(", ")}`).toBeLessThan(0.06);
        }
      }
    }
  });

  it("keep exact measures, spread those with a tolerance, and scale a child's head down from an adult's", () => {
    const { measurements, estimated } = completeMeasurements({ girth: 470, length: 160 });
    const scale = 470 / LEAST_ADULT_GIRTH;
    const exact = model.draw({ measurements, estimated }, 200, seed);
    const loose = model.draw({ measurements, estimated, measuringErrors: { length: 4 } }, 200, seed);
    const column = (drawn: typeof exact, field: DrawnField): number[] =>
      Array.from(
        { length: 200 },
        (_, k) => drawn.values[k * DRAWN_FIELDS.length + DRAWN_FIELDS.indexOf(field)],
      );
    const deviation = (values: readonly number[]): number => {
      const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
      return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length);
    };
    for (const value of column(exact, "girth")) expect(value).toBeCloseTo(470, 6);
    for (const value of column(exact, "length")) expect(value).toBeCloseTo(160, 6);
    expect(deviation(column(loose, "length"))).toBeGreaterThan(1.5);
    expect(deviation(column(loose, "length"))).toBeLessThan(4);
    expect(deviation(column(exact, "crownHeight"))).toBeGreaterThan(4 * scale);
    expect(model.draw({ measurements, estimated }, 200, seed)).toEqual(exact);
  });
});

describe(`stated chances against held-out heads, seed ${seed}`, () => {
  let cases: Case[];
  beforeAll(() => {
    let kept = 0;
    const held = someHeads(heads, (head) => isHeldOut(head) && kept++ % 6 === 0);
    cases = calibrationCases(held, model, 120, seed);
  }, 300_000);

  /** Off by no more than some share and three standard errors of that many heads. */
  const expectCalibrated = (some: readonly Case[], edges: readonly number[], slack: number, what: string) => {
    for (const { from, to, stated, fits, count } of calibrationBins(some, edges)) {
      const error = Math.sqrt(Math.max(0.02, stated * (1 - stated)) / count);
      expect(Math.abs(fits - stated), `${what}: said ${from} to ${to}, ${count} heads`).toBeLessThan(
        slack + 3 * error,
      );
    }
  };

  it("spread wide, and are met in every bin", () => {
    const edges = [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1];
    expect(calibrationBins(cases, edges)).toHaveLength(10);
    expectCalibrated(cases, edges, 0, "all");
  });

  it.each(situations.map(({ name }) => name))("are met with %s known", (name) => {
    const own = cases.filter(({ situation }) => situation === name);
    expectCalibrated(own, [0, 0.25, 0.5, 0.75, 1], 0, name);
  });

  it("are met on the whole: the mean chance is the share that fits", () => {
    const stated = cases.reduce((sum, { chance }) => sum + chance, 0) / cases.length;
    const fits = cases.filter((one) => one.fits).length / cases.length;
    expect(Math.abs(stated - fits)).toBeLessThan(0.04);
  });

  it("of pieces said about 80 % sure, 80 % fit, to 4 % and what so few heads leave open", () => {
    expectCalibrated(cases, [0.7, 0.9], 0.04, "80 %");
  });
});
