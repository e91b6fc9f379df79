import type { ParameterDeclaration, ParameterValue } from "../../design/part";
import type { DesignMessage } from "../protocol";

export type Values = Readonly<Record<string, ParameterValue>>;

/**
 * The values of the controls. What a person set is held until the extension shows the same, so that a control never
 * jumps back under the hand while an older build reports.
 */
export interface ParameterState {
  readonly declarations: readonly ParameterDeclaration[];
  readonly fileValues: Values;
  /** As the extension last told them. */
  readonly told: Values;
  /** As the person set them and the extension has not told yet. */
  readonly held: Values;
}

export const noParameters: ParameterState = { declarations: [], fileValues: {}, told: {}, held: {} };

/** After a message about the design; `isOther` where it is about another design than the last. */
export function told(state: ParameterState, design: DesignMessage, isOther: boolean): ParameterState {
  const held: Record<string, ParameterValue> = {};
  for (const declaration of isOther ? [] : design.parameters) {
    const { name } = declaration;
    if (!Object.hasOwn(state.held, name)) continue;
    const value = state.held[name];
    const isWritten = state.fileValues[name] !== design.fileValues[name];
    if (value !== design.values[name] && !isWritten && isAllowed(declaration, value)) held[name] = value;
  }
  return {
    declarations: design.parameters,
    fileValues: design.fileValues,
    told: design.values,
    held,
  };
}

/** After the person set one. */
export const set = (state: ParameterState, name: string, value: ParameterValue): ParameterState => ({
  ...state,
  held: { ...state.held, [name]: value },
});

/** After the person went back to what the file says. */
export const reset = (state: ParameterState): ParameterState => ({
  ...state,
  held: Object.fromEntries(state.declarations.map(({ name }) => [name, fileValue(state, name)])),
});

/** The value that a control shows. */
export function shownValue(state: ParameterState, name: string): ParameterValue {
  if (Object.hasOwn(state.held, name)) return state.held[name];
  return Object.hasOwn(state.told, name) ? state.told[name] : fileValue(state, name);
}

/** What the file says, or the declared default where it says nothing. */
export function fileValue(state: ParameterState, name: string): ParameterValue {
  if (Object.hasOwn(state.fileValues, name)) return state.fileValues[name];
  return state.declarations.find((declaration) => declaration.name === name)?.default ?? "";
}

/** The values that differ from the file's, by name. */
export function differences(state: ParameterState): Record<string, ParameterValue> {
  return Object.fromEntries(
    state.declarations
      .map(({ name }) => [name, shownValue(state, name)] as const)
      .filter(([name, value]) => value !== fileValue(state, name)),
  );
}

/** Whether a parameter may be set to a value. */
export function isAllowed(declaration: ParameterDeclaration, value: ParameterValue): boolean {
  if (declaration.kind === "toggle") return typeof value === "boolean";
  if (declaration.kind === "choice") return (declaration.choices ?? []).includes(value as string);
  return typeof value === "number" && problemOf(declaration, value) === undefined;
}

/** Why a number is not allowed, as a sentence for the person; undefined where it is. */
export function problemOf(declaration: ParameterDeclaration, value: number): string | undefined {
  const { kind, least, most, unit } = declaration;
  if (!Number.isFinite(value)) return "Enter a number.";
  if (kind === "count" && !Number.isInteger(value)) return "Enter a whole number.";
  const space = unit === "mm" ? " " : "";
  if (least !== undefined && value < least) return `At least ${least}${space}${unit}.`;
  if (most !== undefined && value > most) return `At most ${most}${space}${unit}.`;
  return undefined;
}

/**
 * Ends and step of a slider; undefined where the declaration does not bound it. The step is a round one that gives at
 * most a few hundred places and meets the default.
 */
export function sliderRange(
  declaration: ParameterDeclaration,
): { readonly least: number; readonly most: number; readonly step: number } | undefined {
  const isAngle = declaration.kind === "angle";
  const least = declaration.least ?? (isAngle ? -180 : undefined);
  const most = declaration.most ?? (isAngle ? 180 : undefined);
  if (least === undefined || most === undefined || !(most > least)) return undefined;
  if (declaration.kind === "count") return { least, most, step: 1 };
  const usual = most - least >= 100 ? 1 : most - least >= 20 ? 0.5 : most - least >= 4 ? 0.1 : 0.01;
  const start = Number(declaration.default) - least;
  const step = [usual, 0.5, 0.25, 0.1, 0.05, 0.01]
    .filter((size) => size <= usual)
    .find((size) => Math.abs(start / size - Math.round(start / size)) < 1e-6);
  return { least, most, step: step ?? 0.001 };
}

/** A parameter's name as a label: `sweepAngle` is "Sweep angle". */
export function labelOf(name: string): string {
  const words = name
    .replaceAll(/[_$]+/g, " ")
    .replaceAll(
      /(\p{Ll}|\d)(\p{Lu})/gu,
      (_, before: string, after: string) => `${before} ${after.toLowerCase()}`,
    )
    .trim();
  return words === "" ? name : words.charAt(0).toUpperCase() + words.slice(1);
}
