import type { CautionInput } from "../../checks/cautions";
import type { Report } from "../../export/report";
import { plateSentence } from "../../export/reportSentences";
import { wearLines } from "../../export/wearSentences";
import type { Message } from "../../message";
import type { PrintPlan } from "../../print/plan";
import type { PlannedPiece } from "../finishedFiles";
import { nameOfDesign } from "../outputs";
import { cautionInputOf } from "../reporting";
import type { RefitRow } from "./refitRow";
import { nameOfWearer } from "./rowPlaces";

/** So many of a piece's tips are kept, the sharpest. */
const mostTips = 4;

/** What a row says of a piece: all but where it came from and what was written. */
export type PieceFigures = Omit<RefitRow, "design" | "wearer" | "messages" | "files" | "inputs" | "kept">;

/** The figures of a piece whose print was planned as far as its hours, or as far as its pieces where it is to be cut. */
export function figuresOf(piece: PlannedPiece): PieceFigures {
  const { report, plan, weighed } = piece;
  const { wear } = report;
  if (!wear || !report.plan) throw new Error("a row is of a piece that was worn and planned");
  const { hours, metres, grams } = report.plan;
  const girthPlay = wear.gap?.girthPlayMm;
  const pieces = piecesThatFit(plan);
  const way = wearLines({ wayOn: wear.wayOn, findings: wear.findings }).find(
    ({ check }) => check === "wayOn",
  );
  return {
    headpiece: report.headpiece,
    wearerName: report.wearer,
    verdict: wear.verdict,
    passes: wear.verdict !== "dont" && (plan.chosen.fits || pieces !== undefined),
    reasons: wear.reasons,
    fits: !wear.findings.some(({ check, severity }) => check === "gap" && severity === "error"),
    ...(way && wear.wayOn && { wayOn: { passes: wear.wayOn.passes, summary: way.value } }),
    ...(girthPlay !== undefined && { girthPlay }),
    girthEase: report.girthEaseMm,
    mass: report.massPrintedG,
    box: report.boxMm,
    plate: {
      printer: weighed.job.printer.name,
      fits: plan.chosen.fits,
      summary: plateSummary(report, plan, pieces),
      ...(pieces !== undefined && { pieces }),
    },
    hours,
    filament: { metres, grams, material: report.material.name },
    ...(wear.sureness && { chance: wear.sureness.chance }),
    cautioned: cautionedOf(piece),
  };
}

/** What the cautions depend on, told as briefly as they need it. */
function cautionedOf({ finished, weighed, wear }: PlannedPiece): CautionInput {
  const { material, mass, aboveCrown, tips = [], child } = cautionInputOf(finished, weighed, wear);
  const { name, softening } = material;
  const sharp = tips.map(({ part, radius }) => ({ part, radius })).sort((a, b) => a.radius - b.radius);
  return { material: { name, softening }, mass, aboveCrown, tips: sharp.slice(0, mostTips), child };
}

/** A row that came to no piece. */
export const failedRow = (
  design: string,
  wearer: string,
  names: { readonly headpiece?: string; readonly wearer?: string },
  messages: readonly Message[],
  inputs: readonly string[],
): RefitRow => ({
  design,
  wearer,
  headpiece: names.headpiece ?? nameOfDesign(design),
  wearerName: names.wearer ?? nameOfWearer(wearer),
  verdict: "failed",
  passes: false,
  reasons: [],
  messages,
  files: [],
  inputs,
  kept: false,
});

/** Into how many pieces it was cut that all fit the plate. */
function piecesThatFit({ pieces }: PrintPlan): number | undefined {
  const cut = pieces?.pieces ?? [];
  return cut.length > 1 && cut.every(({ fits }) => fits) ? cut.length : undefined;
}

function plateSummary({ plates: [plate] }: Report, { chosen }: PrintPlan, pieces?: number): string {
  if (pieces !== undefined) return `fits in ${pieces} pieces`;
  if (plate.fits && !chosen.fits) {
    return `too large by ${Math.round(-10 * chosen.room) / 10} mm the way up that is chosen; ${plateSentence(plate)}`;
  }
  return plateSentence(plate);
}
