import type { Kernel } from "../geometry/solid/kernel";
import type { Orientation } from "../orientation";
import { planPieces } from "./cuts/planPieces";
import { filledPlate } from "./fillPlate";
import { finishing } from "./finishing";
import { layerTotals } from "./layers/filament";
import { layerSections } from "./layers/layerSections";
import type { PrintTotals } from "./layers/printTotals";
import type { ChosenOrientation } from "./orientation/chosenOrientation";
import { type CloserFigures, closerLook } from "./orientation/closerLook";
import { orientationFindings } from "./orientation/orientationFindings";
import type { FoundOrientation, OrientationSearch } from "./orientation/orientationSearch";
import { sameUp } from "./orientation/orientationWords";
import { searchOrientations } from "./orientation/searchOrientations";
import { placedPiece, upOf } from "./placedPiece";
import type { PlatePrint, PrintJob, PrintPlan, StandingPiece } from "./plan";
import type { PlanFinding } from "./planFinding";
import { printPlate, printWithProps } from "./printPlate";
import { spoolFindings } from "./spoolFindings";
import { findSupport } from "./support/findSupport";
import { supportFindings } from "./support/supportFindings";

export interface PlanOptions {
  /**
   * Whether props are proposed for thin columns of support, which takes some seconds: not at all, told with what the
   * print then takes, or printed too; told unless given. Those of the design are printed in any case.
   */
  readonly proposals?: "none" | "told" | "printed";
}

/**
 * Plans how a piece is printed, step by step: each step gives the plan as far as it is known, the first the hours and
 * grams of the piece as it is to stand; then the other ways up; then cuts, where it is too large; then props. Between two
 * steps it can be left.
 */
export function* planPrint(
  kernel: Kernel,
  job: PrintJob,
  standing: StandingPiece,
  { proposals = "told" }: PlanOptions = {},
): Generator<PrintPlan, void, void> {
  const { setup, material } = job;
  const { choice, chosen, placed } = standing;
  const first = printPlate(placed, standing.sections, job);
  const finish = (...plates: readonly PlatePrint[]) =>
    finishing({
      surface: job.area,
      contactArea: summed(plates, ({ support, props }) => support.contactArea + (props?.neckArea ?? 0)),
      landingArea: summed(plates, ({ support, props }) => support.landingArea + (props?.landingArea ?? 0)),
      settings: setup.settings,
    });
  const scaleOf = (search?: OrientationSearch) => {
    const quick = search && chosenOf(search, choice)?.figures.hours;
    return quick ? first.totals.hours / quick : 1;
  };
  let plan: PrintPlan = {
    setup,
    choice,
    chosen,
    plates: [first],
    totals: first.totals,
    ...(standing.search && { search: standing.search }),
    finishing: finish(first),
    findings: [
      ...supportFindings(first.support, placed, job.parts),
      ...spoolFindings([first], material, job.origin),
    ],
    hoursScale: scaleOf(standing.search),
    isWhole: false,
  };
  yield plan;

  // Strength takes a walk over all arms: the first answer does not wait for it.
  const weakest = job.weakest(upOf(chosen.orientation), setup.settings);
  const search = standing.search ?? searchFor(job);
  plan = { ...plan, ...(weakest && { weakest }), search, hoursScale: scaleOf(search) };
  yield plan;

  plan = { ...plan, search: closerLook(search, (way) => figuresOf(way, first, chosen, job)), hoursScale: 1 };
  yield plan;

  if (!chosen.fits) {
    const pieces = planPieces(kernel, {
      mesh: job.mesh,
      parts: job.parts,
      printer: job.printer,
      settings: setup.settings,
    });
    plan = { ...plan, pieces };
    if (pieces.pieces.length > 1) {
      const plates = inTurn(
        pieces.plates.map((plate) => {
          const filled = filledPlate(plate, pieces.pieces);
          return printPlate(filled, layerSections(filled, setup.settings), job);
        }),
        job,
      );
      // Each piece has a way up of its own, so that the weakest arm of the whole says nothing.
      const { weakest: _, ...whole } = plan;
      plan = { ...whole, plates, totals: sumOf(plates, material.spool), finishing: finish(...plates) };
    }
    yield plan;
  }

  const { plates } = plan;
  // A place on the whole is none on its pieces: what the design asks for is for the piece as one.
  const asks = isCut(plan) ? [] : job.props;
  const isProposed = proposals !== "none" && plates.some(isAtRisk);
  if (asks.length > 0 || isProposed) {
    const withProps = (propose: boolean) =>
      inTurn(
        plates.map((plate) =>
          asks.length > 0 || (propose && isAtRisk(plate))
            ? printWithProps(kernel, plate, job, asks, propose)
            : plate,
        ),
        job,
      );
    const asked = withProps(false);
    const proposed = isProposed ? withProps(true) : undefined;
    const printed = proposals === "printed" && proposed ? proposed : asked;
    plan = {
      ...plan,
      plates: printed,
      totals: sumOf(printed, material.spool),
      finishing: finish(...printed),
      ...(printed.some(({ props }) => props?.mesh) && { withoutProps: plates }),
      ...(proposed && { proposed }),
    };
  }
  yield { ...plan, findings: findingsOf(plan, job), isWhole: true };
}

