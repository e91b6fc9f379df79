import { earliestStart, type PrinterTime } from "./printerTime";

/**
 * Prints on printers side by side that are not alike: in the terms of scheduling, unrelated parallel machines with
 * release dates, deadlines and times at which work may begin (Pinedo, *Scheduling: Theory, Algorithms, and Systems*).
 * Times in hours as in `calendar.ts`.
 */
export interface PrintTask {
  /** Moment by which it should have ended. */
  readonly due: number;
  /** Hours on each printer; undefined where it cannot be printed there. */
  readonly hours: readonly (number | undefined)[];
}

/** A print in its place. */
export interface ScheduledPrint {
  /** Indices. */
  readonly task: number;
  readonly printer: number;
  readonly start: number;
  readonly end: number;
}

/** What a schedule is judged by, the first first: less is better. */
export interface ScheduleCost {
  /** Prints that found no place. */
  readonly unplaced: number;
  /** Greatest lateness, h: end less due, so that it is below 0 where all are in time; −Infinity where none is placed. */
  readonly lateness: number;
  /** End of the last print. */
  readonly last: number;
}

/**
 * Between two prints on one printer: to cool, take the piece off, clean the plate, load filament, h. Common practice,
 * no source.
 */
export const changeHours = 0.5;

/** Differences below this are rounding, h. */
const exactly = 1e-9;

/** Which is better: below 0 the first, above 0 the second, 0 neither. */
export function compareCosts(a: ScheduleCost, b: ScheduleCost): number {
  if (a.unplaced !== b.unplaced) return a.unplaced - b.unplaced;
  const isNear = (x: number, y: number) => x === y || Math.abs(x - y) < exactly;
  if (!isNear(a.lateness, b.lateness)) return a.lateness - b.lateness;
  return isNear(a.last, b.last) ? 0 : a.last - b.last;
}

/** When the next print may begin at the earliest after one that ended. */
export const freeAfter = (end: number): number => end + changeHours;

/** Prints in a given order on each printer, each begun as soon as may be. Those that have no place there are left out. */
export function timed(
  tasks: readonly PrintTask[],
  printers: readonly PrinterTime[],
  orders: readonly (readonly number[])[],
): ScheduledPrint[] {
  return orders.flatMap((order, printer) => {
    let free = -Infinity;
    return order.flatMap((task): ScheduledPrint[] => {
      const hours = tasks[task].hours[printer];
      if (hours === undefined) return [];
      const start = earliestStart(printers[printer], Math.max(free, firstMoment(printers[printer])), hours);
      if (!Number.isFinite(start)) return [];
      free = freeAfter(start + hours);
      return [{ task, printer, start, end: start + hours }];
    });
  });
}

/** Nothing begins before its first day. */
export const firstMoment = ({ from }: PrinterTime): number => 24 * from;

export function costOf(tasks: readonly PrintTask[], prints: readonly ScheduledPrint[]): ScheduleCost {
  let [lateness, last] = [-Infinity, -Infinity];
  for (const { task, end } of prints) {
    lateness = Math.max(lateness, end - tasks[task].due);
    last = Math.max(last, end);
  }
  return { unplaced: tasks.length - prints.length, lateness, last };
}
