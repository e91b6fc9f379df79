import { dayOfMoment, type Weekday, weekdayOf } from "./calendar";

/** When prints may run on a printer. Days and moments as in `calendar.ts`. */
export interface PrinterTime {
  /** Hours of the day between which somebody is there to begin a print. */
  readonly attended: readonly [from: number, to: number];
  /** Weekdays on which a print may be begun. */
  readonly weekdays: readonly Weekday[];
  /** First day on which it may be begun. */
  readonly from: number;
  /** Last day on which it may run. */
  readonly until?: number;
  /**
   * Hours that it may run a day, from the first attended hour on. With 24 a print goes on over night; with fewer it has
   * to end on the day on which it was begun: one that has cooled down comes off the plate (common practice, no source).
   */
  readonly hoursADay: number;
}

/** Days that are looked through for a start: ten years. */
const mostDays = 3660;

/** The first moment from `after` on at which a print of so many hours may be begun; Infinity where there is none. */
export function earliestStart(time: PrinterTime, after: number, hours: number): number {
  if (!canEver(time, hours)) return Infinity;
  const first = Math.max(time.from, dayOfMoment(after));
  for (let day = first; day <= first + mostDays; day++) {
    if (time.until !== undefined && day > time.until) return Infinity;
    const [from, to] = starts(time, day, hours);
    const start = Math.max(from, after);
    if (start <= to) return start;
  }
  return Infinity;
}

/** The last moment at which it may be begun so that it ends by `end`; −Infinity where there is none. */
export function latestStart(time: PrinterTime, end: number, hours: number): number {
  if (!canEver(time, hours)) return -Infinity;
  const last = Math.min(dayOfMoment(end - hours), time.until ?? Infinity);
  for (let day = last; day >= Math.max(time.from, last - mostDays); day--) {
    const [from, to] = starts(time, day, hours);
    const start = Math.min(to, end - hours);
    if (start >= from) return start;
  }
  return -Infinity;
}

/** Hours that it may run from the first day to the last, both counted. */
export function hoursBetween(time: PrinterTime, first: number, last: number): number {
  let sum = 0;
  const end = Math.min(last, time.until ?? last);
  for (let day = Math.max(first, time.from); day <= end; day++) {
    // What goes on over night goes on over a free day too.
    if (time.hoursADay >= 24 || time.weekdays.includes(weekdayOf(day))) sum += Math.min(24, time.hoursADay);
  }
  return sum;
}

const canEver = ({ hoursADay, weekdays }: PrinterTime, hours: number): boolean =>
  weekdays.length > 0 && (hoursADay >= 24 || hours <= hoursADay);

/** From when to when a print of so many hours may be begun on a day; empty (from after to) where it may not. */
function starts(time: PrinterTime, day: number, hours: number): readonly [from: number, to: number] {
  const { attended, weekdays, until, hoursADay } = time;
  const [from, to] = [24 * day + attended[0], 24 * day + attended[1]];
  if (!weekdays.includes(weekdayOf(day))) return [from, -Infinity];
  const sameDay = hoursADay >= 24 ? Infinity : from + hoursADay - hours;
  const beforeEnd = until === undefined ? Infinity : 24 * (until + 1) - hours;
  return [from, Math.min(to, sameDay, beforeEnd)];
}
