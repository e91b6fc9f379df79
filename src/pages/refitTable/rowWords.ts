import type { RowFigures, RowState, RowVerdict, RunPhase, TableMessage } from "./protocol";
import type { SignName } from "./signs";

/** What stands in the cells, in words. */

/** A verdict for the eye and the ear: its word and its sign. It promises nothing. */
export const verdicts: Readonly<
  Record<RowVerdict, { readonly word: string; readonly sign: SignName; readonly rank: number }>
> = {
  wear: { word: "Wear", sign: "check", rank: 0 },
  adjust: { word: "Adjust first", sign: "warning", rank: 1 },
  dont: { word: "Don't wear", sign: "stop", rank: 2 },
  failed: { word: "Failed", sign: "cross", rank: 3 },
};

/** A number as people read it: at most `digits` decimals, no trailing zeros, a true minus sign. */
function plainNumber(value: number, digits: number): string {
  const scale = 10 ** digits;
  const rounded = Math.round(value * scale) / scale;
  return String(Object.is(rounded, -0) ? 0 : rounded).replace("-", "−");
}

export const girthText = (mm: number | undefined): string | undefined =>
  mm === undefined ? undefined : `${plainNumber(mm, 1)} mm`;

/** A chance is never told as certain. */
export function chanceText(chance: number | undefined): string | undefined {
  if (chance === undefined) return undefined;
  const percent = Math.round(100 * chance);
  if (percent >= 100) return "over 99 %";
  return percent < 1 ? "under 1 %" : `${percent} %`;
}

/** Tenths below 20 g, whole grams from there on. */
export const massText = (grams: number | undefined): string | undefined =>
  grams === undefined ? undefined : `${plainNumber(grams, grams < 20 ? 1 : 0)} g`;

/** Width, depth, height, whole mm. */
export const boxText = (box: RowFigures["box"]): string | undefined =>
  box && `${Math.round(box.width)} × ${Math.round(box.depth)} × ${Math.round(box.height)} mm`;

export const plateText = (plate: RowFigures["plate"]): string | undefined =>
  plate && (plate.fits ? "fits" : "does not fit");

/** To the minute below ten hours, to the hour from there on: the estimate is no better. */
export function hoursText(hours: number | undefined): string | undefined {
  if (hours === undefined) return undefined;
  const minutes = Math.round(60 * hours);
  if (minutes >= 600) return `${Math.round(hours)} h`;
  const [whole, rest] = [Math.floor(minutes / 60), minutes % 60];
  if (whole === 0) return `${rest} min`;
  return rest === 0 ? `${whole} h` : `${whole} h ${rest} min`;
}

/** How a row stands, where that needs a word; empty where it is as its files are. */
export function stateWord(state: RowState, phase: RunPhase): string {
  if (state === "current") return "";
  const isRunning = phase === "running";
  if (state === "waiting") return isRunning ? "being made" : "not made yet";
  return isRunning ? "being made again" : "out of date";
}

/** The first reason of a verdict, in the cell; the others unfold. */
export const firstReason = ({ reasons, verdict, messages }: RowFigures): string | undefined =>
  verdict === "failed" ? errorsFirst(messages)[0]?.text : reasons[0];

const severities = { error: 0, warning: 1, note: 2 } as const;

/** Messages with the gravest first. */
export const errorsFirst = (messages: RowFigures["messages"]): RowFigures["messages"] =>
  [...messages].sort((a, b) => severities[a.severity] - severities[b.severity]);

/** "1 row", "3 rows". */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;

/** Where a run is, in a few words. */
export function runText({ run, groups }: Pick<TableMessage, "run" | "groups">): string {
  const rows = groups.flatMap((group) => group.rows);
  const due = rows.filter(({ state }) => state !== "current").length;
  switch (run.phase) {
    case "running":
      return `${run.done} of ${run.all} made`;
    case "paused":
      return due > 0 ? `${counted(due, "row")} to be made` : counted(rows.length, "row");
    case "cancelled":
      return due > 0 ? `Cancelled; ${counted(due, "row")} not made` : "Cancelled";
    case "failed":
      return `Stopped: ${run.trouble ?? "something went wrong"}`;
    case "idle":
      return counted(rows.length, "row");
  }
}

/** How many have which verdict: "4 rows: 2 wear, 1 adjust first, 1 failed". */
export function resultText(figures: readonly Pick<RowFigures, "verdict">[]): string {
  const parts = (Object.keys(verdicts) as RowVerdict[]).flatMap((verdict) => {
    const count = figures.filter((row) => row.verdict === verdict).length;
    return count === 0 ? [] : [`${count} ${verdicts[verdict].word.toLowerCase()}`];
  });
  return parts.length === 0
    ? counted(figures.length, "row")
    : `${counted(figures.length, "row")}: ${parts.join(", ")}`;
}
