import { describe, expect, it } from "vitest";
import { defaultPrinter } from "../../src/build/printerFile";
import type { PartMesh } from "../../src/geometry/mesh";
import { loadKernel } from "../../src/geometry/solid/kernel";
import { uniteMeshes } from "../../src/geometry/solid/unite";
import { defaultOrientationWeights, type OrientationChoice } from "../../src/orientation";
import { layerSections } from "../../src/print/layers/layerSections";
import { chooseOrientation } from "../../src/print/orientation/chosenOrientation";
import { placedPiece } from "../../src/print/placedPiece";
import type { PrintJob, PrintPlan } from "../../src/print/plan";
import { type PlanOptions, planPrint, searchFor } from "../../src/print/planPrint";
import { defaultPrintSettings, type PrintSettings } from "../../src/printSettings";
import { box, ellipsoid, moved } from "../checks/shapes";
import { pla } from "./layers/bodies";

const kernel = await loadKernel();
const upright = { tilt: 0, towards: 0, turn: 0 };

function jobOf(
  mesh: PartMesh,
  settings: Partial<PrintSettings> = {},
  more: Partial<PrintJob> = {},
): PrintJob {
  return {
    mesh,
    area: 1000,
    parts: [{ kind: "solid", name: "body", mesh }],
    props: [],
    printer: defaultPrinter,
    material: pla,
    setup: {
      name: "test",
      settings: { ...defaultPrintSettings, ...settings },
      orientation: "as designed",
      weights: defaultOrientationWeights,
    },
    asDesigned: upright,
    weakest: () => undefined,
    ...more,
  };
}

function stepsOf(
  job: PrintJob,
  options?: PlanOptions,
  choice: OrientationChoice = "as designed",
): PrintPlan[] {
  const search = choice === "best" ? searchFor(job) : undefined;
  const { mesh, printer, asDesigned, setup } = job;
  const chosen = chooseOrientation(choice, { mesh, printer, asDesigned, search });
  const placed = placedPiece(mesh, chosen.orientation, printer.plate);
  const sections = layerSections(placed, setup.settings);
  return [
    ...planPrint(kernel, job, { choice, chosen, placed, sections, ...(search && { search }) }, options),
  ];
}

const lastOf = (job: PrintJob, options?: PlanOptions, choice?: OrientationChoice): PrintPlan =>
  stepsOf(job, options, choice).at(-1)!;

const partMesh = (mesh: Omit<PartMesh, "partOfTriangle">): PartMesh => ({
  ...mesh,
  partOfTriangle: new Int32Array(mesh.triangles.length / 3),
});
const brick = (size: [number, number, number]) => partMesh(box([0, 0, 0], size));

/** A post with an arm at its top that ends in a ball hanging down: its support is tall and thin. */
const gallows = partMesh(
  uniteMeshes(
    kernel,
    [
      box([-15, -15, 0], [15, 15, 130]),
      box([-5, -5, 120], [60, 5, 130]),
      moved(ellipsoid(4, 4, 4, 12, 24), [56, 0, 119]),
    ],
    "gallows",
  ).mesh,
);

describe("the plan of a print", () => {
  it("tells hours and grams first, then other ways up, and ends", () => {
    const steps = stepsOf(jobOf(brick([40, 30, 20])));
    expect(steps.length).toBeGreaterThanOrEqual(3);
    expect(steps[0].search).toBeUndefined();
    expect(steps[0].totals.hours).toBeGreaterThan(0);
    expect(steps[1].search!.compared).toBeGreaterThanOrEqual(500);
    expect(steps.map(({ isWhole }) => isWhole)).toEqual(steps.map((_, i) => i === steps.length - 1));
    // The hours of the search are on the scale of the plan's for the way up that is chosen.
    const last = steps.at(-1)!;
    expect(last.hoursScale * last.search!.asDesigned.figures.hours).toBeCloseTo(last.totals.hours, 9);
  });

  it("a piece heavier than a spool: where it ends, by hand", () => {
    // Filled solid, so every layer of 0.2 mm weighs 200 · 200 · 0.2 mm³ · 1.24 mg/mm³ = 9.92 g: 1000 g end in the 101st.
    const { findings, totals } = lastOf(jobOf(brick([200, 200, 30]), { infill: 100 }), { proposals: "none" });
    expect(totals.grams).toBeCloseTo(200 * 200 * 30 * 1.24e-3, 0);
    expect(totals.spools).toBe(2);
    const ends = findings.find(({ id }) => id === "spool-ends")!;
    expect(ends.text).toContain("in layer 101, 20.2 mm up");
    expect(ends).toMatchObject({ topic: "filament", severity: "note", unit: "g" });
  });

  it("too large for the plate: pieces, each with room, their prints added up", () => {
    const job = jobOf(brick([400, 40, 30]), {}, { printer: { ...defaultPrinter, height: 200 } });
    const plan = lastOf(job);
    const { pieces } = plan.pieces!;
    expect(pieces.length).toBe(2);
    expect(pieces.every(({ fits }) => fits)).toBe(true);
    const sum = plan.plates.reduce((total, { totals }) => total + totals.hours, 0);
    expect(plan.totals.hours).toBeCloseTo(sum, 9);
    expect(plan.proposed).toBeUndefined();
  });

  it("a thin column of support: named, and gone with the proposed props", () => {
    const told = lastOf(jobOf(gallows));
    expect(told.findings.map(({ id }) => id)).toContain("support-peels");
    expect(told.plates[0].support.columns.some(({ risk }) => risk)).toBe(true);
    const [proposed] = told.proposed!;
    expect(proposed.props!.atRisk).toMatchObject({ after: 0 });
    expect(proposed.support.columns.filter(({ risk }) => risk)).toEqual([]);
    // Hours and grams with and without are both told; what is worn weighs the same.
    expect(proposed.totals.hours).not.toBe(told.totals.hours);
    expect(proposed.totals.pieceGrams).toBe(told.totals.pieceGrams);

    const printed = lastOf(jobOf(gallows), { proposals: "printed" });
    expect(printed.plates[0].props!.mesh).toBeDefined();
    expect(printed.totals.hours).toBeCloseTo(proposed.totals.hours, 9);
    expect(printed.findings.map(({ id }) => id)).not.toContain("support-peels");
    expect(printed.findings.map(({ id }) => id)).not.toContain("props-proposed");
    expect(lastOf(jobOf(gallows), { proposals: "none" }).proposed).toBeUndefined();
  });

  it("the best way up of a flat plate on its edge is lying", () => {
    const plan = lastOf(jobOf(brick([60, 3, 80])), { proposals: "none" }, "best");
    expect(plan.plates[0].placed.size[2]).toBeCloseTo(3, 3);
  });
});
