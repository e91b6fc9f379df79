import { documentOf } from "../../build/wearerEdit";
import { COSTUME_CAUTION } from "../../checks/cautions";
import { meanHead } from "../../export/measuring/meanHead";
import { measureDrawing } from "../../export/measuring/measureDrawing";
import { MEASURE_WORDS } from "../../export/measuring/measureWords";
import { TAKEN_FIELDS } from "../../head/readings";
import { UNITS, type Unit } from "../../head/units";
import type { GuideMessage, GuideStep } from "../../pages/measuringGuide/protocol";
import { entriesOf, HAIR, standsInFile } from "./guideEntries";

/** Cautions of measuring (common practice, no source). */
const cautions = [
  COSTUME_CAUTION,
  "Keep the points of calipers and the corners of a rule from eyes and ears; touch, never press.",
];

/**
 * Everything that the guide shows of a wearer.
 * @param key stands for the wearer
 * @param text its file, or what is to become one
 * @param isNew the unit is still open
 */
export function guideMessage(key: string, text: string, isNew: boolean): GuideMessage {
  const { name, units } = documentOf(text);
  const unit: Unit = UNITS.find((one) => one === units) ?? "mm";
  const measures = TAKEN_FIELDS.map((measure): GuideStep => {
    const { title, instrument, where, how, mistakes } = MEASURE_WORDS[measure];
    const stands = standsInFile(text, measure);
    return {
      measure,
      title,
      instrument,
      where,
      how,
      mistakes,
      drawing: measureDrawing(meanHead(), measure),
      readings: 2,
      isNeeded: measure === "girth",
      ...(stands !== undefined && { stands }),
    };
  });
  return {
    kind: "guide",
    key,
    name: typeof name === "string" && name !== "" ? name : "a wearer",
    unit,
    units: isNew ? UNITS : [unit],
    steps: [...measures, hairStep],
    entries: entriesOf(text),
    cautions,
  };
}

const hairStep: GuideStep = {
  measure: HAIR,
  title: "Hair",
  instrument: "a guess, or a rule pushed through the hair",
  where: "How thick the hair lies where it grows, as it is worn under the piece.",
  how: "Usually 2 to 5 mm flat, 5 to 15 mm thick or braided.",
  mistakes: "The girth was taken over the braids, and the hair is counted twice.",
  readings: 1,
  isNeeded: false,
};
