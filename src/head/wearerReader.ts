import type { Message } from "../message";
import { nearestName } from "../nearestName";

export type Fields = Readonly<Record<string, unknown>>;

export const isFields = (value: unknown): value is Fields =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** What a value is, in words. */
export const typeName = (value: unknown): string =>
  value === undefined
    ? "missing"
    : value === null
      ? "null"
      : Array.isArray(value)
        ? "a list"
        : typeof value === "object"
          ? "a group"
          : `a ${typeof value}`;

/** Reads values of a wearer's document; collects what is wrong with them. Fields are dotted paths. */
export class WearerReader {
  readonly messages: Message[] = [];

  error(id: string, field: string, text: string, suggestion?: string): void {
    this.messages.push({ id, severity: "error", field, text, ...(suggestion ? { suggestion } : {}) });
  }

  keys(fields: Fields, known: readonly string[], path: string): void {
    for (const key of Object.keys(fields)) {
      if (known.includes(key)) continue;
      const near = nearestName(key, known);
      this.error(
        "unknown-key",
        path + key,
        `Unknown key "${key}".`,
        near ? `Did you mean "${near}"?` : `Known keys: ${known.join(", ")}.`,
      );
    }
  }

  /** A number, else undefined with a message. `hint` says what would be right. */
  finite(
    value: unknown,
    field: string,
    hint = 'Write the bare number and state the unit once in "units".',
  ): number | undefined {
    if (typeof value !== "number") {
      this.error(
        "wrong-type",
        field,
        `"${field}" must be a number, not ${typeName(value)}${typeof value === "string" ? ` (${JSON.stringify(value)})` : ""}.`,
        hint,
      );
    } else if (!Number.isFinite(value)) {
      this.error("measure-not-a-number", field, `"${field}" is ${value}, not a number.`);
    } else {
      return value;
    }
    return undefined;
  }

  /** A number at least 0 (or above 0), else undefined with a message. */
  number(value: unknown, field: string, zero: boolean): number | undefined {
    const number = this.finite(value, field);
    if (number === undefined || number > 0 || (zero && number === 0)) return number;
    this.error(
      "measure-not-positive",
      field,
      `"${field}" is ${number}; it must be ${zero ? "0 or more" : "above 0"}.`,
    );
    return undefined;
  }

  text(value: unknown, field: string): string | undefined {
    if (value === undefined || typeof value === "string") return value;
    this.error("wrong-type", field, `"${field}" must be a text, not ${typeName(value)}.`);
    return undefined;
  }
}
