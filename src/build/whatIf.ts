import { placedPiece } from "../print/placedPiece";
import type { PrintPlan } from "../print/plan";
import { defaultSupportCell } from "../print/support/findSupport";
import { printEstimator } from "../print/whatIf/estimate";
import { meetWish } from "../print/whatIf/meetWish";
import { orientationCandidates } from "../print/whatIf/orientationCandidates";
import type { OrientationCandidate, PrintEvaluator, Variant } from "../print/whatIf/variant";
import { type WhatIfTable, whatIf } from "../print/whatIf/whatIf";
import type { Wish } from "../print/whatIf/wish";
import type { WishAnswer } from "../print/whatIf/wishAnswer";
import type { Weighed } from "./weighing";

/** Ways of printing a planned piece, to be compared. */
export class PrintVariants {
  readonly #candidates: readonly OrientationCandidate[];
  readonly #base: Variant;
  readonly #evaluator: PrintEvaluator;
  readonly #nozzle: number;
  readonly #currency: string | undefined;

  constructor(plan: PrintPlan, { job }: Pick<Weighed, "job">) {
    // One name is enough in a table.
    const found = (plan.search?.found ?? []).map((one) => ({ ...one, names: one.names.slice(0, 1) }));
    const { orientation, fits } = plan.chosen;
    const { candidates, chosen } = orientationCandidates(found, { orientation, fits });
    this.#candidates = candidates;
    this.#base = { settings: plan.setup.settings, orientation: chosen };
    this.#nozzle = job.printer.nozzle;
    this.#currency = job.material.currency;
    this.#evaluator = printEstimator({
      placedOf: (index) => placedPiece(job.mesh, this.#candidates[index].orientation, job.printer.plate),
      printer: job.printer,
      material: job.material,
      weakest: job.weakest,
      // As finely as the plan itself, so that the row as set up says what the plan says.
      cell: defaultSupportCell,
      sampleEvery: 1,
    });
  }

  /** What other settings and other ways up would take. */
  table(signal: AbortSignal, onTable?: (table: WhatIfTable) => void): Promise<WhatIfTable> {
    return whatIf(this.#base, this.#candidates, this.#evaluator, {
      nozzle: this.#nozzle,
      signal,
      ...(onTable && { onTable }),
    });
  }

  /** The cheapest change that meets a wish, or what comes nearest. */
  meet(wish: Wish, signal: AbortSignal): Promise<WishAnswer> {
    return meetWish(wish, this.#base, this.#candidates, this.#evaluator, {
      nozzle: this.#nozzle,
      signal,
      ...(this.#currency !== undefined && { currency: this.#currency }),
    });
  }
}
