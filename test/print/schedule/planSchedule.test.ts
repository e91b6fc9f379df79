import { describe, expect, test } from "vitest";
import { dayOf, weekdays } from "../../../src/print/schedule/calendar";
import { exactSchedule } from "../../../src/print/schedule/exactSchedule";
import { byDueDate, byLength, listSchedule } from "../../../src/print/schedule/listSchedule";
import { mendingOf } from "../../../src/print/schedule/mending";
import { planSchedule } from "../../../src/print/schedule/planSchedule";
import type { PrinterTime } from "../../../src/print/schedule/printerTime";
import {
  changeHours,
  compareCosts,
  costOf,
  type PrintTask,
  type ScheduleCost,
  timed,
} from "../../../src/print/schedule/schedule";
import { searchSchedule } from "../../../src/print/schedule/searchSchedule";
import { always, seeded } from "./rig";

const monday = dayOf("2027-03-01")!;

describe("by hand", () => {
  test("one printer, three prints: the one that is due first is printed first", () => {
    const tasks: PrintTask[] = [
      { due: 40, hours: [10] },
      { due: 12, hours: [10] },
      { due: 24, hours: [10] },
    ];
    const { prints, method, cost } = planSchedule(tasks, [always]);
    expect(method).toBe("exact");
    expect(prints.map(({ task, start, end }) => [task, start, end])).toEqual([
      [1, 0, 10],
      [2, 10.5, 20.5],
      [0, 21, 31],
    ]);
    expect(cost).toEqual({ unplaced: 0, lateness: -2, last: 31 });
    // Back from the end: the last may begin at 30, the one before it at min(24, 29.5) − 10 = 14, the first at 12 − 10 = 2.
    expect(prints.map(({ latestStart, slack, late }) => [latestStart, slack, late])).toEqual([
      [2, 2, 0],
      [14, 3.5, 0],
      [30, 9, 0],
    ]);
  });

  test("two printers that are not alike: what only fits the large one goes there", () => {
    const tasks: PrintTask[] = [
      { due: 30, hours: [undefined, 20] },
      { due: 30, hours: [12, 6] },
      { due: 30, hours: [11, 5] },
    ];
    const { prints, unplaced } = planSchedule(tasks, [always, always]);
    expect(unplaced).toEqual([]);
    const printerOf = (task: number) => prints.find((print) => print.task === task)!.printer;
    expect([0, 1, 2].map(printerOf)).toEqual([1, 0, 0]);
  });

  test("late by how much, and what would mend it", () => {
    const tasks: PrintTask[] = [1, 2].map(() => ({ due: 24 * monday + 20, hours: [10] }));
    const hall: PrinterTime = { attended: [8, 20], weekdays, from: monday, hoursADay: 24 };
    const { prints } = planSchedule(tasks, [hall]);
    // 08:00 to 18:00, then 18:30 to 04:30: 8.5 h after 20:00.
    expect(prints.map(({ late }) => late)).toEqual([0, 8.5]);
    // The first would have to begin before the printer's first day, so that there is no latest start.
    expect(prints.map(({ slack }) => slack)).toEqual([-Infinity, -8.5]);
    expect(mendingOf(tasks, [hall], 5)).toEqual({ daysEarlier: 1, onePrinterMore: [0] });
    expect(mendingOf(tasks, [hall], 0)).toEqual({ onePrinterMore: [0] });
  });

  test("a print without a printer is told, and the others are placed", () => {
    const { prints, unplaced, cost } = planSchedule(
      [
        { due: 10, hours: [undefined] },
        { due: 10, hours: [3] },
      ],
      [always],
    );
    expect(unplaced).toEqual([0]);
    expect(prints.map(({ task }) => task)).toEqual([1]);
    expect(cost.unplaced).toBe(1);
  });

  test("nothing to print, or nothing to print on", () => {
    expect(planSchedule([], [always])).toMatchObject({ prints: [], unplaced: [] });
    expect(planSchedule([{ due: 1, hours: [] }], [])).toMatchObject({ prints: [], unplaced: [0] });
  });
});

describe("against published results", () => {
  /** Lengths without the change that follows each print: sums of lengths are then ends and half an hour. */
  const tasksOf = (lengths: readonly number[]): PrintTask[] =>
    lengths.map((length) => ({ due: 0, hours: [length - changeHours, length - changeHours] }));

  test("longest first on two machines: 7 where 6 is best (Graham 1969, the case in which the bound 4/3 − 1/(3m) is met)", () => {
    const tasks = tasksOf([3, 3, 2, 2, 2]);
    const two = [always, always];
    const longestFirst = listSchedule(tasks, two, byLength(tasks));
    expect(costOf(tasks, longestFirst).last + changeHours).toBe(7);
    expect(costOf(tasks, exactSchedule(tasks, two, longestFirst)).last + changeHours).toBe(6);
    expect(7 / 6).toBeCloseTo(4 / 3 - 1 / (3 * 2), 12);
  });

  test("by due date is best on one machine (Jackson 1955)", () => {
    const seed = 1955;
    const draw = seeded(seed);
    for (let i = 0; i < 40; i++) {
      const tasks = Array.from({ length: draw(1, 8) }, () => ({ due: draw(1, 60), hours: [draw(1, 12)] }));
      const byDate = costOf(tasks, listSchedule(tasks, [always], byDueDate(tasks)));
      const best = planSchedule(tasks, [always]).cost;
      expect(best.lateness, `seed ${seed}, ${i}`).toBe(byDate.lateness);
    }
  });

  test("a list schedule is at most 2 − 1/m times as long as the best (Graham 1969)", () => {
    const seed = 1969;
    const draw = seeded(seed);
    for (let i = 0; i < 40; i++) {
      const machines = draw(2, 3);
      const tasks = Array.from({ length: draw(3, 8) }, () => {
        const length = draw(2, 15) - changeHours;
        return { due: 0, hours: Array.from({ length: machines }, () => length) };
      });
      const printers = Array.from({ length: machines }, () => always);
      const inGivenOrder = listSchedule(
        tasks,
        printers,
        tasks.map((_, at) => at),
      );
      const best = planSchedule(tasks, printers).cost.last + changeHours;
      const listed = costOf(tasks, inGivenOrder).last + changeHours;
      expect(listed, `seed ${seed}, ${i}`).toBeLessThanOrEqual((2 - 1 / machines) * best + 1e-9);
    }
  });
});

