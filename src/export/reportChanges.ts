import type { Report } from "./report";

/** One thing that differs between two reports. */
export interface ReportChange {
  /** Where it stands in the report, for example "massPrintedG", "wear.verdict", "plan.hours.estimate". */
  readonly key: string;
  /** What it is called, for example "printed mass". */
  readonly label: string;
  readonly before?: string | number | boolean;
  readonly after?: string | number | boolean;
  /** "g", "mm", "h" …; empty for what has none. */
  readonly unit: string;
  /** For example "printed mass 412 g instead of 389 g (+6 %)". */
  readonly sentence: string;
}

/** What differs between two reports on a piece, the most telling first; nothing for the same piece. */
export function reportChanges(_before: Report, _after: Report): readonly ReportChange[] {
  return [];
}

/** The changes as one sentence, the most telling ones named and the rest counted; "nothing that is measured changed". */
export function changesSentence(_changes: readonly ReportChange[], _most = 4): string {
  return "nothing that is measured changed";
}
