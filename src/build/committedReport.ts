import { existsSync, readFileSync } from "node:fs";
import { type Report, reportJson } from "../export/report";
import { changesSentence, reportChanges } from "../export/reportChanges";
import type { Message } from "../message";
import { committedReportOf } from "./outputs";

/** So many changes are told one by one. */
const mostNotes = 12;

const remedy = "look at the change, and commit the report that anadem build --report makes";

/** Holds the report that is kept beside a design to the one that the design makes: no message where they are the same. */
export function checkCommittedReport(design: string, report: Report): Message[] {
  const file = committedReportOf(design);
  if (!existsSync(file)) {
    return [
      {
        id: "no-report",
        severity: "error",
        text: "there is no committed report to check against",
        suggestion: "make it with anadem build --report, and commit it",
        file,
      },
    ];
  }
  const kept = readFileSync(file, "utf8").replaceAll("\r\n", "\n");
  const made = reportJson(report);
  if (kept === made) return [];
  const differing = firstDifference(kept.split("\n"), made.split("\n"));
  const place = { file, line: differing.line, column: 1 };
  const known = parsed(kept);
  if (!known) {
    const text = "the committed report cannot be read: it is no report";
    return [{ id: "report-differs", severity: "error", text, suggestion: remedy, ...place }];
  }
  const notes = [{ ...place, text: differing.text }];
  if (!isOfThisVersion(known)) {
    return [
      {
        id: "report-of-other-version",
        severity: "error",
        text: `the committed report was made by another version of Anadem, and differs: ${told(known, report)}`,
        suggestion: "commit the report that anadem build --report of this version makes",
        ...place,
        notes,
      },
    ];
  }
  const changes = reportChanges(known, report);
  const text =
    changes.length === 0
      ? "the committed report no longer matches, though nothing that is measured changed"
      : `the committed report no longer matches: ${changesSentence(changes)}`;
  const more = changes.length - mostNotes;
  return [
    {
      id: "report-differs",
      severity: "error",
      text,
      suggestion: remedy,
      ...place,
      notes: [
        ...changes.slice(0, mostNotes).map(({ sentence }) => ({ text: sentence })),
        ...(more > 0 ? [{ text: `and ${more} more` }] : []),
        ...notes,
      ],
    },
  ];
}

function parsed(text: string): Report | undefined {
  try {
    const value = JSON.parse(text) as Partial<Report> | null;
    return value?.format === "anadem-report" ? (value as Report) : undefined;
  } catch {
    return undefined;
  }
}

/** What this version writes, an older or newer one may not. */
function isOfThisVersion(report: Report): boolean {
  return (report.formatVersion as number) === 2 && typeof report.summary === "string";
}

/** As far as another version's report can be read. */
function told(known: Report, report: Report): string {
  try {
    return changesSentence(reportChanges(known, report));
  } catch {
    return `its format is ${known.formatVersion}, this one's ${report.formatVersion}`;
  }
}

function firstDifference(kept: readonly string[], made: readonly string[]): { line: number; text: string } {
  const found = made.findIndex((text, i) => text !== kept[i]);
  const at = found < 0 ? made.length : found;
  return { line: at + 1, text: `it has ${shownLine(kept[at])}, the design makes ${shownLine(made[at])}` };
}

function shownLine(line: string | undefined): string {
  if (line === undefined) return "no such line";
  const text = line.trim().replace(/,$/, "");
  return text.length > 160 ? `${text.slice(0, 159)}…` : text;
}
