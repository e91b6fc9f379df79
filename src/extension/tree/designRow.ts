import type { Message } from "../../message";
import type { DesignState } from "../designState";
import type { Localiser } from "../localiser";
import { markdownRows, plainMarkdown } from "../markdownText";
import { designFigures, findingsText, stageText } from "../statusBar/designFigures";
import { failureText, resultRows } from "../statusBar/designWords";

/** How a design stands, as the tree shows it. */
export type RowState = "unbuilt" | "building" | "built" | "outdated" | "failed" | "cancelled";

/** What a row of the tree shows of a design. */
export interface DesignRow {
  readonly state: RowState;
  /** Name of a codicon. */
  readonly icon: string;
  /** Id of a colour of the theme. */
  readonly colour?: string;
  readonly description: string;
  /** Markdown. */
  readonly tooltip: string;
  /** For a screen reader, after the label. */
  readonly spoken: string;
  readonly hasFindings: boolean;
}

const icons: Readonly<Record<RowState, readonly [icon: string, colour?: string]>> = {
  unbuilt: ["circle-outline"],
  building: ["sync~spin"],
  built: ["pass", "testing.iconPassed"],
  outdated: ["history", "list.warningForeground"],
  failed: ["error", "list.errorForeground"],
  cancelled: ["circle-slash"],
};

/** The row of a design from what is known of it. */
export function designRow(state: DesignState, l10n: Localiser): DesignRow {
  const how = rowState(state);
  const [icon, colour] = icons[how];
  const description = descriptionOf(how, state, l10n);
  return {
    state: how,
    icon,
    ...(colour && { colour }),
    description,
    tooltip: tooltipOf(how, state, l10n),
    spoken: [stateText(how, l10n), description].filter((text) => text !== "").join(", "),
    hasFindings: state.messages.some(isFinding),
  };
}

/** What is listed below a design. */
export const isFinding = ({ severity }: Message): boolean => severity !== "note";

function rowState({ status, isOutdated, report }: DesignState): RowState {
  if (status === "built" && isOutdated) return "outdated";
  if (status === "cancelled" && report) return "outdated";
  return status;
}

function descriptionOf(how: RowState, state: DesignState, l10n: Localiser): string {
  if (how === "unbuilt") return "";
  if (how === "building") return stageText(state.stage, state.share, l10n);
  if (how === "failed") return failureText(state, l10n);
  if (how === "cancelled") return l10n.t("cancelled");
  const { mass, fit, verdict, print } = designFigures(state, l10n);
  return [mass, fit?.short, verdict?.short, print?.hours].filter((text) => text !== undefined).join(" · ");
}

function stateText(how: RowState, l10n: Localiser): string {
  switch (how) {
    case "unbuilt":
      return l10n.t("not built yet");
    case "building":
      return l10n.t("being built");
    case "built":
      return l10n.t("built");
    case "outdated":
      return l10n.t("out of date");
    case "failed":
      return l10n.t("in error");
    case "cancelled":
      return l10n.t("cancelled");
  }
}

function tooltipOf(how: RowState, state: DesignState, l10n: Localiser): string {
  const { facts, header, report, messages } = state;
  const name = header?.name ?? report?.headpiece;
  const rows = resultRows(state, l10n);
  if (facts?.material) rows.push([l10n.t("Material"), facts.material]);
  const findings = findingsText(messages, l10n);
  if (findings !== "") rows.push([l10n.t("Found"), findings]);
  return [
    `${name ? `**${plainMarkdown(name)}** · ` : ""}${plainMarkdown(stateText(how, l10n))}`,
    markdownRows(rows),
  ]
    .filter((block) => block !== "")
    .join("\n\n");
}