const isCut = ({ pieces }: PrintPlan): boolean => (pieces?.pieces.length ?? 1) > 1;
const isAtRisk = ({ support }: PlatePrint): boolean => support.columns.some(({ risk }) => risk !== undefined);

/** Figures of a way up as its plan has them; those of the chosen one are at hand. */
function figuresOf(
  way: Orientation,
  first: PlatePrint,
  chosen: ChosenOrientation,
  job: PrintJob,
): CloserFigures {
  const isChosen = sameUp(way, chosen.orientation) && Math.abs(way.turn - chosen.orientation.turn) < 0.01;
  const plate = isChosen ? first : roughPlate(way, job);
  const { columns, volume, contactArea, landingArea } = plate.support;
  return {
    hours: plate.totals.hours,
    supportVolume: volume,
    contactArea: contactArea + landingArea,
    thinColumns: columns.filter(({ risk }) => risk !== undefined).length,
  };
}

/** A way up as it would be printed, its layers looked at a little less closely. */
function roughPlate(way: Orientation, job: PrintJob): PlatePrint {
  const placed = placedPiece(job.mesh, way, job.printer.plate);
  return printPlate(placed, layerSections(placed, job.setup.settings, { sampleEvery: 3 }), job);
}

/** What a search says of the way up that was chosen. */
const chosenOf = (search: OrientationSearch, choice: PrintPlan["choice"]): FoundOrientation | undefined =>
  choice === "best" ? search.best : choice === "as designed" ? search.asDesigned : search.given;

/** Looks for other ways up. */
export function searchFor({ mesh, printer, setup, weakest, asDesigned }: PrintJob) {
  const { settings, weights } = setup;
  return searchOrientations({
    mesh,
    printer,
    settings,
    weights,
    asDesigned,
    ...(typeof setup.orientation === "object" && { given: setup.orientation }),
    support: (placed, cell) => findSupport(placed, settings, { cell }),
    weakest: (up) => weakest(up, settings)?.factor,
  });
}

const summed = (plates: readonly PlatePrint[], of: (plate: PlatePrint) => number): number =>
  plates.reduce((total, plate) => total + of(plate), 0);

/** Plates as they are printed one after the other, from the same spools. */
function inTurn(plates: readonly PlatePrint[], { material, printer }: PrintJob): readonly PlatePrint[] {
  if (plates.length === 1) return plates;
  let before = 0;
  return plates.map((plate) => {
    const { spoolEnds } = layerTotals(plate.layers, material, printer, before);
    before += plate.totals.grams;
    return { ...plate, totals: { ...plate.totals, spoolEnds } };
  });
}

/** The totals of plates; each is begun with what is left of a spool. */
function sumOf(plates: readonly PlatePrint[], spool: number): PrintTotals {
  if (plates.length === 1) return plates[0].totals;
  const sum = (of: (totals: PrintTotals) => number) => summed(plates, ({ totals }) => of(totals));
  const grams = sum((totals) => totals.grams);
  const isPriced = plates.some(({ totals }) => totals.price !== undefined);
  return {
    grams,
    metres: sum((totals) => totals.metres),
    pieceGrams: sum((totals) => totals.pieceGrams),
    hours: sum((totals) => totals.hours),
    ...(isPriced && { price: sum((totals) => totals.price ?? 0) }),
    spools: Math.ceil(grams / spool - 1e-9),
  };
}

function findingsOf(plan: PrintPlan, job: PrintJob): PlanFinding[] {
  const { plates, proposed, search } = plan;
  const onPlates = plates.flatMap((plate, i) => [
    ...supportFindings(plate.support, plate.placed, job.parts),
    // What is proposed and printed needs no proposal.
    ...(plate.props?.findings ?? []).filter(({ id }) => proposed?.[i] !== plate || id !== "props-proposed"),
    ...(proposed && proposed[i] !== plate ? (proposed[i].props?.findings ?? []) : []),
  ]);
  return [
    ...(search ? orientationFindings(search, { ...plan.chosen, choice: plan.choice }, job.origin) : []),
    ...(plan.pieces?.findings ?? []),
    // On a plate of pieces a place is none of the head's frame.
    ...(isCut(plan) ? onPlates.map(({ at: _, ...finding }) => finding) : onPlates),
    ...spoolFindings(plates, job.material, job.origin),
  ];
}
