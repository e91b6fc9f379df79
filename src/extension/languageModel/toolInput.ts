import { posix } from "node:path";
import type { ParameterValue } from "../../design/part";
import { didYouMean } from "../../nearestName";

/** What both tools take. */
export interface ToolInput {
  /** Path or name of a design. */
  readonly design: string;
  /** Path or name of a file in place of the design's own. */
  readonly wearer?: string;
  readonly printer?: string;
  readonly material?: string;
  readonly print?: string;
  readonly values?: Readonly<Record<string, ParameterValue>>;
}

const path = (description: string) => ({ type: "string", description }) as const;

/** The JSON schema of `ToolInput`; the manifest holds the same. */
export const toolInputSchema = {
  type: "object",
  additionalProperties: false,
  required: ["design"],
  properties: {
    design: path("Path of the design from the workspace folder, or its name, such as coral-crown."),
    wearer: path("Path or name of a wearer's file to fit it to, instead of the design's own."),
    printer: path("Path or name of a printer's file, instead of the design's own."),
    material: path("Path or name of a material's file, instead of the design's own."),
    print: path("Path or name of a file of print settings, instead of the design's own."),
    values: {
      type: "object",
      additionalProperties: { type: ["number", "string", "boolean"] },
      description: "Values of parameters by name, without touching the file.",
    },
  },
} as const;

const names = Object.keys(toolInputSchema.properties);

/**
 * Checks what a model gave. @throws Error that says what would be right
 */
export function toolInputOf(given: unknown): ToolInput {
  if (typeof given !== "object" || given === null || Array.isArray(given)) {
    throw new Error('The input must be an object, such as { "design": "coral-crown" }.');
  }
  const input = given as Record<string, unknown>;
  for (const name of Object.keys(input)) {
    if (names.includes(name)) continue;
    throw new Error(`There is no "${name}": ${didYouMean(name, names) ?? `known are ${names.join(", ")}`}.`);
  }
  for (const name of ["design", "wearer", "printer", "material", "print"]) {
    const value = input[name];
    if (value === undefined && name !== "design") continue;
    if (typeof value !== "string" || value === "") {
      throw new Error(`"${name}" must be the path or the name of a file.`);
    }
  }
  const { values = {} } = input;
  if (typeof values !== "object" || values === null || Array.isArray(values)) {
    throw new Error('"values" must be an object of parameter names and values, such as { "branches": 12 }.');
  }
  for (const [name, value] of Object.entries(values)) {
    if (!["number", "string", "boolean"].includes(typeof value)) {
      throw new Error(`The value of "${name}" must be a number, a text, true or false.`);
    }
  }
  return given as ToolInput;
}

/**
 * The one of the files that a path or a name means: a path as it is or from a workspace folder, the end of one, or a
 * file's name with or without its ending.
 * @param files paths with slashes
 * @throws Error that names what is there
 */
export function fileMeant(wanted: string, files: readonly string[], ending: string, what: string): string {
  const asked = wanted.replaceAll("\\", "/").replace(/^\.\//, "");
  const full = asked.endsWith(ending) ? asked : `${asked}${ending}`;
  const exact = files.filter((file) => file === full);
  const found = exact.length > 0 ? exact : files.filter((file) => file.endsWith(`/${full}`));
  if (found.length === 1) return found[0];
  if (found.length > 1) {
    throw new Error(`"${wanted}" could be ${found.join(" or ")}: give more of the path.`);
  }
  const stems = files.map((file) => posix.basename(file).slice(0, -ending.length));
  const near = didYouMean(posix.basename(full).slice(0, -ending.length), stems);
  const there = stems.length > 0 ? `there are ${stems.slice(0, 20).join(", ")}` : "there is none";
  throw new Error(`The workspace has no ${what} "${wanted}": ${near ?? there}.`);
}
