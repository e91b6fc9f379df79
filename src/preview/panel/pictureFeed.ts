import type { Message } from "../../message";
import type { FindingMark, PieceView, ViewSettings } from "../pieceView";
import type { PlanScene, ToPreview, WearScene } from "../protocol";
import { comparisonMark, comparisonState } from "./comparisonState";
import { isOnPlate, planOfPicture } from "./planState";
import type { ShownState } from "./shownState";
import { marksOf, withoutMarked } from "./walk";
import { wearOfPicture } from "./wearState";

/** Brings the picture what came, what was found on the piece that it shows, and how that is printed. */
export class PictureFeed {
  readonly #view: PieceView;
  readonly #closeWay: () => void;
  /** What the view was told of fit and wear, as text: told again only where it is other. */
  #toldWear = "";
  #toldMarks = "";
  #toldPlan: PlanScene | undefined;

  /** @param closeWay called before the picture gets another piece, or another way on */
  constructor(view: PieceView, closeWay: () => void) {
    this.#view = view;
    this.#closeWay = closeWay;
  }

  /** Takes what a message brings for the picture. */
  take(before: ShownState, after: ShownState, message: ToPreview): void {
    const view = this.#view;
    if (before.picture !== undefined && after.picture === undefined && message.kind === "design") {
      view.showDraft({ kind: "draft", version: message.version, parts: [] });
    }
    this.#takeComparison(before, after, message);
    switch (message.kind) {
      case "design":
        view.setParts(message.parts);
        break;
      case "draft":
        this.#closeWay();
        view.showDraft(message);
        break;
      case "solid":
        this.#closeWay();
        view.showSolid(message);
        break;
      case "head":
        view.showHead(message.mesh);
        break;
      case "plate":
        view.showPlate(message.plate);
        break;
      case "field":
        view.showField(message);
        break;
      case "planBody":
        view.showPlanBody(message);
        break;
    }
  }

  /** Progress is told often and each check tells all again: only what is other goes to the view. */
  tell(shown: ShownState, settings: ViewSettings, findings: readonly Message[]): void {
    const { wayOff, contacts, balance, marks = [] } = wearOfPicture(shown) ?? {};
    const wear = JSON.stringify([wayOff, contacts, balance]);
    if (wear !== this.#toldWear) {
      const before = JSON.parse(this.#toldWear || "[]");
      this.#toldWear = wear;
      if (JSON.stringify(wayOff) !== JSON.stringify(before[0] ?? undefined)) {
        this.#closeWay();
        this.#view.setWay(wayOff);
      }
      this.#view.setBalance({ contacts, balance });
    }
    this.#tellPlan(shown.plan?.scene);
    this.#tellMarks(marksIn(shown, settings, findings, marks));
  }

  /** The picture shows the piece beside the old one as long as that is of the design and the commit that are shown. */
  #takeComparison(before: ShownState, after: ShownState, message: ToPreview): void {
    if (message.kind === "comparison") this.#view.showComparison(message);
    else if (before.comparison && !after.comparison) this.#view.showComparison(undefined);
    else if (after.comparing === before.comparing) return;
    this.#view.setComparisonOutdated(comparisonState(after)?.isOutdated === true);
  }

  #tellPlan(plan: PlanScene | undefined): void {
    if (plan === this.#toldPlan) return;
    this.#toldPlan = plan;
    this.#view.showPlan(plan);
  }

  #tellMarks(marks: readonly FindingMark[]): void {
    const told = JSON.stringify(marks);
    if (told === this.#toldMarks) return;
    this.#toldMarks = told;
    this.#view.setMarks(marks);
  }
}

/** On the plate what the plan found is marked, on the head what the checks of fit and wear found. */
function marksIn(
  shown: ShownState,
  settings: ViewSettings,
  findings: readonly Message[],
  ofWear: WearScene["marks"],
): FindingMark[] {
  const onPlate = isOnPlate(shown, settings);
  const parts = shown.design?.parts ?? [];
  const ofPlan = planOfPicture(shown)?.marks ?? [];
  const [own, others] = onPlate ? [ofPlan, ofWear] : [ofWear, ofPlan];
  const compared = onPlate || !settings.areDifferencesShown ? undefined : shown.comparison;
  return [...marksOf(withoutMarked(findings, others), own, parts), ...comparisonMark(compared)];
}
