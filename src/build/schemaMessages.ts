import Ajv, { type ErrorObject, type SchemaObject } from "ajv";
import type { Message } from "../message";
import { didYouMean } from "../nearestName";

/** Checks a document and says what is wrong with it, field by field; an empty list when it is right. */
export type DocumentCheck = (document: unknown) => Message[];

/** A check by a JSON schema (draft 7), whose findings are sentences that a maker can act on. */
export function schemaCheck(schema: SchemaObject): DocumentCheck {
  let validate: ReturnType<Ajv["compile"]> | undefined;
  return (document) => {
    validate ??= new Ajv({
      allErrors: true,
      discriminator: true,
      verbose: true,
      allowUnionTypes: true,
    }).compile(schema);
    if (validate(document)) return [];
    return (validate.errors ?? []).filter(isTold).map(messageOf);
  };
}

/** Errors of the group around an error repeat it. */
const isTold = ({ keyword }: ErrorObject) => keyword !== "oneOf" && keyword !== "if";

interface Described {
  readonly description?: string;
  readonly examples?: readonly unknown[];
  readonly [key: string]: unknown;
}

function messageOf(error: ErrorObject): Message {
  const { keyword, params, data, parentSchema = {} } = error;
  const field = dotted(error.instancePath);
  const what = field === "" ? "the document" : `"${field}"`;
  const value = shown(data);
  const inside = (key: string) => (field === "" ? key : `${field}.${key}`);
  switch (keyword) {
    case "additionalProperties": {
      const key = params.additionalProperty as string;
      const known = Object.keys((parentSchema.properties ?? {}) as object).filter(
        (name) => name !== "$schema",
      );
      const suggestion = didYouMean(key, known) ?? `the known keys are ${known.join(", ")}`;
      return message("unknown-key", inside(key), `unknown key "${inside(key)}"`, suggestion);
    }
    case "required": {
      const key = params.missingProperty as string;
      const property = ((parentSchema.properties ?? {}) as Record<string, Described>)[key] ?? {};
      return message("missing-key", inside(key), `"${inside(key)}" is missing`, toAdd(key, property));
    }
    case "discriminator": {
      const key = params.tag as string;
      const written = params.tagValue as unknown;
      const known = tags(parentSchema as Described, key);
      const choices = known.map((name) => JSON.stringify(name)).join(" or ");
      const meant = typeof written === "string" ? didYouMean(written, known) : undefined;
      return message(
        "unknown-word",
        inside(key),
        `"${inside(key)}" is ${shown(written)}`,
        meant ?? `give ${choices}`,
      );
    }
    case "type":
      return message("wrong-type", field, `${what} is ${value}`, `give ${wanted(parentSchema)}`);
    case "minLength":
      return message("empty-text", field, `${what} is empty`, "give a text");
    case "minItems":
    case "maxItems":
      return message(
        "wrong-count",
        field,
        `${what} has ${(data as unknown[]).length} values`,
        wantedList(parentSchema),
      );
    default:
      return message("out-of-range", field, `${what} is ${value}`, `give ${wanted(parentSchema)}`);
  }
}

function message(id: string, field: string, text: string, suggestion: string): Message {
  return { id, severity: "error", text, suggestion, ...(field && { field }) };
}

function dotted(pointer: string): string {
  return pointer
    .split("/")
    .slice(1)
    .map((step) => step.replaceAll("~1", "/").replaceAll("~0", "~"))
    .join(".");
}

function shown(value: unknown): string {
  if (value === undefined) return "missing";
  if (typeof value === "number") return String(value);
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === "object" && value !== null) return "a group";
  const text = JSON.stringify(value);
  return text.length > 60 ? `${text.slice(0, 60)}…` : text;
}

function toAdd(key: string, { description, examples }: Described): string {
  const example = examples ? JSON.stringify(examples[0]) : "…";
  return `add "${key}": ${example}${description ? ` (${description})` : ""}`;
}

const typeNames: Record<string, string> = {
  number: "a number",
  string: "a text",
  array: "a list",
  object: "a group in braces",
};

/** What a value should be: kind, range, meaning with unit, example. */
function wanted(schema: object): string {
  const { type, minimum, exclusiveMinimum, maximum, description, examples } = schema as Described;
  const kind = typeNames[String(type)] ?? "another value";
  const from =
    exclusiveMinimum !== undefined ? `above ${exclusiveMinimum}` : minimum !== undefined && `from ${minimum}`;
  const to = maximum !== undefined && `up to ${maximum}`;
  const range = [from, to].filter(Boolean).join(" ");
  const example = examples && `for example ${JSON.stringify(examples[0])}`;
  const meaning = [description, example].filter(Boolean).join("; ");
  return [kind, range, meaning && `(${meaning})`].filter(Boolean).join(" ");
}

function wantedList(schema: object): string {
  const { minItems, maxItems, description, examples } = schema as Described;
  const count = minItems === maxItems ? `${minItems}` : `${minItems} to ${maxItems}`;
  const example = examples ? `, for example ${JSON.stringify(examples[0])}` : "";
  return `give ${count} values${description ? ` (${description})` : ""}${example}`;
}

function tags(schema: Described, key: string): string[] {
  const branches = (schema.oneOf ?? []) as { properties: Record<string, { const: string }> }[];
  return branches.map(({ properties }) => properties[key].const);
}
