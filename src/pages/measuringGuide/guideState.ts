import type { Entries, GuideMessage, GuideStep, VerdictMessage } from "./protocol";
import type { KeptGuide } from "./protocolChecks";

/** How a step stands in the list of steps. */
export type Standing = "open" | "taken" | "once" | "doubtful" | "wrong";

/** What the guide shows: which step, and what was typed. Changes make a new one. */
export interface GuideState {
  readonly guide: GuideMessage;
  readonly at: number;
  readonly unit: string;
  readonly entries: Entries;
}

/** The state to begin with: what was kept of the same wearer, else what the file holds, at the first open step. */
export function beginning(guide: GuideMessage, kept: KeptGuide | undefined): GuideState {
  if (kept?.key === guide.key && guide.units.includes(kept.unit)) {
    const at = Math.min(kept.at, guide.steps.length - 1);
    return { guide, at, unit: kept.unit, entries: { ...guide.entries, ...kept.entries } };
  }
  const open = guide.steps.findIndex(
    (step) => step.stands === undefined && typed(guide.entries, step.measure).length === 0,
  );
  return { guide, at: Math.max(0, open), unit: guide.unit, entries: guide.entries };
}

export const stepOf = ({ guide, at }: GuideState): GuideStep => guide.steps[at];

/** The readings of a measure that are not empty. */
export const typed = (entries: Entries, measure: string): string[] =>
  (entries[measure] ?? []).filter((text) => text.trim() !== "");

/** How many fields a step shows: as many as readings are taken, one more where they differ, and all that are filled. */
export function fieldCount(step: GuideStep, entries: Entries, differ: boolean): number {
  const texts = entries[step.measure] ?? [];
  let last = 0;
  texts.forEach((text, i) => {
    if (text.trim() !== "") last = i + 1;
  });
  if (step.readings === 1) return 1;
  return Math.max(step.readings, last, differ ? 3 : 0);
}

/** The state with one reading typed. */
export function withReading(state: GuideState, measure: string, index: number, text: string): GuideState {
  const texts = [...(state.entries[measure] ?? [])];
  while (texts.length <= index) texts.push("");
  texts[index] = text;
  return { ...state, entries: { ...state.entries, [measure]: texts } };
}

/** The state at another step; beyond the ends it stays. */
export const goTo = (state: GuideState, at: number): GuideState => ({
  ...state,
  at: Math.max(0, Math.min(state.guide.steps.length - 1, at)),
});

/** How a step stands, by what was typed and what was said of it. */
export function standingOf(
  step: GuideStep,
  { entries }: GuideState,
  verdict: VerdictMessage | undefined,
): Standing {
  const count = typed(entries, step.measure).length;
  if (count === 0) return step.stands === undefined ? "open" : "taken";
  const remarks = verdict?.verdicts[step.measure]?.remarks ?? [];
  if (remarks.some(({ severity }) => severity === "error")) return "wrong";
  if (remarks.some(({ severity }) => severity === "warning")) return "doubtful";
  return count < step.readings ? "once" : "taken";
}

/** What is kept over a reload. */
export const keptOf = ({ guide, at, unit, entries }: GuideState): KeptGuide => ({
  key: guide.key,
  at,
  unit,
  entries,
});
