/**
 * What messages between an editor and its webviews are checked with: the other side may be older, newer or broken, and
 * nothing of it is believed unseen. Fields that are not known are let through and not read.
 */
export type Guard = (value: unknown) => boolean;
export type Fields = Readonly<Record<string, Guard>>;

/** An object of named fields: no list, no map, no buffer. */
export const isRecord = (value: unknown): value is Record<string, unknown> =>
  Object.prototype.toString.call(value) === "[object Object]";

export const isText = (value: unknown): value is string => typeof value === "string";
export const isName: Guard = (value) => typeof value === "string" && value !== "";
export const isFlag: Guard = (value) => typeof value === "boolean";
export const isNumber: Guard = (value) => Number.isFinite(value);
export const isNotNegative: Guard = (value) => Number.isFinite(value) && (value as number) >= 0;
export const isShare: Guard = (value) => isNotNegative(value) && (value as number) <= 1;
export const isWhole: Guard = (value) => Number.isSafeInteger(value) && (value as number) >= 0;
export const isFromOne: Guard = (value) => isWhole(value) && (value as number) >= 1;

export const among =
  (...words: readonly unknown[]): Guard =>
  (value) =>
    words.includes(value);
export const maybe =
  (guard: Guard): Guard =>
  (value) =>
    value === undefined || guard(value);
export const listOf =
  (guard: Guard): Guard =>
  (value) =>
    Array.isArray(value) && value.every(guard);
export const tableOf =
  (guard: Guard): Guard =>
  (value) =>
    isRecord(value) && Object.values(value).every(guard);
export const both =
  (first: Guard, second: Guard): Guard =>
  (value) =>
    first(value) && second(value);
export const withFields =
  (fields: Fields): Guard =>
  (value) =>
    isRecord(value) &&
    Object.entries(fields).every(([name, guard]) =>
      guard(Object.hasOwn(value, name) ? value[name] : undefined),
    );

/** Whether a value is a message of one of these kinds, whole and well-formed. */
export function isOneOf(guards: Fields, value: unknown): boolean {
  if (!isRecord(value)) return false;
  const { kind } = value;
  return typeof kind === "string" && Object.hasOwn(guards, kind) && guards[kind](value);
}
