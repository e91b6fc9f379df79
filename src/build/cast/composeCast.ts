import { basename, dirname, relative, sep } from "node:path";
import { cautions } from "../../checks/cautions";
import type { Material } from "../../checks/material";
import type { CastReport, CastReportFit, CastReportPiece, CastReportPrinter } from "../../export/castReport";
import { rounded } from "../../export/rounding";
import { LEAST_ADULT_GIRTH } from "../../head/population";
import type { Message } from "../../message";
import { hoursBand } from "../../print/layers/filament";
import { dateOf, dayOfMoment, momentOf } from "../../print/schedule/calendar";
import { hoursBetween } from "../../print/schedule/printerTime";
import { changeHours } from "../../print/schedule/schedule";
import { wasteShare } from "../../print/schedule/spools";
import { besideFile } from "../besideFile";
import { defaultMaterial } from "../materialFile";
import type { OpenTexts } from "../sourceTexts";
import type { Cast } from "./cast";
import { bestRow, type CastRow, type OtherRow } from "./castCells";
import { filamentOf } from "./castFilament";
import { castFindings, othersFor } from "./castFindings";
import { CastMaterials } from "./castMaterials";
import { type CastSchedule, isPrintable, mostHours, scheduleOfCast } from "./castTasks";

/** What the plan is made of: the cast, and what became of its pieces. */
export interface CastRows {
  readonly rows: readonly CastRow[];
  readonly others: readonly OtherRow[];
  /** What was said while the rows were made. */
  readonly messages: readonly Message[];
}

/** A plan, and what was found with files as they lie: those of the report are named relative to the cast's. */
export interface ComposedCast {
  readonly report: CastReport;
  readonly messages: readonly Message[];
}

/** The plan of a cast whose pieces have been made. @param today day as in `calendar.ts` */
export function composeCast(cast: Cast, made: CastRows, today: number, texts?: OpenTexts): ComposedCast {
  const { rows, others } = made;
  const begins = Math.max(today, cast.starts ?? today);
  const plan = scheduleOfCast(cast, rows, begins);
  const materials = new CastMaterials(cast, texts);
  const filament = filamentOf(cast, rows, plan, materials);
  const messages = [...made.messages, ...castFindings(cast, rows, others, plan, { begins, today })];
  const { schedule, tasks, machines } = plan;
  const { cost } = schedule;
  const report: CastReport = {
    production: cast.name,
    file: basename(cast.file),
    today: dateOf(today),
    begins: dateOf(begins),
    readyBy: dateOf(cast.readyBy),
    opens: dateOf(cast.opens),
    ok: !messages.some(({ severity }) => severity === "error"),
    pieces: cast.pieces.map((_, i) => pieceReport(cast, i, rows, others)),
    printers: cast.printers.map((_, kind) => printerReport(cast, kind, plan, begins)),
    prints: schedule.prints.map((print, i) => {
      const { piece, copy } = tasks[print.task];
      const isBounded = Number.isFinite(print.latestStart);
      return {
        piece,
        ...(cast.pieces[piece].copies > 1 && { copy }),
        printer: machines[print.printer].name,
        start: momentOf(print.start),
        end: momentOf(print.end),
        hours: rounded(print.end - print.start, 1),
        ...(isBounded && { latestStart: momentOf(print.latestStart), slackHours: rounded(print.slack, 1) }),
        lateHours: rounded(print.late, 1),
        spools: filament.spools[i],
      };
    }),
    filament: filament.materials,
    schedule: {
      optimised: "first the greatest lateness is made least, then the end of the last print",
      method: schedule.method,
      ...(schedule.prints.length > 0 && {
        greatestLatenessHours: rounded(cost.lateness, 1),
        lastEnd: momentOf(cost.last),
      }),
    },
    basis: [
      hoursBand(1).basis,
      "Planned with the upper end of the hours: the estimate and a quarter more.",
      `Between two prints on a printer ${changeHours} h to take the piece off and load filament (common practice, no source).`,
      `Filament with supports, and ${100 * wasteShare} % more for what is lost at loading and in trials (common practice, no source).`,
      `A print is begun between ${cast.attended[0]} and ${cast.attended[1]} h, and on the days that its printer has; it goes on over night unless the printer's hours a day are fewer than 24.`,
    ],
    findings: messages.map((finding) => besideFile(finding, cast.file)),
    cautions: cautionsOf(cast, rows, materials),
  };
  return { report, messages };
}

