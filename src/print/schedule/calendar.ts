/**
 * Dates as whole days since 1970-01-01 and moments as hours since then, both of the calendar on the wall: no time zone
 * and no clock has a say. Written as ISO 8601.
 */

/** Days that have no date written in four digits are refused. */
const written = /^(\d{4})-(\d{2})-(\d{2})$/;
const dayLength = 86_400_000;

/** The day of a date such as `2027-05-14`; undefined where it is none, as `2027-02-30`. */
export function dayOf(date: string): number | undefined {
  const [, year, month, day] = written.exec(date)?.map(Number) ?? [];
  if (year === undefined) return undefined;
  const days = Date.UTC(year, month - 1, day) / dayLength;
  return Number.isFinite(days) && dateOf(days) === date ? days : undefined;
}

/** The date of a day, such as `2027-05-14`. */
export const dateOf = (day: number): string => new Date(day * dayLength).toISOString().slice(0, 10);

export const weekdays = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"] as const;
export type Weekday = (typeof weekdays)[number];

/** 1970-01-01 was a Thursday. */
export const weekdayOf = (day: number): Weekday => weekdays[(((day + 3) % 7) + 7) % 7];

/** The day that a moment lies in. */
export const dayOfMoment = (moment: number): number => Math.floor(moment / 24);

/** A moment to the minute: `2027-05-14T08:30`. */
export function momentOf(moment: number): string {
  const minutes = Math.round(moment * 60);
  const day = Math.floor(minutes / 1440);
  const rest = minutes - 1440 * day;
  const two = (value: number) => String(value).padStart(2, "0");
  return `${dateOf(day)}T${two(Math.floor(rest / 60))}:${two(rest % 60)}`;
}
