import { didYouMean } from "./nearestName";

/** What is to be known of one number that a person may set. */
export interface DeclaredNumber {
  readonly default: number;
  readonly unit: string;
  readonly least: number;
  readonly most: number;
  /** A whole number only. */
  readonly whole?: true;
  readonly help: string;
  /** Where the default comes from. */
  readonly source: string;
}

/** Something wrong with numbers as they were set. */
export interface NumberProblem<Unknown extends string> {
  readonly id: Unknown | "not-a-number" | "out-of-range";
  readonly name: string;
  readonly text: string;
  readonly suggestion: string;
}

/** How a group of numbers is spoken of. */
export interface NumberWords<Unknown extends string> {
  /** Id of the problem that a name is none of them. */
  readonly id: Unknown;
  /** One of them: "limit". */
  readonly one: string;
  /** How one is called where its value is wrong. */
  readonly called: (name: string) => string;
}

/** What is wrong with a group of numbers: names that are none, values that are no numbers or out of range. */
export function numberProblems<Unknown extends string>(
  values: Readonly<Record<string, unknown>>,
  declarations: Readonly<Record<string, DeclaredNumber>>,
  { id, one, called }: NumberWords<Unknown>,
): NumberProblem<Unknown>[] {
  return Object.entries(values).flatMap(([name, value]): NumberProblem<Unknown>[] => {
    if (!Object.hasOwn(declarations, name)) {
      const names = Object.keys(declarations);
      const known = `the ${one}s are ${names.join(", ")}`;
      const suggestion = didYouMean(name, names) ?? known;
      return [{ id, name, text: `there is no ${one} "${name}"`, suggestion }];
    }
    const { least, most, unit, help, whole } = declarations[name];
    const suffix = unit && ` ${unit}`;
    const suggestion = `give a ${whole ? "whole number" : "number"} from ${least} to ${most}${suffix} (${help})`;
    if (typeof value !== "number" || !Number.isFinite(value)) {
      const shown = typeof value === "string" ? JSON.stringify(value.slice(0, 40)) : String(value);
      return [{ id: "not-a-number", name, text: `${called(name)} is ${shown}, not a number`, suggestion }];
    }
    const isWrong = value < least || value > most || (whole && !Number.isInteger(value));
    return isWrong
      ? [{ id: "out-of-range", name, text: `${called(name)} is ${value}${suffix}`, suggestion }]
      : [];
  });
}
