import { commandIds } from "../commandIds";
import type { DesignState } from "../designState";
import type { Localiser } from "../localiser";
import { markdownRows, plainMarkdown } from "../markdownText";
import { designFigures, figuresLine, findingsText, stageText } from "./designFigures";
import { failureText, resultRows } from "./designWords";

/** What the status bar's item shows. */
export interface StatusText {
  readonly text: string;
  /** Markdown with links to our commands. */
  readonly tooltip: string;
  readonly spoken: string;
  readonly isError: boolean;
}

/** Commands that the tooltip may run. */
export const statusLinks: readonly string[] = [
  commandIds.chooseWearer,
  commandIds.showPreview,
  commandIds.export,
  commandIds.showReport,
  commandIds.build,
];

/** The item for the active design. @param label what the design's file is called */
export function statusText(
  label: string,
  state: DesignState,
  isTrusted: boolean,
  l10n: Localiser,
): StatusText {
  if (!isTrusted) {
    return {
      text: `$(shield) ${label}`,
      tooltip: plainMarkdown(l10n.t("Restricted Mode: nothing is built until you trust this folder.")),
      spoken: l10n.t("{0}: not built in Restricted Mode", label),
      isError: false,
    };
  }
  const { icon, words } = shown(label, state, l10n);
  return {
    text: icon ? `$(${icon}) ${words}` : words,
    tooltip: tooltipOf(label, state, l10n),
    spoken: l10n.t("Headpiece {0}: {1}", label, words),
    isError: state.status === "failed",
  };
}

function shown(label: string, state: DesignState, l10n: Localiser): { icon?: string; words: string } {
  const figures = figuresLine(designFigures(state, l10n));
  switch (state.status) {
    case "building":
      return { icon: "sync~spin", words: stageText(state.stage, state.share, l10n) };
    case "failed":
      return { icon: "error", words: failureText(state, l10n) };
    case "unbuilt":
      return { icon: "circle-outline", words: l10n.t("{0}: not built yet", label) };
    case "cancelled":
      return { icon: "circle-slash", words: figures || l10n.t("{0}: cancelled", label) };
    case "built":
      return { ...(state.isOutdated && { icon: "history" }), words: figures || label };
  }
}

function tooltipOf(label: string, state: DesignState, l10n: Localiser): string {
  const { report, header, messages, isOutdated } = state;
  const rows = resultRows(state, l10n);
  const findings = findingsText(messages, l10n);
  rows.push([l10n.t("Found"), findings === "" ? l10n.t("nothing") : findings]);
  const name = header?.name ?? report?.headpiece ?? label;
  const link = (text: string, command: string) => `[${plainMarkdown(text)}](command:${command})`;
  return [
    `**${plainMarkdown(name)}**${isOutdated ? ` · ${plainMarkdown(l10n.t("out of date"))}` : ""}`,
    markdownRows(rows),
    [
      link(l10n.t("Choose Wearer…"), commandIds.chooseWearer),
      link(l10n.t("Preview"), commandIds.showPreview),
      report ? link(l10n.t("Report"), commandIds.showReport) : link(l10n.t("Build"), commandIds.build),
      link(l10n.t("Export"), commandIds.export),
    ].join(" · "),
    ...(report ? [plainMarkdown(l10n.t("Costume, never protective equipment."))] : []),
  ].join("\n\n");
}