function pieceReport(
  cast: Cast,
  i: number,
  rows: readonly CastRow[],
  others: readonly OtherRow[],
): CastReportPiece {
  const { design, role, copies, by, wearer } = cast.pieces[i];
  const row = bestRow(rows, i)?.row;
  const whoElse = othersFor(cast, i, others);
  return {
    headpiece: row?.headpiece || basename(design).replace(/\.headpiece\.ts$/, ""),
    ...(role !== undefined && { role }),
    wearer: cast.wearers.find(({ file }) => file === wearer)?.name ?? basename(wearer),
    design: relative(dirname(cast.file), design).split(sep).join("/"),
    copies,
    verdict: row?.verdict ?? "failed",
    reasons: row?.reasons ?? [],
    ...(row?.girthPlay !== undefined && { girthPlayMm: rounded(row.girthPlay, 1) }),
    ...(row?.girthEase !== undefined && { girthEaseMm: rounded(row.girthEase, 1) }),
    ...(row?.mass !== undefined && { massG: rounded(row.mass, 1) }),
    ...(row?.filament && { material: row.filament.material }),
    by: dateOf(by),
    on: rows
      .filter(({ piece }) => piece === i)
      .sort((a, b) => a.printer - b.printer)
      .map((one) => fitReport(cast, one)),
    ...(row?.verdict === "dont" && { others: whoElse }),
    ...(row?.picture !== undefined && { picture: row.picture }),
  };
}

function fitReport(cast: Cast, one: CastRow): CastReportFit {
  const { row, printer } = one;
  const most = mostHours(one);
  const cut = row.plate?.pieces ?? 0;
  return {
    printer: cast.printers[printer].label,
    fits: row.plate?.fits ?? false,
    summary: row.plate?.summary ?? "not known",
    ...(most !== undefined && { hours: rounded(row.hours!, 1), hoursMost: rounded(most, 1) }),
    ...(row.filament && isPrintable(row) && { filamentG: rounded(row.filament.grams, 1) }),
    ...(cut > 1 && !row.plate!.fits && { cutInto: cut }),
  };
}

function printerReport(
  cast: Cast,
  kind: number,
  { machines, schedule }: CastSchedule,
  begins: number,
): CastReportPrinter {
  const { label, count } = cast.printers[kind];
  const own = schedule.prints.filter(({ printer }) => machines[printer].kind === kind);
  const hours = own.reduce((sum, { start, end }) => sum + end - start, 0);
  const days = new Set(
    own.flatMap(({ start, end }) => {
      const first = dayOfMoment(start);
      return Array.from({ length: dayOfMoment(end - 1e-9) - first + 1 }, (_, i) => first + i);
    }),
  );
  const room = machines
    .filter((machine) => machine.kind === kind)
    .reduce((sum, { time }) => sum + hoursBetween(time, begins, cast.readyBy), 0);
  return {
    name: label,
    count,
    prints: own.length,
    hours: rounded(hours, 1),
    days: days.size,
    loadPercent: room > 0 ? rounded((100 * hours) / room, 0) : hours > 0 ? 100 : 0,
  };
}

/** Those of the heaviest piece, then what is different of the other materials. */
function cautionsOf(cast: Cast, rows: readonly CastRow[], materials: CastMaterials): string[] {
  const made = cast.pieces.flatMap((piece, i) => {
    const row = bestRow(rows, i)?.row;
    return row?.mass === undefined
      ? []
      : [{ row, mass: row.mass, material: materials.of(row, piece.material) }];
  });
  const [heaviest, ...others] = made.sort((a, b) => b.mass - a.mass);
  const child = cast.wearers.some(({ girth }) => girth < LEAST_ADULT_GIRTH);
  const said = (material: Material) => cautions({ material, mass: heaviest?.mass ?? 0, child });
  const all = [heaviest, ...others].flatMap((one) => said(one?.material ?? defaultMaterial));
  return [
    ...(heaviest
      ? [
          `Said of the heaviest piece, ${heaviest.row.headpiece}; the report of each piece says more: read it before that piece is worn.`,
        ]
      : []),
    ...new Set(all),
    "A printer that runs over night stands where nothing near it burns, under a smoke alarm, and by the rules of the house.",
  ];
}
