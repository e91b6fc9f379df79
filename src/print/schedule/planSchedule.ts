import { exactSchedule, mostExact } from "./exactSchedule";
import { byDueDate, byLength, listSchedule } from "./listSchedule";
import { latestStart, type PrinterTime } from "./printerTime";
import {
  changeHours,
  compareCosts,
  costOf,
  type PrintTask,
  type ScheduleCost,
  type ScheduledPrint,
} from "./schedule";
import { searchSchedule } from "./searchSchedule";

/** A print in its place, and how long it can wait. */
export interface PlannedPrint extends ScheduledPrint {
  /** Latest start at which it, and all that follow on its printer, are in time; −Infinity where there is none. */
  readonly latestStart: number;
  /** Hours from the start to the latest one; below 0 where it, or one that follows, is late. */
  readonly slack: number;
  /** Hours that it ends after it is due; 0 where it is in time. */
  readonly late: number;
}

export interface Schedule {
  /** By start, then by printer. */
  readonly prints: readonly PlannedPrint[];
  /** Tasks that found no place. */
  readonly unplaced: readonly number[];
  readonly cost: ScheduleCost;
  /** `exact`: no schedule is better; `search`: none was found that is. */
  readonly method: "exact" | "search";
}

/**
 * Puts prints on printers so that as many as can be have a place; then so that the greatest lateness is least; then so
 * that the last ends soonest. Up to nine prints exactly, more by a search that gives the same answer every time.
 */
export function planSchedule(tasks: readonly PrintTask[], printers: readonly PrinterTime[]): Schedule {
  // Each first answer is good at one of the two things that count.
  const starts = [byDueDate(tasks), byLength(tasks)].map((order) => listSchedule(tasks, printers, order));
  const isExact = tasks.length <= mostExact;
  const found = isExact
    ? exactSchedule(tasks, printers, bestOf(tasks, starts))
    : bestOf(
        tasks,
        starts.map((start) => searchSchedule(tasks, printers, start)),
      );
  const placed = new Set(found.map(({ task }) => task));
  return {
    prints: withSlack(tasks, printers, found),
    unplaced: tasks.flatMap((_, task) => (placed.has(task) ? [] : [task])),
    cost: costOf(tasks, found),
    method: isExact ? "exact" : "search",
  };
}

function bestOf(
  tasks: readonly PrintTask[],
  schedules: readonly (readonly ScheduledPrint[])[],
): readonly ScheduledPrint[] {
  return schedules.reduce((best, one) =>
    compareCosts(costOf(tasks, one), costOf(tasks, best)) < 0 ? one : best,
  );
}

/** Latest starts from the last print of each printer back to its first. */
function withSlack(
  tasks: readonly PrintTask[],
  printers: readonly PrinterTime[],
  prints: readonly ScheduledPrint[],
): PlannedPrint[] {
  const planned = printers.flatMap((time, printer) => {
    let next = Infinity;
    return prints
      .filter((print) => print.printer === printer)
      .sort((a, b) => b.start - a.start)
      .map((print): PlannedPrint => {
        const { task, start, end } = print;
        const latest = latestStart(time, Math.min(tasks[task].due, next - changeHours), end - start);
        next = latest;
        return {
          ...print,
          latestStart: latest,
          slack: latest - start,
          late: Math.max(0, end - tasks[task].due),
        };
      });
  });
  return planned.sort((a, b) => a.start - b.start || a.printer - b.printer);
}
