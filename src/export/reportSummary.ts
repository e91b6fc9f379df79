import { type VerdictWord, verdictTitles } from "../checks/verdict";
import { hoursAndMinutes } from "./durations";

/** What a summary is made of, as the report has it. */
export interface SummaryInput {
  readonly headpiece: string;
  readonly wearer: string;
  readonly massPrintedG: number;
  readonly boxMm: { readonly width: number; readonly depth: number; readonly height: number };
  readonly verdict?: VerdictWord;
  readonly hours?: number;
}

/**
 * A piece in one sentence: "Tide ring for Marin: adjust first; 54.2 g printed in 4 h 10 min; 190 × 220 × 80 mm wide,
 * deep, high."
 */
export function reportSummary({
  headpiece,
  wearer,
  massPrintedG,
  boxMm,
  verdict,
  hours,
}: SummaryInput): string {
  const clauses = [
    verdict && verdictTitles[verdict].toLowerCase(),
    `${massPrintedG} g printed${hours === undefined ? "" : ` in ${hoursAndMinutes(3600 * hours)}`}`,
    `${boxMm.width} × ${boxMm.depth} × ${boxMm.height} mm wide, deep, high`,
  ].filter((clause) => clause !== undefined);
  return `${headpiece} for ${wearer}: ${clauses.join("; ")}.`;
}
