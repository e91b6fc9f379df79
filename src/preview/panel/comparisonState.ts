import type { Message } from "../../message";
import type { FindingMark } from "../pieceView";
import type { ComparisonScene } from "../protocol";
import type { ShownState } from "./shownState";

/** What is said about a piece beside its version in a commit. */
export interface ComparisonState {
  /** The commit, as a person knows it. */
  readonly revision: string;
  /** Absent while none has come, or where it came to nothing. */
  readonly scene?: ComparisonScene;
  /** What goes on; absent when nothing does. */
  readonly stage?: string;
  /** What is shown is of an older piece. */
  readonly isOutdated: boolean;
  readonly messages: readonly Message[];
}

/** The comparison as it stands; undefined where the piece is shown alone. */
export function comparisonState({ comparing, comparison }: ShownState): ComparisonState | undefined {
  if (comparing === undefined && comparison === undefined) return undefined;
  return {
    revision: comparing?.revision ?? comparison?.scene.revision.hash ?? "",
    ...(comparison && { scene: comparison.scene }),
    ...(comparing?.stage !== undefined && { stage: comparing.stage }),
    isOutdated: comparison !== undefined && comparing?.isOutdated === true,
    messages: comparing?.messages ?? [],
  };
}

/** How the comparison stands, in a few words; empty where there is nothing to be said beside it. */
export function comparisonStatus({ revision, scene, stage, isOutdated, messages }: ComparisonState): string {
  const old = scene !== undefined && isOutdated ? " What is shown is of an older piece." : "";
  if (stage !== undefined) return `Comparing with ${revision}: ${stage}…${old}`;
  if (messages.some(({ severity }) => severity === "error")) {
    return `It could not be compared with ${revision}.${old}`;
  }
  return isOutdated ? "Out of date: it is compared again once the piece is built." : "";
}

/** The comparison in words; empty while it is being made. */
export function comparisonText(state: ComparisonState | undefined): string {
  if (state === undefined) return "";
  const { revision, scene, stage, isOutdated, messages } = state;
  if (scene !== undefined && !isOutdated) return `Compared with ${scene.revision.asked}: ${scene.sentence}`;
  const error = messages.find(({ severity }) => severity === "error");
  return error !== undefined && stage === undefined
    ? `Not compared with ${revision}: ${error.text} ${error.suggestion ?? ""}`.trim()
    : "";
}

/** The place where the two surfaces lie farthest apart, as a mark in the picture. */
export function comparisonMark(comparison: ShownState["comparison"]): FindingMark[] {
  const greatest = comparison?.scene.greatest;
  if (!greatest) return [];
  return [{ part: -1, severity: "note", text: `Greatest distance: ${greatest.text}`, at: greatest.at }];
}
