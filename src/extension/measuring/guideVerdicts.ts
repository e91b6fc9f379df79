import { documentOf, withKeys } from "../../build/wearerEdit";
import { summaryOfReadings, TAKEN_FIELDS, type TakenField } from "../../head/readings";
import { inUnit, MM_PER, type Unit } from "../../head/units";
import { type Wearer, wearerFromDocument } from "../../head/wearer";
import { toleranceOf } from "../../head/wearerMeasures";
import type { Message } from "../../message";
import type { Entries, MeasureVerdict, Remark } from "../../pages/measuringGuide/protocol";
import type { Localiser } from "../localiser";
import { lengthTyped } from "../wizards/wearerAnswers";
import { HAIR, typedReadings } from "./guideEntries";

export interface GuideVerdicts {
  readonly verdicts: Readonly<Record<string, MeasureVerdict>>;
  readonly canFinish: boolean;
}

/**
 * What is to be said of what was typed, by the checks that every wearer's file goes through.
 * @param text the wearer's file as it stands
 */
export function guideVerdicts(text: string, entries: Entries, unit: Unit, l10n: Localiser): GuideVerdicts {
  const { changed, hair, unreadable } = typedReadings(text, entries, unit);
  const document = documentWith(text, changed, hair, unit);
  const { wearer, messages } = wearerFromDocument(document);
  const verdicts = Object.fromEntries(
    [...TAKEN_FIELDS, HAIR].map((measure): [string, MeasureVerdict] => {
      const remarks: Remark[] = [...messagesOf(messages, measure).map(remarkOf)];
      const wrong = unreadable.get(measure);
      if (wrong !== undefined) {
        const text = l10n.t("“{0}” is no length: give a number in {1}.", wrong, unit);
        remarks.unshift({ severity: "error", text });
      }
      return [measure, { ...figuresOf(measure, entries[measure] ?? [], unit, wearer), remarks }];
    }),
  );
  const isWrong = messages.some(({ severity, id }) => severity === "error" && id !== "missing-girth");
  return {
    verdicts,
    canFinish: !isWrong && unreadable.size === 0 && (changed.size > 0 || hair !== undefined),
  };
}

function documentWith(
  text: string,
  changed: ReadonlyMap<TakenField, readonly number[]>,
  hair: { readonly value: number | undefined } | undefined,
  unit: Unit,
): Record<string, unknown> {
  const values = new Map<string, unknown>();
  for (const [field, readings] of changed) {
    values.set(field, readings.length === 0 ? undefined : { readings });
    if (field === "girth" && readings.length > 0) values.set("hatSize", undefined);
  }
  if (hair) values.set(HAIR, hair.value);
  return { ...documentOf(withKeys(text, values)), units: unit };
}

/** Of a group's keys too: `girth.readings.1` is about the girth. */
const messagesOf = (messages: readonly Message[], measure: string): Message[] =>
  messages.filter(({ field }) => field === measure || field?.startsWith(`${measure}.`));

const remarkOf = ({ severity, text, suggestion }: Message): Remark => ({
  severity,
  text: suggestion ? `${text} ${suggestion}` : text,
});

function figuresOf(
  measure: string,
  texts: readonly string[],
  unit: Unit,
  wearer: Wearer | undefined,
): Omit<MeasureVerdict, "remarks"> {
  const lengths = texts
    .filter((text) => text.trim() !== "")
    .map((text) => lengthTyped(text, unit))
    .filter((length) => length !== undefined && length > 0)
    .map((length) => (length as number) * MM_PER[unit]);
  if (measure === HAIR) return { differ: false };
  const field = measure as TakenField;
  if (lengths.length === 0) {
    const estimate = wearer?.estimated.find((one) => one.field === field);
    return {
      differ: false,
      ...(estimate && {
        estimate: `${inUnit(estimate.value, unit)} ± ${inUnit(toleranceOf(estimate.standardError), unit)}`,
      }),
    };
  }
  const { mean, difference, limit, differ } = summaryOfReadings(field, lengths);
  return {
    mean: inUnit(mean, unit),
    differ,
    ...(lengths.length > 1 && { difference: inUnit(difference, unit), allowed: inUnit(limit, unit) }),
  };
}
