import { earliestStart, type PrinterTime } from "./printerTime";
import {
  compareCosts,
  costOf,
  firstMoment,
  freeAfter,
  type PrintTask,
  type ScheduleCost,
  type ScheduledPrint,
} from "./schedule";

/** So many prints are scheduled exactly. */
export const mostExact = 9;

/** A set of prints in their places on the printers so far. */
interface Label {
  readonly set: number;
  /** When the present printer is free. */
  readonly free: number;
  readonly lateness: number;
  readonly last: number;
  readonly print?: ScheduledPrint;
  readonly before?: Label;
}

/**
 * The best schedule of all: branch and bound, printer after printer, each print appended to those before it. A part of
 * a schedule that has the same prints as another, and is nowhere better than it, is dropped (dominance over subsets, as
 * Held and Karp 1962, "A dynamic programming approach to sequencing problems"); so is one that can come to nothing
 * better than what is known.
 * @param known a schedule to begin with; it comes back where none is better
 * @throws RangeError for more prints than `mostExact`
 */
export function exactSchedule(
  tasks: readonly PrintTask[],
  printers: readonly PrinterTime[],
  known: readonly ScheduledPrint[],
): readonly ScheduledPrint[] {
  if (tasks.length > mostExact) {
    throw new RangeError(`At most ${mostExact} prints are scheduled exactly, not ${tasks.length}.`);
  }
  const best = costOf(tasks, known);
  const bound = new Bound(tasks, printers, best);
  let labels: Label[][] = [[{ set: 0, free: -Infinity, lateness: -Infinity, last: -Infinity }]];
  for (const [printer, time] of printers.entries()) {
    const next: Label[][] = Array.from({ length: 1 << tasks.length }, () => []);
    for (const label of labels.flat()) {
      keep(next[label.set], { ...label, free: firstMoment(time) });
    }
    // A print more makes the number of the set greater: each set is complete when it is reached.
    for (const front of next) {
      for (const label of front) {
        for (let task = 0; task < tasks.length; task++) {
          const hours = tasks[task].hours[printer];
          if (label.set & (1 << task) || hours === undefined) continue;
          const start = earliestStart(time, label.free, hours);
          if (!Number.isFinite(start)) continue;
          const end = start + hours;
          const longer: Label = {
            set: label.set | (1 << task),
            free: freeAfter(end),
            lateness: Math.max(label.lateness, end - tasks[task].due),
            last: Math.max(label.last, end),
            print: { task, printer, start, end },
            before: label,
          };
          if (!bound.excludes(longer, printer)) keep(next[longer.set], longer);
        }
      }
    }
    labels = next;
  }
  return bestOf(tasks, labels.flat(), best) ?? known;
}

/** Adds a label unless one is there that is nowhere worse, and drops those that it makes useless. */
function keep(front: Label[], label: Label): void {
  const isNoWorse = (a: Label, b: Label) => a.free <= b.free && a.lateness <= b.lateness && a.last <= b.last;
  if (front.some((other) => isNoWorse(other, label))) return;
  let kept = 0;
  for (const other of front) if (!isNoWorse(label, other)) front[kept++] = other;
  front.length = kept;
  front.push(label);
}

/** What tells that a part of a schedule comes to nothing better than the one that is known. */
class Bound {
  readonly #tasks: readonly PrintTask[];
  readonly #printers: readonly PrinterTime[];
  readonly #best: ScheduleCost;
  /** Earliest end of each print on the printers from each on, nothing before it. */
  readonly #later: readonly (readonly number[])[];

  constructor(tasks: readonly PrintTask[], printers: readonly PrinterTime[], best: ScheduleCost) {
    this.#tasks = tasks;
    this.#printers = printers;
    this.#best = best;
    this.#later = Array.from({ length: printers.length + 1 }, (_, from) =>
      tasks.map(({ hours }) =>
        Math.min(
          Infinity,
          ...printers.slice(from).map((time, i) => endOn(time, firstMoment(time), hours[from + i])),
        ),
      ),
    );
  }

  excludes(label: Label, printer: number): boolean {
    // Where prints found no place, one more that does is better than any lateness.
    if (this.#best.unplaced > 0) return false;
    let { lateness, last } = label;
    for (let task = 0; task < this.#tasks.length; task++) {
      if (label.set & (1 << task)) continue;
      const here = endOn(this.#printers[printer], label.free, this.#tasks[task].hours[printer]);
      const end = Math.min(here, this.#later[printer + 1][task]);
      lateness = Math.max(lateness, end - this.#tasks[task].due);
      last = Math.max(last, end);
    }
    return compareCosts({ unplaced: 0, lateness, last }, this.#best) >= 0;
  }
}

const endOn = (time: PrinterTime, free: number, hours: number | undefined): number =>
  hours === undefined ? Infinity : earliestStart(time, free, hours) + hours;

function bestOf(
  tasks: readonly PrintTask[],
  labels: readonly Label[],
  known: ScheduleCost,
): ScheduledPrint[] | undefined {
  let [best, found]: [ScheduleCost, Label | undefined] = [known, undefined];
  for (const label of labels) {
    const { lateness, last } = label;
    const cost = { unplaced: tasks.length - countOf(label.set), lateness, last };
    if (compareCosts(cost, best) < 0) [best, found] = [cost, label];
  }
  if (!found) return undefined;
  const prints: ScheduledPrint[] = [];
  for (let label: Label | undefined = found; label; label = label.before) {
    if (label.print) prints.unshift(label.print);
  }
  return prints;
}

function countOf(set: number): number {
  let count = 0;
  for (let rest = set; rest > 0; rest &= rest - 1) count++;
  return count;
}
