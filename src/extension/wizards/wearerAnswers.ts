import type { MeasureField } from "../../head/measurements";
import { inUnit, MM_PER, type Unit } from "../../head/units";
import { USUAL_GIRTH_EASE, type WearerReading, wearerFromDocument } from "../../head/wearer";
import type { Message } from "../../message";
import type { Localiser } from "../localiser";
import { doubted, refused, type Verdict } from "./verdict";

/** The measures that are asked for, in the order of asking. */
export const askedMeasures = ["girth", "length", "breadth", "crownHeight", "hairThickness", "ease"] as const;
export type AskedMeasure = (typeof askedMeasures)[number];

/** What was answered so far, as typed; an empty text: not measured. */
export interface WearerAnswers extends Readonly<Partial<Record<AskedMeasure, string>>> {
  readonly name?: string;
  readonly unit: Unit;
}

const unitEnding: Readonly<Record<Unit, RegExp>> = {
  mm: /\s*mm$/i,
  cm: /\s*cm$/i,
  in: /\s*(?:in|″|")$/i,
};

/** A length as people type it, with a point or a comma, with the unit or without; undefined where it is none. */
export function lengthTyped(text: string, unit: Unit): number | undefined {
  const bare = text.trim().replace(unitEnding[unit], "").replace(",", ".");
  return /^\d+(?:\.\d+)?$/.test(bare) ? Number(bare) : undefined;
}

/** The wearer's file that the answers make: only what was measured, in the usual order of keys. */
export function wearerDocument({ name, unit, ...answers }: WearerAnswers): Record<string, unknown> {
  const document: Record<string, unknown> = { name: name?.trim(), units: unit };
  for (const measure of askedMeasures) {
    const text = answers[measure]?.trim() ?? "";
    if (text === "") continue;
    const length = lengthTyped(text, unit);
    if (measure === "ease") document.ease = { girth: length ?? text };
    else if (measure === "girth" && length === undefined) document.hatSize = text;
    else document[measure] = length ?? text;
  }
  return document;
}

/** The same as the text of a file. */
export const wearerText = (answers: WearerAnswers): string =>
  `${JSON.stringify(wearerDocument(answers), undefined, 2)}\n`;

/**
 * What is to be said of an answer, by the checks that every wearer's file goes through: an error where it cannot be,
 * else a warning where it seldom is, and only what this answer brings up.
 */
export function checkMeasure(
  measure: AskedMeasure,
  text: string,
  earlier: WearerAnswers,
  l10n: Localiser,
): Verdict | undefined {
  const typed = text.trim();
  if (typed === "") {
    return measure === "girth" ? refused(l10n.t("The girth is the one measure that is needed.")) : undefined;
  }
  const isLength = lengthTyped(typed, earlier.unit) !== undefined;
  if (!isLength && measure !== "girth") {
    return refused(
      l10n.t("Give a number in {0}, such as {1}.", earlier.unit, exampleOf(measure, earlier.unit)),
    );
  }
  const before = new Set(readingOf({ ...earlier, [measure]: "" }).messages.map(({ text: said }) => said));
  const fresh = readingOf({ ...earlier, [measure]: typed }).messages.filter(
    ({ text: said, severity }) => severity === "error" || !before.has(said),
  );
  const said = fresh.find(({ severity }) => severity === "error") ?? fresh[0];
  return said && (said.severity === "error" ? refused : doubted)(sentence(said));
}

/** What a measure is taken to be when it is left out, for example `190 mm ± 5 mm`; undefined where that is not known. */
export function estimateOf(measure: AskedMeasure, earlier: WearerAnswers): string | undefined {
  const { unit } = earlier;
  if (measure === "ease") return inUnit(USUAL_GIRTH_EASE, unit);
  const { wearer } = readingOf({ ...earlier, [measure]: "" });
  if (!wearer) return undefined;
  if (measure === "hairThickness") return inUnit(wearer.hairThickness, unit);
  const estimate = wearer.estimated.find(({ field }) => field === (measure as MeasureField));
  return estimate && `${inUnit(estimate.value, unit)} ± ${inUnit(estimate.standardError, unit)}`;
}

const readingOf = (answers: WearerAnswers): WearerReading =>
  wearerFromDocument(wearerDocument({ ...answers, name: answers.name || "wearer" }));

const sentence = ({ text, suggestion }: Message): string => (suggestion ? `${text} ${suggestion}` : text);

const examples: Readonly<Record<AskedMeasure, number>> = {
  girth: 570,
  length: 195,
  breadth: 150,
  crownHeight: 130,
  hairThickness: 5,
  ease: USUAL_GIRTH_EASE,
};

/** A usual value in a unit, as one types it. */
export const exampleOf = (measure: AskedMeasure, unit: Unit): string =>
  String(Number((examples[measure] / MM_PER[unit]).toFixed(unit === "mm" ? 0 : 1)));
