import { earliestStart, type PrinterTime } from "./printerTime";
import { firstMoment, freeAfter, type PrintTask, type ScheduledPrint } from "./schedule";

/**
 * Takes prints by due date (Jackson 1955, "Scheduling a production line to minimize maximum tardiness"), among equal
 * ones the longest first (Graham 1969, "Bounds on multiprocessing timing anomalies"), and puts each on the printer where
 * it ends first.
 * @param order indices of the tasks, where another order is wanted
 */
export function listSchedule(
  tasks: readonly PrintTask[],
  printers: readonly PrinterTime[],
  order: readonly number[] = byDueDate(tasks),
): ScheduledPrint[] {
  const free = printers.map(firstMoment);
  return order.flatMap((task): ScheduledPrint[] => {
    let best: ScheduledPrint | undefined;
    printers.forEach((time, printer) => {
      const hours = tasks[task].hours[printer];
      if (hours === undefined) return;
      const start = earliestStart(time, free[printer], hours);
      const end = start + hours;
      if (Number.isFinite(end) && !(best && best.end <= end)) best = { task, printer, start, end };
    });
    if (!best) return [];
    free[best.printer] = freeAfter(best.end);
    return [best];
  });
}

/** By due date, then the longest first, then as given. */
export const byDueDate = (tasks: readonly PrintTask[]): number[] =>
  tasks
    .map((_, i) => i)
    .sort((a, b) => tasks[a].due - tasks[b].due || shortest(tasks[b]) - shortest(tasks[a]) || a - b);

/** The longest first: what best fills printers evenly where all is due at once. */
export const byLength = (tasks: readonly PrintTask[]): number[] =>
  tasks.map((_, i) => i).sort((a, b) => shortest(tasks[b]) - shortest(tasks[a]) || a - b);

const shortest = ({ hours }: PrintTask): number => Math.min(...hours.map((each) => each ?? Infinity));
