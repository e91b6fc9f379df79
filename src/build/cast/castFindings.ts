import { plainHours } from "../../export/castDates";
import type { Message } from "../../message";
import { dateOf } from "../../print/schedule/calendar";
import { mendingOf } from "../../print/schedule/mending";
import type { Cast } from "./cast";
import { bestRow, type CastRow, type OtherRow } from "./castCells";
import { type CastSchedule, isPrintable } from "./castTasks";

/** What stands between the cast and its first night, each at the line of the piece that it is about. */
export function castFindings(
  cast: Cast,
  rows: readonly CastRow[],
  others: readonly OtherRow[],
  plan: CastSchedule,
  days: { readonly begins: number; readonly today: number },
): Message[] {
  return [
    ...dateFindings(cast, days),
    ...cast.pieces.flatMap((_, i) => pieceFindings(cast, i, rows, others)),
    ...scheduleFindings(cast, plan, days),
  ];
}

function dateFindings(cast: Cast, { begins, today }: { begins: number; today: number }): Message[] {
  const late = (id: string, field: string, text: string, suggestion: string): Message => ({
    id,
    severity: "error",
    text,
    suggestion,
    field,
    ...cast.placeOf(field),
  });
  if (cast.opens < today) {
    return [
      late(
        "cast-opened",
        "opens",
        `the first night was ${dateOf(cast.opens)}, and today is ${dateOf(today)}`,
        "give the date of the next one",
      ),
    ];
  }
  if (cast.readyBy < begins) {
    return [
      late(
        "cast-too-late",
        "opens",
        `all has to be printed by ${dateOf(cast.readyBy)}, and nothing can begin before ${dateOf(begins)}`,
        'give less time for what comes after printing ("ready"), or another first night',
      ),
    ];
  }
  return [];
}

function pieceFindings(
  cast: Cast,
  i: number,
  rows: readonly CastRow[],
  others: readonly OtherRow[],
): Message[] {
  const best = bestRow(rows, i)?.row;
  if (!best) return [];
  const at = (field: string) => ({ field: `pieces.${i}.${field}`, ...cast.placeOf(`pieces.${i}.${field}`) });
  const label = labelOf(cast, rows, i);
  if (best.verdict === "failed") {
    return [
      {
        id: "cast-piece-failed",
        severity: "error",
        text: `${label} comes to no solid: ${best.reasons[0] ?? best.messages.find(({ severity }) => severity === "error")?.text ?? "its messages say why"}`,
        suggestion: "mend the design first; nothing of it is planned",
        ...at("design"),
        notes: best.messages
          .filter(({ severity }) => severity === "error")
          .map(({ text, file, line, column }) => ({
            text,
            ...(file !== undefined && { file, line, column }),
          })),
      },
    ];
  }
  const messages: Message[] = [];
  if (best.verdict === "dont") {
    const whoElse = othersFor(cast, i, others);
    messages.push({
      id: "cast-fits-nobody",
      severity: "error",
      text: `${label} is not to be worn by ${best.wearerName}: ${best.reasons[0] ?? "its findings say why"}`,
      suggestion:
        whoElse.length > 0
          ? `made for ${listed(whoElse)} it may be worn; or change the design`
          : cast.wearers.length > 1
            ? "nobody else of the cast could wear it either: change the design"
            : 'change the design, or name "understudies" who may wear it instead',
      ...at("wearer"),
    });
  }
  const own = rows.filter(({ piece }) => piece === i);
  if (!own.some(({ row }) => isPrintable(row))) {
    messages.push({
      id: "cast-fits-no-printer",
      severity: "error",
      text: `${label} fits no printer that it may be printed on, not even cut: ${own.map(({ printer, row }) => `${cast.printers[printer].label}: ${row.plate?.summary ?? "it is not known how it lies there"}`).join("; ")}`,
      suggestion: "make it smaller, divide it in the design, or bring a larger printer",
      ...at(cast.pieces[i].printer === undefined ? "design" : "printer"),
    });
  }
  return messages;
}

/** Who could wear a piece that does not suit whom it is for, by name. */
export const othersFor = (cast: Cast, piece: number, others: readonly OtherRow[]): string[] => {
  const names = others
    .filter((one) => one.piece === piece && (one.row.verdict === "wear" || one.row.verdict === "adjust"))
    .map(({ row }) => cast.wearers.find(({ file }) => file === row.wearer)?.name ?? row.wearerName);
  return [...new Set(names)];
};

function scheduleFindings(
  cast: Cast,
  { machines, tasks, schedule }: CastSchedule,
  { begins, today }: { begins: number; today: number },
): Message[] {
  const late = schedule.prints.filter((print) => print.late > 1e-9);
  if (late.length === 0 && schedule.unplaced.length === 0) return [];
  // One printer of each kind is asked for once more.
  const kinds = machines.flatMap(({ kind }, i) =>
    machines.findIndex((one) => one.kind === kind) === i ? [i] : [],
  );
  const mending = mendingOf(
    tasks,
    machines.map(({ time }) => time),
    begins - today,
    kinds,
  );
  const ways = [
    ...(mending.daysEarlier === undefined
      ? []
      : [
          `begin ${mending.daysEarlier === 1 ? "a day" : `${mending.daysEarlier} days`} earlier, on ${dateOf(begins - mending.daysEarlier)}`,
        ]),
    ...(mending.onePrinterMore.length === 0
      ? []
      : [
          `have one more of ${either(mending.onePrinterMore.map((i) => cast.printers[machines[i].kind].label))}`,
        ]),
  ];
  const suggestion =
    ways.length > 0
      ? `all would be in time: ${ways.join("; or ")}`
      : begins > today
        ? "neither an earlier beginning nor one more printer is enough: print quicker, divide the work, or drop a copy"
        : "one more printer is not enough, and it cannot begin earlier: print quicker, divide the work, or drop a copy";
  const labels = (task: number) => {
    const { piece, copy } = tasks[task];
    const { role, design, copies } = cast.pieces[piece];
    return `${role ?? nameOf(design)}${copies > 1 ? `, no. ${copy}` : ""}`;
  };
  const at = (task: number) => {
    const field = `pieces.${tasks[task].piece}.design`;
    return { field, ...cast.placeOf(field) };
  };
  return [
    ...late.map(
      ({ task, printer, late }): Message => ({
        id: "cast-late",
        severity: "error",
        text: `the print of ${labels(task)} on ${machines[printer].name} ends ${plainHours(late)} too late for ${dateOf(cast.pieces[tasks[task].piece].by)}`,
        suggestion,
        ...at(task),
      }),
    ),
    ...schedule.unplaced.map(
      (task): Message => ({
        id: "cast-no-place",
        severity: "error",
        text: `the print of ${labels(task)} finds no place: it is longer than its printers may run, or they are gone before it ends`,
        suggestion:
          ways.length > 0
            ? suggestion
            : 'let a printer run over night ("hoursADay"), keep it longer ("until"), or add another',
        ...at(task),
      }),
    ),
  ];
}

function labelOf(cast: Cast, rows: readonly CastRow[], i: number): string {
  const { role, design } = cast.pieces[i];
  const headpiece = bestRow(rows, i)?.row.headpiece || nameOf(design);
  return role === undefined ? `"${headpiece}"` : `"${headpiece}" (${role})`;
}

const nameOf = (design: string): string =>
  design
    .split(/[\\/]/)
    .at(-1)!
    .replace(/\.headpiece\.ts$/, "");

const either = (names: readonly string[]): string => names.join(" or ");
const listed = (names: readonly string[]): string =>
  names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} or ${names.at(-1)}`;
