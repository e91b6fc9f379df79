import { headRadii, type RadiiGrid } from "./headRadii";
import type { Measurements } from "./measurements";
import { hairShare } from "./regions";
import { DRAWN_FIELDS, type DrawnField } from "./surveyedHeads";

/** Half as dense as that of head forms: straight lines between its radii miss a cranium by a few hundredths of a mm. */
const grid: RadiiGrid = { columns: 61, rows: 73, sectionSamples: 361 };
/** A measure that varies less than this is taken as fixed, mm. */
const leastSpread = 0.05;
/** The forms that a family is made from lie so many standard deviations off its middle: fewer where none is so odd. */
const reaches = [1.5, 0.75, 0.3];
/** What changes the whole head; the ears change the ears alone, in proportion. */
const shaping: readonly DrawnField[] = ["girth", "length", "breadth", "crownHeight"];

/** One term of the polynomial: a product of deviations from the middle, each in units of its reach. */
interface Term {
  readonly factors: readonly number[];
  /** What it adds to each value. */
  readonly adds: Float32Array;
}

/** A head of a family: radii about its centre. Written over by the next head that is asked for. */
export interface FamilyHead {
  readonly centreY: number;
  readonly centreZ: number;
  /** Row by row from the lowest, mm. */
  readonly radii: Float32Array;
}

/**
 * Heads that differ little, as a polynomial of second degree in their measures: of each radius of the head form and of
 * its centre (a response surface: Box & Wilson 1951, *On the Experimental Attainment of Optimum Conditions*, Journal of
 * the Royal Statistical Society B 13). A head of it costs a hundredth of a head form.
 */
export class HeadFamily {
  readonly columns = grid.columns;
  readonly rows: number;
  /** Elevation of the lowest row, rad, and between two rows. */
  readonly lowest: number;
  readonly step = Math.PI / (grid.rows - 1);
  /** Share of the hair at each place of the grid. */
  readonly hair: Float32Array;
  readonly #fields: readonly DrawnField[];
  readonly #middle: readonly number[];
  readonly #reach: readonly number[];
  readonly #base: Float32Array;
  readonly #terms: readonly Term[];
  readonly #values: Float32Array;
  readonly #head: { centreY: number; centreZ: number; readonly radii: Float32Array };

  /**
   * @param middle complete, mm
   * @param spread standard deviations of the measures that vary, mm
   * @param from elevations between which radii are kept, degrees
   */
  constructor(
    middle: Measurements,
    spread: Readonly<Partial<Record<DrawnField, number>>>,
    from: number,
    to: number,
  ) {
    const first = Math.max(0, Math.floor(((from + 90) / 180) * (grid.rows - 1)));
    const last = Math.min(grid.rows - 1, Math.ceil(((to + 90) / 180) * (grid.rows - 1)));
    this.rows = last - first + 1;
    this.lowest = first * this.step - Math.PI / 2;
    this.hair = new Float32Array(this.rows * grid.columns);
    for (let j = 0; j < this.rows; j++) {
      for (let i = 0; i < grid.columns; i++) {
        const elevation = (180 * (j + first)) / (grid.rows - 1) - 90;
        this.hair[j * grid.columns + i] = hairShare((180 * i) / (grid.columns - 1), elevation);
      }
    }
    this.#fields = DRAWN_FIELDS.filter((field) => (spread[field] ?? 0) > leastSpread);
    this.#middle = this.#fields.map((field) => middle[field] ?? 0);
    const valuesOf = (measures: Measurements): Float32Array => {
      const { center, radii } = headRadii(measures, grid);
      const values = new Float32Array(2 + this.rows * grid.columns);
      values[0] = center[1];
      values[1] = center[2];
      values.set(radii.subarray(first * grid.columns, (last + 1) * grid.columns), 2);
      return values;
    };
    this.#base = valuesOf(middle);
    const madeWith = (reach: number) => {
      const steps = this.#fields.map((field) => reach * (spread[field] ?? 0));
      const valuesAt = (moved: readonly number[]): Float32Array => {
        const measures: Partial<Record<DrawnField, number>> = {};
        this.#fields.forEach((field, k) => {
          measures[field] = this.#middle[k] + moved[k] * steps[k];
        });
        return valuesOf({ ...middle, ...measures });
      };
      return { steps, terms: termsOf(this.#fields, this.#base, valuesAt) };
    };
    const { steps, terms } = firstThatIsMade(reaches, madeWith);
    this.#reach = steps;
    this.#terms = terms;
    this.#values = new Float32Array(this.#base.length);
    this.#head = { centreY: 0, centreZ: 0, radii: this.#values.subarray(2) };
  }

  /** The head with these measures: what varies of them. Written over by the next. */
  head(measure: (field: DrawnField) => number): FamilyHead {
    const steps = this.#fields.map((field, k) => (measure(field) - this.#middle[k]) / this.#reach[k]);
    const values = this.#values;
    values.set(this.#base);
    for (const { factors, adds } of this.#terms) {
      let by = 1;
      for (const factor of factors) by *= steps[factor];
      for (let k = 0; k < values.length; k++) values[k] += by * adds[k];
    }
    this.#head.centreY = values[0];
    this.#head.centreZ = values[1];
    return this.#head;
  }
}

/** What is made of the first value with which there is a head. @throws RangeError where there is none with the last */
function firstThatIsMade<T>(values: readonly number[], make: (value: number) => T): T {
  const [value, ...others] = values;
  try {
    return make(value);
  } catch (error) {
    if (!(error instanceof RangeError) || others.length === 0) throw error;
    return firstThatIsMade(others, make);
  }
}

/** First and second differences about the middle; those of the ears straight and on their own. */
function termsOf(
  fields: readonly DrawnField[],
  base: Float32Array,
  valuesAt: (steps: readonly number[]) => Float32Array,
): Term[] {
  const at = (...moved: readonly (readonly [number, number])[]): Float32Array => {
    const steps = fields.map(() => 0);
    for (const [k, by] of moved) steps[k] = by;
    return valuesAt(steps);
  };
  const terms: Term[] = [];
  const up: Float32Array[] = [];
  const down: Float32Array[] = [];
  fields.forEach((field, k) => {
    up.push(at([k, 1]));
    down.push(at([k, -1]));
    terms.push({ factors: [k], adds: base.map((_, n) => (up[k][n] - down[k][n]) / 2) });
    if (!shaping.includes(field)) return;
    terms.push({ factors: [k, k], adds: base.map((own, n) => (up[k][n] + down[k][n]) / 2 - own) });
  });
  fields.forEach((one, k) => {
    fields.forEach((other, l) => {
      if (l <= k || !shaping.includes(one) || !shaping.includes(other)) return;
      // The mean of two corners, so that what is uneven cancels.
      const high = at([k, 1], [l, 1]);
      const low = at([k, -1], [l, -1]);
      const adds = base.map(
        (own, n) => (high[n] + low[n] - up[k][n] - up[l][n] - down[k][n] - down[l][n]) / 2 + own,
      );
      terms.push({ factors: [k, l], adds });
    });
  });
  return terms;
}
