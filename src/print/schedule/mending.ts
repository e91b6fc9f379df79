import { planSchedule } from "./planSchedule";
import type { PrinterTime } from "./printerTime";
import type { PrintTask } from "./schedule";

/** What would bring late prints in time. */
export interface Mending {
  /** Days that all would have to begin earlier; absent where that does not help or was not allowed. */
  readonly daysEarlier?: number;
  /** Printers, by index, of which one more would do. */
  readonly onePrinterMore: readonly number[];
}

/** Earlier starts that are tried, in days. */
const mostDaysEarlier = 60;

/**
 * Looks for what would bring everything in time: an earlier beginning, or one more printer of a kind at hand.
 * @param most days that the beginning may be earlier at most
 * @param kinds printers, by index, of which one more is asked for: one of each kind
 */
export function mendingOf(
  tasks: readonly PrintTask[],
  printers: readonly PrinterTime[],
  most: number,
  kinds: readonly number[] = printers.map((_, i) => i),
): Mending {
  const isInTime = (set: readonly PrintTask[], times: readonly PrinterTime[]) => {
    const { cost, unplaced } = planSchedule(set, times);
    return unplaced.length === 0 && cost.lateness <= 1e-9;
  };
  const earlier = (days: number) =>
    isInTime(
      tasks,
      printers.map((time) => ({ ...time, from: time.from - days })),
    );
  const onePrinterMore = kinds.filter((kind) =>
    isInTime(
      tasks.map((task) => ({ ...task, hours: [...task.hours, task.hours[kind]] })),
      [...printers, printers[kind]],
    ),
  );
  const daysEarlier = leastThat(earlier, Math.min(Math.floor(most), mostDaysEarlier));
  return { ...(daysEarlier !== undefined && { daysEarlier }), onePrinterMore };
}

/** The least whole number from 1 to `most` that is enough, found by halving; undefined where `most` is not. */
function leastThat(isEnough: (value: number) => boolean, most: number): number | undefined {
  if (most < 1 || !isEnough(most)) return undefined;
  let [low, high] = [0, most];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (isEnough(middle)) high = middle;
    else low = middle;
  }
  return high;
}
