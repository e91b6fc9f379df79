import { make } from "./dom";
import { makeSightPlot } from "./sightPlot";
import { makeVerdictCard } from "./verdictCard";
import type { DeedStates, RowDeed } from "./wearRows";
import { makeWearRows } from "./wearRows";
import type { WearState } from "./wearState";

/** What the rows can show in the picture; absent: there is nothing to show. */
export type WearDeeds = Omit<DeedStates, "sight">;

/** Fit and wear: the verdict, the questions with their answers, the plot of what is seen. */
export function makeWearSection(perform: (deed: Exclude<RowDeed, "sight">) => void): {
  readonly element: HTMLElement;
  update(wear: WearState, deeds: WearDeeds): void;
} {
  const card = makeVerdictCard();
  const plot = makeSightPlot();
  let last: { readonly wear: WearState; readonly deeds: WearDeeds } | undefined;
  const rows = makeWearRows((deed) => {
    if (deed !== "sight") perform(deed);
    else {
      plot.toggle();
      paint();
    }
  });
  const checking = make("p", { class: "wear-checking", text: "Checking…" });
  const element = make("div", { id: "wear" }, card.element, rows.element, plot.element, checking);
  const paint = () => {
    if (last === undefined) return;
    const { wear, deeds } = last;
    card.update(wear.verdict, wear.isOld);
    rows.update(wear.rows, { ...deeds, ...(wear.sightPlot !== undefined && { sight: plot.isOpen }) });
    plot.update(
      wear.sightPlot,
      wear.rows.some((row) => row.check === "sight" && row.isOld),
    );
    checking.hidden = !wear.isChecking;
  };
  return {
    element,
    update(wear, deeds) {
      last = { wear, deeds };
      paint();
    },
  };
}
