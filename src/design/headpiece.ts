import { offsetOfGirthEase } from "../head/wearer";
import type { Place } from "../message";
import { type LimitValues, limitNames, limitProblems } from "../wearLimits";
import { number, options, shown, text } from "./check";
import { designError, placeOfCall } from "./error";
import type { Parts } from "./group";
import type { DesignHead } from "./head";
import type { Parameter } from "./parameters";
import type { ParameterDeclaration, PrintChoice } from "./part";
import { type PrintOptions, printChoiceOf } from "./print";
import type { Random } from "./random";

type Declared = Record<string, Parameter>;
type ValuesOf<P extends Declared> = { readonly [K in keyof P]: P[K] extends Parameter<infer T> ? T : never };

/** What `make` builds from. */
export interface Make<P extends Declared> {
  /** The wearer's head, grown by ease and hair. */
  readonly head: DesignHead;
  /** The values of the declared parameters. */
  readonly parameters: ValuesOf<P>;
  /** Seeded random numbers. */
  readonly random: Random;
}

/** What a headpiece is made of. */
export interface HeadpieceOptions<P extends Declared> {
  /** Its name, as it stands in the report. */
  name: string;
  /** File of its wearer, relative to the design. */
  wearer?: string;
  /** File of the printer it is meant for, relative to the design. */
  printer?: string;
  /** File of the material it is printed in, relative to the design. */
  material?: string;
  /** Values that can be set without a change of the file. */
  parameters?: P;
  /** Room between head and piece, mm: of girth, as milliners give it, or all round. The wearer's unless given. */
  ease?: { girth: number } | { offset: number };
  /** How it is printed: a file of print settings relative to the design, or settings of its own; usual ones unless given. */
  print?: string | PrintOptions;
  /** Limits of fit and wear that are its own, for example `{ nodForward: 45 }`: see each for its default. */
  limits?: LimitValues;
  /** Another seed gives other random numbers; 1 unless given. */
  seed?: number;
  /** Builds the parts: a pure function of the head, the parameters and the random numbers. */
  make(given: Make<P>): Parts;
}

const headpieceNames = [
  "name",
  "wearer",
  "printer",
  "material",
  "parameters",
  "ease",
  "print",
  "limits",
  "seed",
  "make",
] as const;

const marker = Symbol.for("anadem.headpiece");

/** A declared headpiece: what a design file gives as its default export. */
export interface Headpiece {
  readonly [marker]: true;
  readonly name: string;
  readonly wearer?: string;
  readonly printer?: string;
  readonly material?: string;
  readonly easeOffset?: number;
  readonly print: PrintChoice;
  readonly limits?: LimitValues;
  readonly seed: number;
  readonly parameters: Declared;
  readonly make: (given: Make<never>) => Parts;
  readonly origin?: Place;
}

/**
 * Declares a headpiece: what a design file exports.
 * @example
 * export default headpiece({
 *   name: "Reed circlet",
 *   wearer: "marsh-warden.wearer.json",
 *   parameters: { reeds: count(24, { least: 8, most: 60 }) },
 *   make: ({ head, parameters, random }) => [band("ring", head.girthLine, { radius: 5 })],
 * });
 */
export function headpiece<const P extends Declared = Record<never, never>>(
  definition: HeadpieceOptions<P>,
): Headpiece {
  options(definition, "headpiece", headpieceNames);
  text(definition.name, "name of the headpiece");
  if (typeof definition.make !== "function") {
    throw designError({
      id: "no-make",
      text: `make of "${definition.name}" is ${shown(definition.make)}, not a function`,
      suggestion: "write make({ head, parameters, random }) { return […]; }",
    });
  }
  for (const key of ["wearer", "printer", "material"] as const) {
    if (definition[key] !== undefined) text(definition[key], key);
  }
  const parameters: Declared = definition.parameters ?? {};
  for (const [name, parameter] of Object.entries(
    options(parameters, "parameters", Object.keys(parameters)),
  )) {
    if (parameter?.declaration) continue;
    throw designError({
      id: "not-a-parameter",
      text: `parameter "${name}" is ${shown(parameter)}`,
      suggestion: "declare it with count, length, angle, choice or toggle",
    });
  }
  const { wearer, printer, material } = definition;
  const limits = definition.limits && limitsOf(definition.limits);
  const easeOffset = easeOf(definition.ease);
  const origin = placeOfCall();
  return {
    [marker]: true,
    name: definition.name,
    ...(wearer !== undefined && { wearer }),
    ...(printer !== undefined && { printer }),
    ...(material !== undefined && { material }),
    ...(easeOffset !== undefined && { easeOffset }),
    print: printChoiceOf(definition.print ?? {}),
    ...(limits && { limits }),
    seed: number(definition.seed ?? 1, "seed", { whole: true }),
    parameters,
    make: definition.make as Headpiece["make"],
    ...(origin && { origin }),
  };
}

/** Whether a value was made by `headpiece`. */
export const isHeadpiece = (value: unknown): value is Headpiece =>
  typeof value === "object" && value !== null && marker in value;

/** The parameters of a headpiece as data. */
export const declarationsOf = (piece: Headpiece): ParameterDeclaration[] =>
  Object.entries(piece.parameters).map(([name, { declaration }]) => ({ name, ...declaration }));

/** Ease as an offset, mm. */
function easeOf(ease: HeadpieceOptions<Declared>["ease"]): number | undefined {
  if (ease === undefined) return undefined;
  options(ease as { girth?: number; offset?: number }, "ease", ["girth", "offset"]);
  if ("girth" in ease && "offset" in ease) {
    throw designError({
      id: "two-eases",
      text: "ease has a girth and an offset",
      suggestion: "give one of them: offset = girth ease / 2π",
    });
  }
  return "girth" in ease
    ? offsetOfGirthEase(number(ease.girth, "girth of ease", { least: -20, most: 120 }))
    : number(ease.offset, "offset of ease", { least: -3, most: 20 });
}

function limitsOf(limits: LimitValues): LimitValues {
  options(limits, "limits", limitNames);
  const [problem] = limitProblems(limits as Readonly<Record<string, unknown>>);
  if (problem) {
    const { id, text, suggestion } = problem;
    throw designError({ id, text, suggestion });
  }
  return { ...limits };
}
