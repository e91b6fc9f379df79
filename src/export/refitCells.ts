import type { VerdictWord } from "../checks/verdict";
import { hoursAndMinutes } from "./durations";
import { changesSentence, type ReportChange } from "./reportChanges";
import { counted } from "./reportSentences";

/** A design on a wearer as a table of a refit shows it. */
export interface RefitTableRow {
  readonly design: string;
  readonly wearer: string;
  readonly headpiece: string;
  readonly wearerName: string;
  readonly verdict: VerdictWord | "failed";
  readonly passes: boolean;
  readonly reasons: readonly string[];
  readonly fits?: boolean;
  readonly wayOn?: { readonly passes: boolean; readonly summary: string };
  readonly girthPlay?: number;
  readonly girthEase?: number;
  readonly mass?: number;
  readonly box?: { readonly width: number; readonly depth: number; readonly height: number };
  readonly plate?: { readonly printer: string; readonly fits: boolean; readonly summary: string };
  readonly hours?: number;
  readonly chance?: number;
  readonly changes?: readonly ReportChange[];
  readonly messages: readonly { readonly severity: string; readonly text: string }[];
  readonly kept: boolean;
}

export const refitColumns = [
  "Headpiece",
  "Wearer",
  "Verdict",
  "Fits",
  "Goes on",
  "Girth play",
  "Ease",
  "Chance",
  "Mass",
  "Box, mm",
  "Plate",
  "Hours",
] as const;

const nothing = "–";
const verdictWords: Readonly<Record<RefitTableRow["verdict"], string>> = {
  wear: "wear",
  adjust: "adjust first",
  dont: "don't wear",
  failed: "failed",
};

/** The cells of a row, in the order of `refitColumns`. */
export function refitCells(row: RefitTableRow): string[] {
  const { box, plate } = row;
  return [
    row.headpiece,
    row.wearerName,
    verdictWords[row.verdict],
    yesOrNo(row.fits),
    yesOrNo(row.wayOn?.passes),
    millimetres(row.girthPlay),
    millimetres(row.girthEase),
    chanceText(row.chance),
    row.mass === undefined ? nothing : `${row.mass} g`,
    box ? [box.width, box.depth, box.height].map(Math.round).join(" × ") : nothing,
    plate ? (plate.fits ? "fits" : "too large") : nothing,
    row.hours === undefined ? nothing : hoursAndMinutes(3600 * row.hours),
  ];
}

/** Why a row is not to be worn as it is: its first reason, and how many more there are; undefined for one that may. */
export function refitReason({ verdict, reasons, messages, plate }: RefitTableRow): string | undefined {
  if (verdict === "failed") return messages.find(({ severity }) => severity === "error")?.text;
  const all = [...(plate?.fits === false ? [plate.summary] : []), ...reasons];
  if (all.length === 0) return undefined;
  return all.length === 1 ? all[0] : `${all[0]} (and ${all.length - 1} more)`;
}

/** What differs from the first row of a design, in one sentence; undefined for that row itself. */
export const refitChange = ({ changes }: RefitTableRow): string | undefined =>
  changes && changesSentence(changes.filter(({ key }) => key !== "wearer"));

/** "60 rows: 52 pass, 6 do not, 2 failed; 58 were good already". */
export function refitSummary(rows: readonly RefitTableRow[]): string {
  const failed = rows.filter(({ verdict }) => verdict === "failed").length;
  const passing = rows.filter(({ passes }) => passes).length;
  const kept = rows.filter((row) => row.kept).length;
  const rest = rows.length - failed - passing;
  const clauses = [
    `${passing} ${passing === 1 ? "passes" : "pass"}`,
    ...(rest > 0 ? [`${rest} ${rest === 1 ? "does" : "do"} not`] : []),
    ...(failed > 0 ? [`${failed} failed`] : []),
  ];
  const already = kept > 0 ? `; ${kept} ${kept === 1 ? "was" : "were"} good already` : "";
  return `${counted(rows.length, "row")}: ${clauses.join(", ")}${already}.`;
}

const yesOrNo = (is: boolean | undefined): string => (is === undefined ? nothing : is ? "yes" : "no");
const millimetres = (value: number | undefined): string => (value === undefined ? nothing : `${value} mm`);

/** A chance is never told as certain. */
function chanceText(chance: number | undefined): string {
  if (chance === undefined) return nothing;
  const percent = Math.round(100 * chance);
  return percent >= 100 ? "over 99 %" : percent < 1 ? "under 1 %" : `${percent} %`;
}
