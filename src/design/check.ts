import { normalize, type Vec3 } from "../geometry/vector";
import { didYouMean } from "../nearestName";
import { designError } from "./error";

/** Checks on what a design hands to the language: each throws an error on the call that was wrong. */

interface Range {
  readonly least?: number;
  readonly most?: number;
  /** The least value itself is not allowed. */
  readonly above?: number;
  readonly whole?: boolean;
}

/** How a value reads in a message: short, and never its whole inside. */
export function shown(value: unknown): string {
  if (typeof value === "string") return JSON.stringify(value.length > 40 ? `${value.slice(0, 40)}…` : value);
  if (value === null || typeof value !== "object") {
    return typeof value === "function" ? "a function" : String(value);
  }
  if (Array.isArray(value)) return `a list of ${value.length}`;
  const keys = Object.keys(value);
  return keys.length > 0 ? `an object with ${keys.slice(0, 4).join(", ")}` : "an empty object";
}

/** `value` as a finite number within a range, or an error that names it. */
export function number(value: unknown, what: string, range: Range = {}): number {
  if (typeof value !== "number" || !Number.isFinite(value)) {
    throw designError({
      id: "not-a-number",
      text: `${what} is ${shown(value)}, not a number`,
      suggestion: `give ${wantedRange(range)}`,
    });
  }
  const low = range.least !== undefined && value < range.least;
  const notAbove = range.above !== undefined && value <= range.above;
  const high = range.most !== undefined && value > range.most;
  if (low || notAbove || high || (range.whole && !Number.isInteger(value))) {
    throw designError({
      id: "out-of-range",
      text: `${what} is ${value}`,
      suggestion: `give ${wantedRange(range)}`,
    });
  }
  return value;
}

function wantedRange({ least, most, above, whole }: Range): string {
  const kind = whole ? "a whole number" : "a number";
  const from = above !== undefined ? `above ${above}` : least !== undefined ? `of at least ${least}` : "";
  const to = most !== undefined ? `of at most ${most}` : "";
  return [kind, [from, to].filter(Boolean).join(" and ")].filter(Boolean).join(" ");
}

/** `value` as a text that is not empty. */
export function text(value: unknown, what: string): string {
  if (typeof value === "string" && value.trim() !== "") return value;
  throw designError({
    id: "not-a-text",
    text: `${what} is ${shown(value)}, not a text`,
    suggestion: `give ${what} in quotes`,
  });
}

/** `value` as one of the known words. */
export function oneOf<T extends string>(value: unknown, what: string, known: readonly T[]): T {
  if (known.includes(value as T)) return value as T;
  const meant = typeof value === "string" ? didYouMean(value, known) : undefined;
  throw designError({
    id: "unknown-word",
    text: `${what} is ${shown(value)}`,
    suggestion: meant ?? `give one of ${known.map((word) => `"${word}"`).join(", ")}`,
  });
}

/** Refuses options that are not known, so that a misspelt one is not silently ignored. */
export function options<T extends object>(value: T, what: string, known: readonly (keyof T & string)[]): T {
  if (value === null || typeof value !== "object" || Array.isArray(value)) {
    throw designError({
      id: "not-options",
      text: `${what} takes its options as an object, not ${shown(value)}`,
      suggestion: `write { ${known.slice(0, 3).join(": …, ")}: … }`,
    });
  }
  for (const key of Object.keys(value)) {
    if ((known as readonly string[]).includes(key)) continue;
    throw designError({
      id: "unknown-option",
      text: `${what} has no option "${key}"`,
      suggestion: didYouMean(key, known) ?? `it knows ${known.join(", ")}`,
    });
  }
  return value;
}

/** `value` as a unit direction, from `[x, y, z]` of any length above nothing. */
export function directionOf(value: unknown, what: string): Vec3 {
  if (!Array.isArray(value) || value.length !== 3) {
    throw designError({
      id: "no-direction",
      text: `${what} is ${shown(value)}, not a direction`,
      suggestion: "give a direction such as [0, 1, 0], which is forward",
    });
  }
  const [x, y, z] = value.map((component, axis) => number(component, `${"xyz"[axis]} of ${what}`));
  if (Math.hypot(x, y, z) > 1e-6) return normalize([x, y, z]);
  throw designError({
    id: "no-direction",
    text: `${what} is [${x}, ${y}, ${z}], which has no length`,
    suggestion: "give a direction such as [0, 1, 0], which is forward",
  });
}
