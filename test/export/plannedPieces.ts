import { standingOf } from "../../src/build/standing";
import { massProperties } from "../../src/checks/massProperties";
import type { Material } from "../../src/checks/material";
import type { Printer } from "../../src/checks/printer";
import type { Part } from "../../src/design/part";
import { loadKernel } from "../../src/geometry/solid/kernel";
import { defaultOrientationWeights } from "../../src/orientation";
import type { PrintJob, PrintPlan } from "../../src/print/plan";
import { type PlanOptions, planPrint } from "../../src/print/planPrint";
import { defaultPrintSettings } from "../../src/printSettings";
import { antlers, tubePart, united } from "../print/cuts/bodies";
import { pla, printer } from "../print/layers/bodies";

/** Planned pieces that the tests of reports share. */

export const kernel = await loadKernel();

const at = (line: number) => ({ file: "/shore/tide.headpiece.ts", line, column: 5 });

/** A mast with a thin yard that hangs 83 mm over the plate: a thin wall of support. */
export const mastParts: readonly Part[] = [
  {
    ...tubePart(
      "mast",
      [
        [0, 0, 0],
        [0, 0, 90],
      ],
      8,
    ),
    origin: at(4),
  },
  {
    ...tubePart(
      "yard",
      [
        [0, 0, 85],
        [60, 0, 85],
      ],
      1.5,
    ),
    origin: at(7),
  },
];

/** A spool of few grams, so that it ends on the way; both prices known. */
export const smallSpool: Material = { ...pla, spool: 10, pricePerKilogram: 22, currency: "€" };
export const pricedPrinter: Printer = { ...printer, pricePerHour: 0.5 };

export async function jobOf(parts: readonly Part[], changes: Partial<PrintJob> = {}): Promise<PrintJob> {
  const mesh = await united(kernel, parts);
  return {
    mesh,
    area: massProperties(mesh).area,
    parts,
    props: [],
    printer: pricedPrinter,
    material: smallSpool,
    setup: {
      name: "the design's own",
      settings: defaultPrintSettings,
      orientation: "as designed",
      weights: defaultOrientationWeights,
    },
    asDesigned: { tilt: 0, towards: 0, turn: 0 },
    // Stronger where the yard lies in the layers.
    weakest: (up) => ({ part: "yard", factor: 1.2345 + Math.abs(up[2]) }),
    origin: at(2),
    ...changes,
  };
}

/** Every step of a plan. */
export const stepsOf = (job: PrintJob, options?: PlanOptions): PrintPlan[] => [
  ...planPrint(kernel, job, standingOf(job), options),
];

export async function planned(
  parts: readonly Part[],
  changes?: Partial<PrintJob>,
  options?: PlanOptions,
): Promise<{ job: PrintJob; plan: PrintPlan }> {
  const job = await jobOf(parts, changes);
  return { job, plan: stepsOf(job, options).at(-1)! };
}

export { antlers };