/** Every order on every printer, tried. */
function bestByTrying(tasks: readonly PrintTask[], printers: readonly PrinterTime[]): ScheduleCost {
  let best: ScheduleCost = { unplaced: Infinity, lateness: Infinity, last: Infinity };
  const orders: number[][] = printers.map(() => []);
  const place = (left: readonly number[]) => {
    const cost = costOf(tasks, timed(tasks, printers, orders));
    if (compareCosts(cost, best) < 0) best = cost;
    for (const task of left) {
      for (const order of orders) {
        order.push(task);
        place(left.filter((other) => other !== task));
        order.pop();
      }
    }
  };
  place(tasks.map((_, i) => i));
  return best;
}

/** Printers with gaps and prints of all kinds. */
function instance(draw: (least: number, most: number) => number, size: number) {
  const printers = Array.from({ length: draw(1, 3) }, (): PrinterTime => {
    const from = draw(6, 10);
    return {
      attended: [from, draw(from + 4, 22)],
      weekdays: weekdays.filter((_, day) => day < 2 || draw(0, 2) > 0),
      from: monday + draw(0, 2),
      ...(draw(0, 3) === 0 && { until: monday + draw(3, 9) }),
      hoursADay: draw(0, 2) === 0 ? draw(6, 14) : 24,
    };
  });
  const tasks = Array.from({ length: size }, (): PrintTask => {
    const hours = draw(2, 40) / 2;
    return {
      due: 24 * (monday + draw(0, 6)) + 20,
      hours: printers.map(() => (draw(0, 5) === 0 ? undefined : hours + draw(0, 8) / 2)),
    };
  });
  return { printers, tasks };
}

describe("against trying everything", () => {
  test("the exact way is never worse and never better", () => {
    const seed = 77;
    const draw = seeded(seed);
    for (let i = 0; i < 40; i++) {
      const { printers, tasks } = instance(draw, draw(1, 4));
      const found = planSchedule(tasks, printers);
      const best = bestByTrying(tasks, printers);
      expect(found.cost, `seed ${seed}, ${i}`).toEqual(best);
      demandRight(tasks, printers, found.prints, `seed ${seed}, ${i}`);
    }
  });

  test("the search is no worse than the list it begins with, and mostly the best", () => {
    const seed = 78;
    const draw = seeded(seed);
    let asGood = 0;
    const count = 30;
    for (let i = 0; i < count; i++) {
      const { printers, tasks } = instance(draw, 7);
      const list = listSchedule(tasks, printers);
      const searched = searchSchedule(tasks, printers, list);
      const cost = costOf(tasks, searched);
      const best = costOf(tasks, exactSchedule(tasks, printers, list));
      expect(compareCosts(cost, costOf(tasks, list))).toBeLessThanOrEqual(0);
      expect(compareCosts(best, cost)).toBeLessThanOrEqual(0);
      if (compareCosts(best, cost) === 0) asGood++;
      demandRight(tasks, printers, searched, `seed ${seed}, ${i}`);
    }
    expect(asGood).toBeGreaterThanOrEqual(count * 0.7);
  });

  test("a large cast: all placed, none at the same time on one printer, the same twice", () => {
    const draw = seeded(79);
    const { printers, tasks } = instance(draw, 30);
    const open = printers.map(({ until: _, ...time }) => ({ ...time, hoursADay: 24 }));
    const all = tasks.map((task) => ({ ...task, hours: task.hours.map((hours) => hours ?? 9) }));
    const plan = planSchedule(all, open);
    expect(plan.method).toBe("search");
    expect(plan.unplaced).toEqual([]);
    demandRight(all, open, plan.prints, "30 prints");
    expect(planSchedule(all, open)).toEqual(plan);
  });
});

/** Each print once, of its length, none over another. */
function demandRight(
  tasks: readonly PrintTask[],
  printers: readonly PrinterTime[],
  prints: readonly { task: number; printer: number; start: number; end: number }[],
  what: string,
) {
  expect(new Set(prints.map(({ task }) => task)).size, what).toBe(prints.length);
  for (const { task, printer, start, end } of prints) {
    expect(end - start, what).toBeCloseTo(tasks[task].hours[printer]!, 9);
    const hour = start % 24;
    const { attended } = printers[printer];
    expect(hour >= attended[0] && hour <= attended[1], `${what}: begins at ${hour}`).toBe(true);
    for (const other of prints) {
      if (other.task === task || other.printer !== printer) continue;
      expect(other.start >= end + changeHours - 1e-9 || start >= other.end + changeHours - 1e-9, what).toBe(
        true,
      );
    }
  }
}
