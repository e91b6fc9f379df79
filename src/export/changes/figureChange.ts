import type { Report } from "../report";
import type { ReportChange } from "./reportChange";

/** A number of a report that is compared. */
export interface Figure {
  readonly key: string;
  readonly label: string;
  readonly unit: string;
  /** Undefined where the report does not have it. */
  readonly of: (report: Report) => number | undefined;
  /**
   * The last digit that the report has of it. A difference of one such step may be rounding alone and does not count;
   * 0: a number that somebody set or that was counted, of which every difference counts.
   */
  readonly step: number;
  /** With the change in percent. */
  readonly inPercent?: boolean;
  /** How a value reads, where it is not the number with its unit. */
  readonly text?: (value: number) => string;
  readonly short?: (before: number, after: number, text: (value: number) => string) => string;
}

/** What differs of a figure; undefined where nothing does that counts. */
export function figureChange(figure: Figure, before: Report, after: Report): ReportChange | undefined {
  const [was, is] = [figure.of(before), figure.of(after)];
  if (was === is) return undefined;
  if (was !== undefined && is !== undefined && !differs(was, is, figure.step)) return undefined;
  const { key, label, unit } = figure;
  const text = figure.text ?? ((value: number) => withUnit(value, unit));
  return {
    key,
    label,
    ...(was !== undefined && { before: was }),
    ...(is !== undefined && { after: is }),
    unit,
    sentence: sentenceOf(figure, was, is, text),
    ...(was !== undefined && is !== undefined && figure.short && { short: figure.short(was, is, text) }),
  };
}

function sentenceOf(
  { label, inPercent }: Figure,
  was: number | undefined,
  is: number | undefined,
  text: (value: number) => string,
): string {
  if (is === undefined) return `no ${label} any more (it was ${text(was!)})`;
  if (was === undefined) return `${label} ${text(is)}, where there was none`;
  return `${label} ${text(is)} instead of ${text(was)}${inPercent ? percentText(was, is) : ""}`;
}

const differs = (was: number, is: number, step: number): boolean => Math.abs(is - was) > 1.5 * step;

/** ` (+4.6 %)`; nothing where there is nothing to compare with. */
function percentText(was: number, is: number): string {
  if (was <= 0) return "";
  const percent = (100 * (is - was)) / was;
  const digits = Math.abs(percent) < 9.95 ? Math.abs(percent).toFixed(1) : Math.abs(percent).toFixed(0);
  return Number(digits) === 0 ? "" : ` (${percent < 0 ? "−" : "+"}${digits} %)`;
}

/** `12.5 mm`, `30°`, `4`; a minus sign that reads as one. */
export function withUnit(value: number, unit: string): string {
  const number = String(value).replace("-", "−");
  return unit === "" || unit === "°" ? `${number}${unit}` : `${number} ${unit}`;
}
