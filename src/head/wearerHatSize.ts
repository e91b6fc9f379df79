import { MessageError } from "../message";
import {
  girthOfHatSize,
  HAT_SYSTEMS,
  type HatSize,
  type HatSystem,
  hatSizeStep,
  parseHatSize,
} from "./hatSize";
import type { Estimate } from "./measurements";
import { isFields, typeName, type WearerReader } from "./wearerReader";

/** The hat size of a wearer's document; undefined with a message where it is none. */
export const readHatSize = (reader: WearerReader, value: unknown): HatSize | undefined => {
  try {
    if (typeof value === "string" || typeof value === "number") return parseHatSize(value);
    if (isFields(value)) {
      reader.keys(value, ["system", "size"], "hatSize.");
      const system = HAT_SYSTEMS.find((known) => known === value.system) as HatSystem | undefined;
      if (!system) {
        reader.error(
          "unknown-hat-system",
          "hatSize.system",
          `Unknown hat size system ${JSON.stringify(value.system) ?? "(none)"}.`,
          'Use "metric", "US" or "UK".',
        );
        return undefined;
      }
      if (typeof value.size === "string" || typeof value.size === "number")
        return parseHatSize(value.size, system);
    }
    reader.error(
      "wrong-type",
      "hatSize",
      `"hatSize" must be a text such as "US 7 1/4" or a group of system and size, not ${typeName(value)}.`,
    );
  } catch (error) {
    if (!(error instanceof MessageError)) throw error;
    reader.messages.push(...error.messages);
  }
  return undefined;
};

/** The girth that a hat size tells, mm. Any girth within the step is sold the same size: a uniform spread. */
export const girthFromHatSize = (hat: HatSize): Estimate => ({
  field: "girth",
  value: girthOfHatSize(hat),
  standardError: Math.round((10 * hatSizeStep(hat.system)) / Math.sqrt(12)) / 10,
  from: [],
});
