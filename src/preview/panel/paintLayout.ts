import type { Message } from "../../message";
import type { BuildStateMessage } from "../protocol";
import { setAttribute, setText } from "./dom";
import type { KeptState } from "./keptState";
import type { Layout } from "./layout";
import type { ParameterState } from "./parameterValues";
import type { Walked } from "./performAction";
import type { ShownState } from "./shownState";
import { textEquivalent } from "./textEquivalent";

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
}

/**
 * The model that is shown is older than the text. Not while a build goes on: the strip says that, and the picture
 * does not fade and clear with every save.
 */
export const isModelOld = (shown: ShownState): boolean =>
  shown.build?.isOutdated === true && shown.build.phase !== "building" && hasModel(shown);

/** There is something to look at: the model, or its drawing sheet. */
const hasModel = ({ picture, sheet }: ShownState): boolean => (picture ?? sheet) !== undefined;

/** Brings every control in step with the state; each touches the page only where it changed. */
export function paintLayout(layout: Layout, state: PanelState): void {
  paintFrame(layout, state);
  paintPicture(layout, state);
  paintSide(layout, state);
}

function paintFrame(layout: Layout, { shown, kept, hasView }: PanelState): void {
  const { design, build, notice } = shown;
  const { dataset } = layout.root;
  dataset.phase = build?.phase ?? "idle";
  dataset.side = kept.isSideOpen && notice === undefined ? "open" : "closed";
  dataset.shows = notice !== undefined ? "notice" : hasView ? "picture" : "sheet";
  layout.root.style.setProperty("--side-width", `${kept.sideWidth}px`);
  layout.sash.update(kept.sideWidth);
  layout.toolbar.update({
    settings: kept.settings,
    isLocked: design?.isLocked === true,
    isSideOpen: kept.isSideOpen,
    hasPicture: hasView && notice === undefined,
  });
  layout.strip.update(notice === undefined ? build : undefined, design?.cautions ?? []);
}

function paintPicture(layout: Layout, { shown, kept, hasView }: PanelState): void {
  const { design, build, notice, picture, sheet, headVersion } = shown;
  const hasPicture = hasView && notice === undefined;
  const words = textEquivalent(design, build);
  layout.progress.update(build);
  layout.sectionBar.update(hasPicture ? kept.settings.section : undefined);
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

function paintSide(layout: Layout, { shown, kept, parameters, findings, walked }: PanelState): void {
  const { design, build, cursor } = shown;
  const { sections } = layout;
  const facts = design?.facts ?? [];
  const parts = design?.parts ?? [];
  layout.header.update(design);
  layout.facts.update(facts);
  layout.parameters.update(parameters);
  layout.findings.update(findings, walked.finding);
  layout.cautions.update(design?.cautions ?? []);
  layout.parts.update(parts, walked.part >= 0 ? walked.part : cursor);
  sections.facts.element.hidden = facts.length === 0;
  sections.parameters.element.hidden = parameters.declarations.length === 0;
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
