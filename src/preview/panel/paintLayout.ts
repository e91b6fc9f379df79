import type { Message } from "../../message";
import type { BuildStateMessage } from "../protocol";
import { comparisonState, comparisonText } from "./comparisonState";
import { setAttribute, setText } from "./dom";
import type { KeptState } from "./keptState";
import { layersOf } from "./layers";
import type { Layout } from "./layout";
import { isModelOld } from "./modelAge";
import type { ParameterState } from "./parameterValues";
import type { Walked } from "./performAction";
import { isOnPlate, planState } from "./planState";
import type { ShownState } from "./shownState";
import { planText, sentences, textEquivalent } from "./textEquivalent";
import type { WayShown } from "./wayPlayer";
import { wearOfPicture, wearState } from "./wearState";
import { verdictText } from "./wearWords";

/** All that the controls show. */
export interface PanelState {
  readonly shown: ShownState;
  readonly kept: KeptState;
  readonly parameters: ParameterState;
  /** In reading order. */
  readonly findings: readonly Message[];
  readonly walked: Walked;
  /** The window can draw the picture. */
  readonly hasView: boolean;
  /** The picture has the values of its gaps. */
  readonly hasField: boolean;
  readonly way: WayShown;
  /** The way moves by its slider alone. */
  readonly isStill: boolean;
}

/** Brings every control in step with the state; each touches the page only where it changed. */
export function paintLayout(layout: Layout, state: PanelState): void {
  paintFrame(layout, state);
  paintPicture(layout, state);
  paintSide(layout, state);
}

function paintFrame(layout: Layout, state: PanelState): void {
  const { shown, kept, hasView } = state;
  const { design, build, notice } = shown;
  const { dataset } = layout.root;
  dataset.phase = build?.phase ?? "idle";
  dataset.side = kept.isSideOpen && notice === undefined ? "open" : "closed";
  dataset.stage = isOnPlate(shown, kept.settings) ? "plate" : "head";
  dataset.shows = notice !== undefined ? "notice" : hasView ? "picture" : "sheet";
  layout.root.style.setProperty("--side-width", `${kept.sideWidth}px`);
  layout.sash.update(kept.sideWidth);
  layout.toolbar.update({
    settings: kept.settings,
    isLocked: design?.isLocked === true,
    isSideOpen: kept.isSideOpen,
    hasPicture: hasView && notice === undefined,
    ...showable(state),
    isWayOpen: state.way.isOpen,
    hasPlate: hasView && (shown.plan !== undefined || shown.plateVersion !== undefined),
    hasPlan: hasView && shown.plan !== undefined,
    isOnPlate: hasView && isOnPlate(shown, kept.settings),
  });
  layout.strip.update(notice === undefined ? build : undefined, design?.cautions ?? []);
}

/** What the checks of fit and wear found that can be shown in the picture now. */
function showable({ shown, hasView, hasField }: PanelState) {
  const scene = hasView ? wearOfPicture(shown) : undefined;
  return {
    hasField,
    hasBalance: scene?.balance !== undefined || (scene?.contacts ?? []).length > 0,
    hasWay: scene?.wayOff !== undefined,
  };
}

function paintPicture(layout: Layout, state: PanelState): void {
  const { shown, kept, hasView, hasField } = state;
  const { design, build, notice, picture, sheet, headVersion } = shown;
  const hasPicture = hasView && notice === undefined;
  const verdict = wearState(shown).isOld ? "" : verdictText(wearState(shown).verdict);
  const plan = planState(shown);
  const compared = comparisonState(shown);
  const words = sentences(textEquivalent(design, build), verdict, planText(plan), comparisonText(compared));
  const onPlate = hasPicture && isOnPlate(shown, kept.settings);
  layout.progress.update(build);
  layout.sectionBar.update(hasPicture && !onPlate ? kept.settings.section : undefined);
  layout.wayBar.update(state.way, wearOfPicture(shown)?.wayOff?.words ?? "", state.isStill);
  const layers = onPlate ? shown.plan?.scene.layers : undefined;
  layout.layerBar.update(layers && layersOf(layers), kept.settings.printedHeight, plan.isOld);
  layout.comparisonBar.update(
    hasPicture && !onPlate && picture !== undefined ? compared : undefined,
    kept.settings,
  );
  layout.overhangLegend.update(
    onPlate && kept.settings.isOverhangShown ? shown.plan?.scene.overhangAngle : undefined,
  );
  layout.legend.update(
    hasPicture && !onPlate && kept.settings.isFieldShown && picture !== undefined
      ? { field: shown.field, isThere: hasField }
      : undefined,
  );
  layout.failure.update(notice === undefined ? build : undefined);
  layout.notice.update(notice);
  layout.sheet.element.hidden = hasView || notice !== undefined;
  layout.sheet.update(sheet?.svg, words);
  layout.placeholder.update(
    hasPicture && picture === undefined ? placeholderText(build) : undefined,
    headVersion !== undefined,
  );
  layout.picture.hidden = !hasPicture;
  layout.outdated.hidden = notice !== undefined || !isModelOld(shown);
  setText(layout.words, words);
  const label = `Picture of ${design?.headpiece ?? "the piece"}. Press ? for its keys.`;
  setAttribute(layout.picture, "aria-label", label);
}

function paintSide(layout: Layout, state: PanelState): void {
  const { shown, kept, parameters, findings, walked, way } = state;
  const { design, build, cursor } = shown;
  const { sections } = layout;
  const facts = design?.facts ?? [];
  const parts = design?.parts ?? [];
  layout.header.update(design);
  layout.facts.update(facts);
  layout.parameters.update(parameters);
  const plan = planState(shown);
  layout.plan.update(plan);
  sections.plan.element.hidden = plan.scene === undefined;
  const compared = comparisonState(shown);
  layout.comparison.update(compared, state.hasView, parts);
  sections.comparison.element.hidden = compared === undefined;
  const onPlate = isOnPlate(shown, kept.settings);
  const wear = wearState(shown);
  const can = showable(state);
  layout.wear.update(wear, {
    ...(can.hasField && { field: !onPlate && kept.settings.isFieldShown }),
    ...(can.hasBalance && { balance: !onPlate && kept.settings.isBalanceShown }),
    ...(can.hasWay && { wayOn: way.isOpen }),
  });
  layout.findings.update(findings, walked.finding);
  layout.cautions.update(design?.cautions ?? []);
  layout.parts.update(parts, walked.part >= 0 ? walked.part : cursor);
  sections.facts.element.hidden = facts.length === 0;
  sections.parameters.element.hidden = parameters.declarations.length === 0;
  sections.wear.element.hidden = !wear.isKnown;
  sections.findings.element.hidden = build === undefined;
  sections.findings.setBadge(findings.length > 0 ? String(findings.length) : "");
  sections.parts.setBadge(parts.length > 0 ? String(parts.length) : "");
  for (const [name, section] of Object.entries(sections)) {
    section.setFolded((kept.folded as readonly string[]).includes(name));
  }
}

function placeholderText(build: BuildStateMessage | undefined): string {
  switch (build?.phase) {
    case "building":
      return "The first picture is on its way.";
    case "failed":
      return "The piece appears here once it builds.";
    default:
      return "The piece appears here once it is built.";
  }
}
