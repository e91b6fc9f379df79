import { hoursAndMinutes } from "../../export/durations";
import type { ReportPlan } from "../../export/planReport";
import type { Report } from "../../export/report";
import type { Message } from "../../message";
import type { DesignState } from "../designState";
import type { Localiser } from "../localiser";

/** What is said of a built piece in a few words; absent where it is not known. */
export interface DesignFigures {
  /** For example `84 g`. */
  readonly mass?: string;
  /** For example `212 × 198 × 140 mm`: width, depth, height. */
  readonly box?: string;
  readonly fit?: PlateWords;
  readonly verdict?: VerdictWords;
  readonly print?: PrintWords;
}

/** What its print takes. */
export interface PrintWords {
  /** For example `12 h 30 min`. */
  readonly hours: string;
  /** Of filament, with what is thrown away of it: for example `140 g`. */
  readonly filament: string;
}

/** Whether it can be worn. */
export interface VerdictWords {
  /** `wear`, `adjust first` or `don't wear`. */
  readonly short: string;
  /** The first reason against it; absent where there is none. */
  readonly reason?: string;
  readonly isGood: boolean;
}

export interface PlateWords {
  readonly fits: boolean;
  /** `fits` or `does not fit`. */
  readonly short: string;
  /** How it lies, for example `tilted 12°, turned 40°` or `14 mm too wide`. */
  readonly long: string;
  readonly printer: string;
}

type Built = Pick<DesignState, "report" | "plate">;

/** The figures of the last good result. */
export function designFigures({ report, plate }: Built, l10n: Localiser): DesignFigures {
  const fit = plate ?? reportedPlate(report);
  return {
    ...(report?.wear && { verdict: verdictWords(report.wear, l10n) }),
    ...(report?.plan && { print: printWords(report.plan, l10n) }),
    ...(report && { mass: massText(report.massPrintedG, l10n), box: boxText(report.boxMm, l10n) }),
    ...(fit && {
      fit: {
        fits: fit.fits,
        short: fit.fits ? l10n.t("fits") : l10n.t("does not fit"),
        long: fit.summary,
        printer: fit.printer,
      },
    }),
  };
}

const printWords = ({ hours, grams }: ReportPlan, l10n: Localiser): PrintWords => ({
  hours: hoursAndMinutes(3600 * hours),
  filament: massText(grams, l10n),
});

function verdictWords({ verdict, reasons }: NonNullable<Report["wear"]>, l10n: Localiser): VerdictWords {
  const short = {
    wear: l10n.t("wear"),
    adjust: l10n.t("adjust first"),
    dont: l10n.t("don't wear"),
  }[verdict];
  const [reason] = reasons;
  return { short, isGood: verdict === "wear", ...(reason !== undefined && { reason }) };
}

function reportedPlate(report: DesignState["report"]) {
  const plate = report?.plates[0];
  if (!plate) return undefined;
  const summary = plate.fits ? "" : `${plate.excessMm} mm`;
  return { fits: plate.fits, printer: plate.printer, summary };
}

/** Mass for reading: whole grams, tenths below ten. */
export const massText = (grams: number, l10n: Localiser): string =>
  l10n.t("{0} g", grams < 9.95 ? Number(grams.toFixed(1)) : Math.round(grams));

/** Sides of a box, whole mm. */
export const boxText = (
  { width, depth, height }: { readonly width: number; readonly depth: number; readonly height: number },
  l10n: Localiser,
): string => l10n.t("{0} × {1} × {2} mm", Math.round(width), Math.round(depth), Math.round(height));

/** The figures that are known, in one line: `84 g · 212 × 198 × 140 mm · fits · wear · 12 h 30 min`. */
export const figuresLine = ({ mass, box, fit, verdict, print }: DesignFigures): string =>
  [mass, box, fit?.short, verdict?.short, print?.hours].filter((text) => text !== undefined).join(" · ");

/** `2 errors, 1 warning`; an empty text where nothing was found. Notes are counted only where there is nothing graver. */
export function findingsText(messages: readonly Message[], l10n: Localiser): string {
  const count = (wanted: Message["severity"]) =>
    messages.filter(({ severity }) => severity === wanted).length;
  const [errors, warnings, notes] = [count("error"), count("warning"), count("note")];
  const texts: string[] = [];
  if (errors > 0) texts.push(errors === 1 ? l10n.t("1 error") : l10n.t("{0} errors", errors));
  if (warnings > 0) texts.push(warnings === 1 ? l10n.t("1 warning") : l10n.t("{0} warnings", warnings));
  if (texts.length === 0 && notes > 0)
    texts.push(notes === 1 ? l10n.t("1 note") : l10n.t("{0} notes", notes));
  return texts.join(", ");
}

/** What a design that is being built is busy with, in words. */
export function stageText(stage: string | undefined, share: number | undefined, l10n: Localiser): string {
  const name = stage ?? l10n.t("building");
  return share === undefined ? name : l10n.t("{0} {1} %", name, Math.round(100 * share));
}
