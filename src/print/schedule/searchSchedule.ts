import type { PrinterTime } from "./printerTime";
import {
  compareCosts,
  costOf,
  type PrintTask,
  type ScheduleCost,
  type ScheduledPrint,
  timed,
} from "./schedule";

/** Schedules that are looked at, at most. */
const mostTried = 20_000;

type Orders = readonly (readonly number[])[];

/**
 * Betters a schedule by moving one print to another place, or changing two, as long as that helps: the same from the
 * same start, and no worse than it. It need not be the best of all.
 */
export function searchSchedule(
  tasks: readonly PrintTask[],
  printers: readonly PrinterTime[],
  start: readonly ScheduledPrint[],
): readonly ScheduledPrint[] {
  let orders = ordersOf(start, tasks.length, printers.length);
  let prints: readonly ScheduledPrint[] = start;
  let cost = fullCost(tasks, prints);
  let tried = 0;
  for (let hasBettered = true; hasBettered && tried < mostTried; ) {
    hasBettered = false;
    for (const next of neighbours(orders, tasks)) {
      if (++tried > mostTried) break;
      const candidate = timed(tasks, printers, next);
      const its = fullCost(tasks, candidate);
      if (compareFull(its, cost) >= 0) continue;
      [orders, prints, cost, hasBettered] = [next, candidate, its, true];
      break;
    }
  }
  return prints;
}

/** On a plain of equal cost the sum of ends says which way is down. */
interface FullCost extends ScheduleCost {
  readonly sum: number;
}

const fullCost = (tasks: readonly PrintTask[], prints: readonly ScheduledPrint[]): FullCost => ({
  ...costOf(tasks, prints),
  sum: prints.reduce((sum, { end }) => sum + end, 0),
});

const compareFull = (a: FullCost, b: FullCost): number => {
  const first = compareCosts(a, b);
  return first !== 0 ? first : Math.abs(a.sum - b.sum) < 1e-6 ? 0 : a.sum - b.sum;
};

/** Prints in order on each printer; those without a place wait behind the last printer. */
function ordersOf(prints: readonly ScheduledPrint[], tasks: number, printers: number): Orders {
  const orders: number[][] = Array.from({ length: printers + 1 }, () => []);
  const sorted = [...prints].sort((a, b) => a.start - b.start);
  for (const { task, printer } of sorted) orders[printer].push(task);
  const placed = new Set(prints.map(({ task }) => task));
  for (let task = 0; task < tasks; task++) if (!placed.has(task)) orders[printers].push(task);
  return orders;
}

function* neighbours(orders: Orders, tasks: readonly PrintTask[]): Generator<Orders> {
  const last = orders.length - 1;
  const fits = (task: number, printer: number) => tasks[task].hours[printer] !== undefined;
  for (let from = 0; from <= last; from++) {
    for (let at = 0; at < orders[from].length; at++) {
      const task = orders[from][at];
      for (let to = 0; to < last; to++) {
        if (!fits(task, to)) continue;
        const without = orders[from].filter((_, i) => i !== at);
        const target = to === from ? without : orders[to];
        for (let place = 0; place <= target.length; place++) {
          if (to === from && place === at) continue;
          const changed = [...target.slice(0, place), task, ...target.slice(place)];
          yield orders.map((order, i) => (i === to ? changed : i === from ? without : order));
        }
      }
    }
  }
  for (let a = 0; a < last; a++) {
    for (let i = 0; i < orders[a].length; i++) {
      for (let b = a; b < last; b++) {
        for (let j = b === a ? i + 1 : 0; j < orders[b].length; j++) {
          const [one, other] = [orders[a][i], orders[b][j]];
          if (!fits(one, b) || !fits(other, a)) continue;
          yield orders.map((order, k) =>
            k !== a && k !== b
              ? order
              : order.map((task) => (task === one ? other : task === other ? one : task)),
          );
        }
      }
    }
  }
}
