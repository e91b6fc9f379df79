import type { ParameterValue } from "../../design/part";
import type { Message, Place } from "../../message";
import type { SectionPlane } from "../pieceView";
import type { PlanOrientation, PreviewCommand } from "../protocol";
import type { ActionId } from "./actions";
import { makeBuildStrip, makeProgressBar } from "./buildStrip";
import { makeComparisonBar } from "./comparisonBar";
import { makeComparisonSection } from "./comparisonSection";
import { make } from "./dom";
import { makeFactsList } from "./factsList";
import { makeFailureCard } from "./failureCard";
import { makeFieldLegend } from "./fieldLegend";
import { makeFindingsList } from "./findingsList";
import { makeHelpDialog } from "./helpDialog";
import { makeHoverCard } from "./hoverCard";
import type { Foldable } from "./keptState";
import { makeLayerBar } from "./layerBar";
import { makeNotice } from "./notice";
import { makeOverhangLegend } from "./overhangLegend";
import { makeParametersForm } from "./parametersForm";
import { makePartsList } from "./partsList";
import { makePieceHeader } from "./pieceHeader";
import { makePlanSection } from "./planSection";
import { makeSash } from "./sash";
import { makeSectionBar } from "./sectionBar";
import { makePlaceholder, makeSheetView } from "./sheetView";
import { makeCautions, makeFoldable } from "./sidePanel";
import { makeToolbar } from "./toolbar";
import { makeWayBar } from "./wayBar";
import { makeWearSection } from "./wearSection";

/** What a person does with the controls. */
export interface LayoutEvents {
  perform(id: ActionId): void;
  ask(command: PreviewCommand): void;
  goTo(place: Place): void;
  pointPart(part: number): void;
  openPart(part: number): void;
  pointFinding(finding: Message | undefined): void;
  setParameter(name: string, value: ParameterValue): void;
  setSection(section: SectionPlane): void;
  setSideWidth(width: number): void;
  fold(name: Foldable): void;
  showCautions(): void;
  playWay(): void;
  toggleWay(): void;
  scrubWay(share: number): void;
  closeWay(): void;
  /** Printed up to a height over the plate, mm; undefined: all of it. */
  setPrinted(height: number | undefined): void;
  useOrientation(orientation: PlanOrientation["orientation"]): void;
  /** Which of two pieces is seen, 0 the old one to 1 that of now. */
  setComparisonShare(share: number): void;
  /** Comes near to a place of the piece, mm. */
  lookAt(place: readonly [number, number, number]): void;
}

export type Layout = ReturnType<typeof makeLayout>;

/** Makes all controls and puts them into the page. */
export function makeLayout(root: HTMLElement, events: LayoutEvents) {
  const toolbar = makeToolbar(events.perform);
  const progress = makeProgressBar();
  const sectionBar = makeSectionBar(events.setSection);
  const wayBar = makeWayBar({ toggle: events.toggleWay, scrub: events.scrubWay, close: events.closeWay });
  const layerBar = makeLayerBar(events.setPrinted);
  const comparisonBar = makeComparisonBar({ move: events.setComparisonShare, perform: events.perform });
  const legend = makeFieldLegend();
  const overhangLegend = makeOverhangLegend();
  const failure = makeFailureCard(events.goTo);
  const hoverCard = makeHoverCard();
  const placeholder = makePlaceholder();
  const sheet = makeSheetView();
  const notice = makeNotice(events.ask);
  const help = makeHelpDialog();
  const header = makePieceHeader(events.perform);
  const parameters = makeParametersForm({
    change: events.setParameter,
    write: () => events.perform("writeValues"),
    reset: () => events.perform("resetValues"),
  });
  const facts = makeFactsList();
  const wear = makeWearSection((deed) => {
    if (deed === "wayOn") events.playWay();
    else events.perform(deed);
  });
  const comparison = makeComparisonSection({
    lookAt: events.lookAt,
    goTo: events.goTo,
    pointPart: events.pointPart,
    openPart: events.openPart,
    perform: events.perform,
  });
  const plan = makePlanSection({ use: events.useOrientation, goTo: events.goTo });
  const findings = makeFindingsList({ goTo: events.goTo, point: events.pointFinding });
  const parts = makePartsList({ point: events.pointPart, open: events.openPart });
  const cautions = makeCautions();
  const sash = makeSash(events.setSideWidth);
  const strip = makeBuildStrip(events);

  const words = make("p", { id: "picture-words", class: "visually-hidden" });
  // What the picture shows is said by the words; the keys work while it has the focus.
  const picture = make("div", {
    id: "picture",
    class: "picture",
    attributes: {
      role: "application",
      tabindex: 0,
      "aria-label": "Picture of the piece",
      "aria-roledescription": "picture in three dimensions",
      "aria-describedby": "picture-words",
    },
  });
  const outdated = make("p", {
    id: "outdated",
    class: "outdated",
    text: "Out of date: the last good build",
    attributes: { hidden: true },
  });
  const trouble = make("p", { id: "trouble", class: "trouble", attributes: { role: "alert", hidden: true } });

  const sections = {
    parameters: makeFoldable("parameters", "Parameters", parameters.element, events.fold),
    facts: makeFoldable("facts", "Piece", facts.element, events.fold),
    wear: makeFoldable("wear", "Fit and wear", wear.element, events.fold),
    plan: makeFoldable("plan", "Print", plan.element, events.fold),
    comparison: makeFoldable("comparison", "Compared", comparison.element, events.fold),
    findings: makeFoldable("findings", "Findings", findings.element, events.fold),
    parts: makeFoldable("parts", "Parts", parts.element, events.fold),
  } satisfies Record<Foldable, unknown>;

  const main = make(
    "main",
    { class: "picture-area", attributes: { "aria-label": "Picture" } },
    progress.element,
    picture,
    sheet.element,
    placeholder.element,
    make(
      "div",
      { class: "over-picture" },
      sectionBar.element,
      wayBar.element,
      layerBar.element,
      comparisonBar.element,
      trouble,
      outdated,
      failure.element,
    ),
    legend.element,
    overhangLegend.element,
    hoverCard.element,
    notice.element,
    words,
  );
  const side = make(
    "aside",
    { id: "side", class: "side", attributes: { "aria-label": "Details" } },
    sash.element,
    make(
      "div",
      { class: "side-scroll" },
      header.element,
      sections.comparison.element,
      sections.wear.element,
      sections.plan.element,
      sections.facts.element,
      sections.parameters.element,
      sections.findings.element,
      cautions.element,
      sections.parts.element,
    ),
  );
  const body = make("div", { class: "preview-body" }, main, side);
  root.replaceChildren(
    make("header", { class: "preview-head" }, toolbar.element),
    body,
    strip.element,
    help.element,
  );

  return {
    root,
    picture,
    words,
    side,
    outdated,
    trouble,
    toolbar,
    progress,
    sectionBar,
    wayBar,
    layerBar,
    comparisonBar,
    legend,
    overhangLegend,
    failure,
    hoverCard,
    placeholder,
    sheet,
    notice,
    help,
    header,
    parameters,
    facts,
    wear,
    plan,
    comparison,
    findings,
    parts,
    cautions,
    sash,
    strip,
    sections,
  };
}
