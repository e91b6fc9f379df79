/** One thing that differs between two reports. */
export interface ReportChange {
  /** Where it stands in the report, for example "massPrintedG", "wear.verdict", "plan.hours". */
  readonly key: string;
  /** What it is called, for example "printed mass". */
  readonly label: string;
  readonly before?: string | number | boolean;
  readonly after?: string | number | boolean;
  /** "g", "mm", "h" …; empty for what has none. */
  readonly unit: string;
  /** For example "printed mass 412 g instead of 389 g (+6 %)". */
  readonly sentence: string;
  /** The same as a clause of a longer sentence, where it can be said shorter: "heavier by 23 g (389 → 412 g)". */
  readonly short?: string;
}

/** A change of something that is named or told in words. */
export const wordChange = (
  key: string,
  label: string,
  before: string | number | boolean | undefined,
  after: string | number | boolean | undefined,
  sentence: string,
  short?: string,
): ReportChange => ({
  key,
  label,
  ...(before !== undefined && { before }),
  ...(after !== undefined && { after }),
  unit: "",
  sentence,
  ...(short !== undefined && { short }),
});

/** Names as a sentence has them; the first of many. */
export function named(names: readonly string[], most = 4): string {
  const shown = names.slice(0, names.length > most ? most - 1 : most);
  return shown.length < names.length
    ? `${shown.join(", ")} and ${names.length - shown.length} more`
    : shown.join(", ");
}
