import type { RefitRow } from "../../build/refit/refitRow";
import type { RowState } from "../../pages/refitTable/protocol";

/** A design and the wearers that it is fitted to, its own first. Absolute paths. */
export interface DesignPlan {
  readonly design: string;
  readonly wearers: readonly string[];
}

/** A row as it stands: `row` is what was found last, absent where it was never made. */
export interface StandingRow {
  readonly key: string;
  readonly design: string;
  readonly wearer: string;
  readonly state: RowState;
  readonly row?: RefitRow;
}

export const rowKey = (design: string, wearer: string): string => `${design}\n${wearer}`;

/** What is known of rows, also of those that are not shown now: their last values, and whether they still hold. */
export class KnownRows {
  readonly #known = new Map<string, { readonly row: RefitRow; readonly isOutdated: boolean }>();
  /** Wearers of a design's rows, in the order that the last run gave them. */
  readonly #order = new Map<string, readonly string[]>();

  /** The rows of a design, in their order. */
  of({ design, wearers }: DesignPlan): StandingRow[] {
    const order = this.#order.get(design) ?? wearers;
    return order.map((wearer) => {
      const key = rowKey(design, wearer);
      const known = this.#known.get(key);
      const state: RowState = !known ? "waiting" : known.isOutdated ? "outdated" : "current";
      return { key, design, wearer, state, ...(known && { row: known.row }) };
    });
  }

  isKnown(design: string, wearer: string): boolean {
    return this.#known.has(rowKey(design, wearer));
  }

  /** Takes a row that was made. Tells whether anything in it is other than before. */
  take(row: RefitRow): boolean {
    const key = rowKey(row.design, row.wearer);
    const known = this.#known.get(key);
    this.#known.set(key, { row, isOutdated: false });
    return !known || known.isOutdated || !isAlike(known.row, row);
  }

  /** The order of a design's rows, as a run gave it; undefined: that of its plan. */
  setOrder(design: string, wearers: readonly string[] | undefined): void {
    if (wearers) this.#order.set(design, wearers);
    else this.#order.delete(design);
  }

  /** Marks rows as out of date. @returns their designs */
  outdate(isConcerned: (row: RefitRow) => boolean): Set<string> {
    const designs = new Set<string>();
    for (const [key, { row }] of this.#known) {
      if (!isConcerned(row)) continue;
      designs.add(row.design);
      this.#known.set(key, { row, isOutdated: true });
    }
    return designs;
  }
}

/** Whether two rows say the same; whether one was kept is no news. */
const isAlike = (a: RefitRow, b: RefitRow): boolean =>
  JSON.stringify({ ...a, kept: false }) === JSON.stringify({ ...b, kept: false });
