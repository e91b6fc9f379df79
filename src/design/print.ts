import {
  greatestOrientationWeight,
  type Orientation,
  type OrientationChoice,
  type OrientationWeights,
  orientationWeightNames,
} from "../orientation";
import { type PrintSettings, printSettingNames, printSettingProblems } from "../printSettings";
import { number, options, shown, text } from "./check";
import { designError } from "./error";
import type { PrintChoice } from "./part";

/** How a headpiece is printed: print settings, and which way up. */
export interface PrintOptions extends Partial<PrintSettings> {
  /** File of print settings that these go before, relative to the design. */
  file?: string;
  /**
   * Which way up: `"as designed"`, `"best"` by the plan's search, or `{ tilt, towards, turn }` in degrees; as designed
   * unless given.
   */
  orientation?: "as designed" | "best" | { tilt: number; towards?: number; turn?: number };
  /** How much each thing counts in the search for the best orientation, 0 to 100. */
  orientationWeights?: Partial<OrientationWeights>;
}

/** What a design says about its print, checked. */
export function printChoiceOf(print: string | PrintOptions): PrintChoice {
  if (typeof print === "string") return { file: text(print, "print") };
  options(print, "print", ["file", "orientation", "orientationWeights", ...printSettingNames]);
  const { file, orientation, orientationWeights, ...settings } = print;
  const [problem] = printSettingProblems(
    Object.fromEntries(Object.entries(settings).filter(([, value]) => value !== undefined)),
  );
  if (problem)
    throw designError({ id: problem.id, text: `print: ${problem.text}`, suggestion: problem.suggestion });
  return {
    ...(file !== undefined && { file: text(file, "file of print") }),
    ...(Object.keys(settings).length > 0 && { settings: { ...settings } }),
    ...(orientation !== undefined && { orientation: orientationOf(orientation) }),
    ...(orientationWeights && { weights: weightsOf(orientationWeights) }),
  };
}

function orientationOf(given: NonNullable<PrintOptions["orientation"]>): OrientationChoice {
  if (given === "as designed" || given === "best") return given;
  if (typeof given !== "object" || given === null) {
    throw designError({
      id: "wrong-orientation",
      text: `orientation of print is ${shown(given)}`,
      suggestion: 'give "as designed", "best" or { tilt, towards, turn } in degrees',
    });
  }
  options(given, "orientation of print", ["tilt", "towards", "turn"]);
  const angle = (value: number, name: keyof Orientation, least: number, most: number) =>
    number(value, `${name} of orientation`, { least, most });
  return {
    tilt: angle(given.tilt, "tilt", 0, 180),
    towards: angle(given.towards ?? 0, "towards", -360, 360),
    turn: angle(given.turn ?? 0, "turn", -360, 360),
  };
}

function weightsOf(given: Partial<OrientationWeights>): Partial<OrientationWeights> {
  options(given, "orientationWeights of print", orientationWeightNames);
  for (const name of orientationWeightNames) {
    const value = given[name];
    if (value === undefined) continue;
    number(value, `${name} of orientationWeights`, { least: 0, most: greatestOrientationWeight });
  }
  return { ...given };
}
