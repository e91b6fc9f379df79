import type { FieldSummary } from "../fieldScale";
import type { VerdictWord, WearRow, WearScene } from "../protocol";
import type { IconName } from "./icons";
import { counted, plainNumber } from "./numbers";

/** A verdict for the eye: its word, its sign, and what it means. It promises nothing. */
export const verdicts: Readonly<
  Record<VerdictWord, { readonly title: string; readonly icon: IconName; readonly text: string }>
> = {
  wear: { title: "Wear", icon: "check", text: "Nothing that was checked speaks against wearing it." },
  adjust: { title: "Adjust first", icon: "warning", text: "It can be worn once this is changed." },
  dont: { title: "Don't wear", icon: "error", text: "As it is, it is not to be worn." },
};

/** The tone of a row by more than its colour. */
export const tones: Readonly<Record<WearRow["tone"], { readonly word: string; readonly icon: IconName }>> = {
  good: { word: "Good", icon: "check" },
  note: { word: "Note", icon: "note" },
  warning: { word: "Warning", icon: "warning" },
  bad: { word: "Bad", icon: "error" },
};

/** Reasons that are seen at once; the others unfold. */
export const firstReasons = 3;

/** The verdict as it is spoken; empty while there is none. */
export function verdictText(verdict: WearScene["verdict"]): string {
  if (verdict === undefined) return "";
  const { word, reasons } = verdict;
  const told = reasons.slice(0, firstReasons).map((reason) => reason.replace(/\.$/, ""));
  const more = reasons.length - told.length;
  if (more > 0) told.push(`and ${counted(more, "more reason")}`);
  return `Fit and wear: ${verdicts[word].title.toLowerCase()}${told.length === 0 ? "" : `: ${told.join("; ")}`}.`;
}

/** A gap where the pointer is: "gap 3.2 mm", "enters by 1.4 mm". */
export const gapText = (mm: number): string =>
  mm < -0.005 ? `enters by ${plainNumber(-mm, 2)} mm` : `gap ${plainNumber(mm, mm < 9.95 ? 1 : 0)} mm`;

/** A field in words: "Gap to the head: least −1.2 mm, median 2.4 mm, greatest 61 mm". */
export function fieldText(title: string, summary: FieldSummary | undefined): string {
  if (summary === undefined) return `${title}: no point of the piece faces the head.`;
  const { least, median, most } = summary;
  const mm = (value: number) => `${plainNumber(value)} mm`;
  return `${title} at the points of the piece: least ${mm(least)}, median ${mm(median)}, greatest ${mm(most)}.`;
}

/** Where the piece is on its way, as the slider says it. `share`: 0 to 1. */
export const wayText = (share: number): string =>
  share <= 0
    ? "off the head"
    : share >= 1
      ? "on the head"
      : `${Math.round(100 * share)} percent of the way on`;
