import { number, oneOf, options, shown, text } from "./check";
import { designError } from "./error";
import type { ParameterDeclaration, ParameterValue } from "./part";

/** A declared parameter: its default and what it may be set to. `T` is what `make` receives. */
export interface Parameter<T extends ParameterValue = ParameterValue> {
  readonly declaration: Omit<ParameterDeclaration, "name">;
  readonly default: T;
}

/** Limits of a number and what it is for. */
export interface NumberOptions {
  readonly least?: number;
  readonly most?: number;
  readonly help?: string;
}

/**
 * A whole number: how many.
 * @example parameters: { branches: count(9, { least: 3, most: 24, help: "branches around the head" }) }
 */
export const count = (preset: number, limits: NumberOptions = {}): Parameter<number> =>
  numeric("count", "", preset, limits);

/**
 * A length in mm.
 * @example parameters: { reach: length(90, { least: 20, most: 160 }) }
 */
export const length = (preset: number, limits: NumberOptions = {}): Parameter<number> =>
  numeric("length", "mm", preset, limits);

/**
 * An angle in degrees.
 * @example parameters: { sweep: angle(35, { least: -90, most: 90 }) }
 */
export const angle = (preset: number, limits: NumberOptions = {}): Parameter<number> =>
  numeric("angle", "°", preset, limits);

/**
 * One of several words; the first is the default unless `preset` names another.
 * @example parameters: { mood: choice(["calm", "storm"], { help: "how far the kelp swings out" }) }
 */
export function choice<const T extends string>(
  choices: readonly T[],
  about: { readonly preset?: NoInfer<T>; readonly help?: string } = {},
): Parameter<T> {
  options(about, "choice", ["preset", "help"]);
  if (!Array.isArray(choices) || choices.length === 0) {
    throw designError({
      id: "no-choices",
      text: `choice takes a list of words, not ${shown(choices)}`,
      suggestion: 'write choice(["calm", "storm"])',
    });
  }
  for (const word of choices) text(word, "each word of choice");
  const preset = oneOf(about.preset ?? choices[0], "preset of choice", choices);
  return {
    default: preset,
    declaration: { kind: "choice", default: preset, choices, unit: "", ...helpOf(about.help) },
  };
}

/**
 * On or off.
 * @example parameters: { veil: toggle(true, { help: "holes for a veil along the brow" }) }
 */
export function toggle(preset: boolean, about: { readonly help?: string } = {}): Parameter<boolean> {
  options(about, "toggle", ["help"]);
  if (typeof preset !== "boolean") {
    throw designError({
      id: "not-a-toggle",
      text: `toggle takes true or false, not ${shown(preset)}`,
      suggestion: "write toggle(true) or toggle(false)",
    });
  }
  return {
    default: preset,
    declaration: { kind: "toggle", default: preset, unit: "", ...helpOf(about.help) },
  };
}

function numeric(
  kind: "count" | "length" | "angle",
  unit: "" | "mm" | "°",
  preset: number,
  limits: NumberOptions,
): Parameter<number> {
  options(limits, kind, ["least", "most", "help"]);
  const least = limits.least ?? (kind === "angle" ? undefined : 0);
  const { most } = limits;
  if (least !== undefined) number(least, `least of ${kind}`);
  if (most !== undefined) number(most, `most of ${kind}`, least !== undefined ? { least } : {});
  number(preset, `the default of ${kind}`, {
    ...(least !== undefined && { least }),
    ...(most !== undefined && { most }),
    whole: kind === "count",
  });
  return {
    default: preset,
    declaration: {
      kind,
      default: preset,
      unit,
      ...(least !== undefined && { least }),
      ...(most !== undefined && { most }),
      ...helpOf(limits.help),
    },
  };
}

const helpOf = (help: string | undefined) => (help === undefined ? {} : { help });
