import { type LimitValues, limitProblems } from "../wearLimits";
import { isFields, typeName, type WearerReader } from "./wearerReader";

/** The limits of a wearer's document, in their own units whatever the file's. */
export const readLimits = (reader: WearerReader, value: unknown): LimitValues | undefined => {
  if (value === undefined) return undefined;
  if (!isFields(value)) {
    reader.error(
      "wrong-type",
      "limits",
      `"limits" must be a group such as { "nodForward": 20 }, not ${typeName(value)}.`,
    );
    return undefined;
  }
  for (const { id, name, text, suggestion } of limitProblems(value)) {
    reader.error(id, `limits.${name}`, text, suggestion);
  }
  return value as LimitValues;
};
