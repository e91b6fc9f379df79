import type { Kernel } from "../geometry/solid/kernel";
import { planPieces } from "./cuts/planPieces";
import { filledPlate } from "./fillPlate";
import { finishing } from "./finishing";
import { layerSections } from "./layers/layerSections";
import type { PrintTotals } from "./layers/printTotals";
import { orientationFindings } from "./orientation/orientationFindings";
import type { FoundOrientation, OrientationSearch } from "./orientation/orientationSearch";
import { searchOrientations } from "./orientation/searchOrientations";
import { upOf } from "./placedPiece";
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
  const weakest = job.weakest(upOf(chosen.orientation), setup.settings);
  const first = printPlate(placed, standing.sections, job);
  const finish = ({ support, props }: PlatePrint) =>
    finishing({
      surface: job.area,
      contactArea: support.contactArea + (props?.neckArea ?? 0),
      landingArea: support.landingArea + (props?.landingArea ?? 0),
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
    ...(weakest && { weakest }),
    ...(standing.search && { search: standing.search }),
    finishing: finish(first),
    findings: [
      ...supportFindings(first.support, placed, job.parts),
      ...spoolFindings(first.totals, material, job.origin),
    ],
    hoursScale: scaleOf(standing.search),
    isWhole: false,
  };
  yield plan;

  const search = standing.search ?? searchFor(job);
  plan = { ...plan, search, hoursScale: scaleOf(search) };
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
      const plates = pieces.plates.map((plate) => {
        const filled = filledPlate(plate, pieces.pieces);
        return printPlate(filled, layerSections(filled, setup.settings), job);
      });
      plan = { ...plan, plates, totals: sumOf(plates, material.spool) };
    }
    yield plan;
  }

  const isCut = (plan.pieces?.pieces.length ?? 1) > 1;
  const isAtRisk = proposals !== "none" && first.support.columns.some(({ risk }) => risk !== undefined);
  if (!isCut && (job.props.length > 0 || isAtRisk)) {
    const asked = job.props.length > 0 ? printWithProps(kernel, first, job, job.props, false) : first;
    const proposed = isAtRisk ? printWithProps(kernel, first, job, job.props, true) : undefined;
    const printed = proposals === "printed" && proposed ? proposed : asked;
    plan = {
      ...plan,
      plates: [printed],
      totals: printed.totals,
      finishing: finish(printed),
      ...(proposed && { proposed }),
    };
  }
  yield { ...plan, findings: findingsOf(plan, job), isWhole: true };
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

/** The totals of several plates; each is begun with what is left of a spool. */
function sumOf(plates: readonly PlatePrint[], spool: number): PrintTotals {
  const sum = (of: (totals: PrintTotals) => number) =>
    plates.reduce((total, { totals }) => total + of(totals), 0);
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
  const [plate] = plan.plates;
  const isCut = plan.plates.length > 1;
  return [
    ...(plan.search
      ? orientationFindings(plan.search, { ...plan.chosen, choice: plan.choice }, job.origin)
      : []),
    ...(plan.pieces?.findings ?? []),
    ...(isCut ? [] : supportFindings(plate.support, plate.placed, job.parts)),
    // What is proposed and printed needs no proposal.
    ...(isCut
      ? []
      : (plate.props?.findings ?? []).filter(({ id }) => plan.proposed !== plate || id !== "props-proposed")),
    ...(isCut || plan.proposed === plate ? [] : (plan.proposed?.props?.findings ?? [])),
    ...plan.plates.flatMap(({ totals }) => spoolFindings(totals, job.material, job.origin)),
  ];
}
