import type { Report } from "../../export/report";
import { reportMarkdown } from "../../export/reportMarkdown";
import type { DesignState } from "../designState";
import type { Localiser } from "../localiser";
import { plainMarkdown } from "../markdownText";

/** The report that is kept beside a design: its text, or why there is none. */
export type CommittedReport = { readonly text: string } | { readonly missing: true };

/**
 * The page of a design's report as Markdown: of the last build, else the one kept beside the design, with a first
 * line that says which and why.
 * @param label what the design's file is called
 */
export function reportPage(
  label: string,
  state: DesignState,
  committed: CommittedReport,
  isTrusted: boolean,
  l10n: Localiser,
): string {
  if (isTrusted && state.report) {
    const page = reportMarkdown(state.report);
    return state.isOutdated || state.status === "failed"
      ? withFirstLine(
          l10n.t("Out of date: the design has changed, or no longer builds, since this was made."),
          page,
        )
      : page;
  }
  const why = isTrusted
    ? l10n.t("The design has not been built yet.")
    : l10n.t("Restricted Mode: nothing is built until you trust this folder.");
  if ("missing" in committed) {
    const hint = isTrusted
      ? l10n.t("Build it, and its report stands here.")
      : l10n.t("No report is kept beside it either.");
    return `# ${plainMarkdown(label)}\n\n${plainMarkdown(`${why} ${hint}`)}\n`;
  }
  const page = committedPage(committed.text);
  if (page === undefined) {
    const broken = l10n.t(
      "The report kept beside it, {0}, cannot be read as a report.",
      `${label}.report.json`,
    );
    return `# ${plainMarkdown(label)}\n\n${plainMarkdown(`${why} ${broken}`)}\n`;
  }
  return withFirstLine(`${why} ${l10n.t("This is the report kept beside it.")}`, page);
}

const withFirstLine = (line: string, page: string): string => `> ${plainMarkdown(line)}\n\n${page}`;

/** A kept report as Markdown; undefined where the text holds none. */
function committedPage(text: string): string | undefined {
  try {
    const report = JSON.parse(text) as Report;
    if (report.format !== "anadem-report" || report.formatVersion !== 2) return undefined;
    return reportMarkdown(report);
  } catch {
    // Not JSON, or a report with something missing: both are told the same way.
    return undefined;
  }
}
