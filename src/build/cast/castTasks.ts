import { hoursBand } from "../../print/layers/filament";
import { planSchedule, type Schedule } from "../../print/schedule/planSchedule";
import type { PrinterTime } from "../../print/schedule/printerTime";
import type { PrintTask } from "../../print/schedule/schedule";
import type { Cast } from "./cast";
import { type CastRow, printersFor } from "./castCells";

/** One of the printers at hand: its kind, by index, and its number where there are several. */
export interface CastMachine {
  readonly kind: number;
  readonly name: string;
  readonly time: PrinterTime;
}

/** A copy of a piece that is to be printed. */
export interface CastTask extends PrintTask {
  readonly piece: number;
  /** From 1. */
  readonly copy: number;
}

export interface CastSchedule {
  readonly machines: readonly CastMachine[];
  readonly tasks: readonly CastTask[];
  readonly schedule: Schedule;
}

/** What is printed where, and when. @param begins first day on which can be printed */
export function scheduleOfCast(cast: Cast, rows: readonly CastRow[], begins: number): CastSchedule {
  const machines = machinesOf(cast, begins);
  const tasks = tasksOf(cast, rows, machines);
  const schedule = planSchedule(
    tasks,
    machines.map(({ time }) => time),
  );
  return { machines, tasks, schedule };
}

function machinesOf({ printers, attended }: Cast, begins: number): CastMachine[] {
  return printers.flatMap(({ label, count, hoursADay, days, from, until }, kind) =>
    Array.from({ length: count }, (_, i) => ({
      kind,
      name: count > 1 ? `${label}, no. ${i + 1}` : label,
      time: {
        attended,
        weekdays: days,
        from: Math.max(begins, from ?? begins),
        ...(until !== undefined && { until }),
        hoursADay,
      },
    })),
  );
}

/** Pieces that can be printed somewhere, each copy by itself; planned with the upper end of their hours. */
function tasksOf(cast: Cast, rows: readonly CastRow[], machines: readonly CastMachine[]): CastTask[] {
  return cast.pieces.flatMap((piece, i) => {
    const allowed = new Set(printersFor(cast, piece));
    const hoursOf = (kind: number) => {
      if (!allowed.has(kind)) return undefined;
      const row = rows.find((one) => one.piece === i && one.printer === kind);
      return row && mostHours(row);
    };
    const hours = machines.map(({ kind }) => hoursOf(kind));
    if (hours.every((each) => each === undefined)) return [];
    const due = 24 * piece.by + cast.attended[1];
    return Array.from({ length: piece.copies }, (_, copy) => ({ piece: i, copy: copy + 1, due, hours }));
  });
}

/** Hours with which a row is planned; undefined where it does not print there. */
export const mostHours = ({ row }: CastRow): number | undefined =>
  isPrintable(row) && row.hours !== undefined ? hoursBand(row.hours).most : undefined;

/** Whether a row can be printed, whole or cut. */
export const isPrintable = ({ verdict, plate }: CastRow["row"]): boolean =>
  verdict !== "failed" && plate !== undefined && (plate.fits || (plate.pieces ?? 0) > 1);
