import type { ParameterValue } from "../design/part";
import type { Message } from "../message";
import { dateOf, dayOf, type Weekday, weekdays } from "../print/schedule/calendar";
import castSchema from "./cast.schema.json";
import type { DataReading } from "./dataReading";
import { schemaCheck } from "./schemaMessages";

/** A production as its file says it: who wears what, on what it is printed, and by when. Files as they are written there. */
export interface CastFile {
  /** What is staged. */
  readonly name: string;
  /** Days as in `calendar.ts`. */
  readonly opens: number;
  /** The last day for prints. */
  readonly readyBy: number;
  /** First day on which can be printed; absent: today. */
  readonly starts?: number;
  /** Hours of the day between which somebody is there. */
  readonly attended: readonly [from: number, to: number];
  readonly pieces: readonly CastPiece[];
  readonly printers: readonly CastPrinter[];
  readonly spools: readonly CastSpool[];
  /** Files of wearers. */
  readonly understudies: readonly string[];
}

/** A piece and who wears it. */
export interface CastPiece {
  readonly design: string;
  readonly wearer: string;
  readonly role?: string;
  readonly print?: string;
  readonly material?: string;
  readonly printer?: string;
  readonly copies: number;
  /** The last day for its print. */
  readonly by: number;
  readonly parameters?: Readonly<Record<string, ParameterValue>>;
}

/** Printers of one kind at hand. */
export interface CastPrinter {
  readonly file: string;
  readonly name?: string;
  readonly count: number;
  readonly hoursADay: number;
  readonly days: readonly Weekday[];
  readonly from?: number;
  readonly until?: number;
}

/** Spools in stock that hold so much each. */
export interface CastSpool {
  readonly material: string;
  readonly grams: number;
  readonly count: number;
}

type Document = {
  readonly production: string;
  readonly opens: string;
  readonly ready?: number;
  readonly readyBy?: string;
  readonly starts?: string;
  readonly attended?: { readonly from: number; readonly to: number };
  readonly pieces: readonly (Omit<CastPiece, "copies" | "by"> & { copies?: number; by?: string })[];
  readonly printers: readonly (Pick<CastPrinter, "file" | "name"> & {
    count?: number;
    hoursADay?: number;
    days?: readonly Weekday[];
    from?: string;
    until?: string;
  })[];
  readonly spools?: readonly (Omit<CastSpool, "count"> & { count?: number })[];
  readonly understudies?: readonly string[];
};

/** Days before the first night, and hours of the day: common practice, no source. */
const usualReady = 7;
const usualAttended = { from: 8, to: 20 };

const check = schemaCheck(castSchema);

/** A parsed `NAME.cast.json` as a cast, or messages that name the wrong fields. */
export function castFromDocument(document: unknown): DataReading<CastFile> {
  const wrong = check(document);
  if (wrong.length > 0) return { messages: wrong };
  const given = document as Document;
  const problems = [...dateProblems(given), ...clashes(given)];
  if (problems.length > 0) return { messages: problems };
  const opens = dayOf(given.opens)!;
  const readyBy = given.readyBy === undefined ? opens - (given.ready ?? usualReady) : dayOf(given.readyBy)!;
  const { from, to } = given.attended ?? usualAttended;
  const day = <K extends string>(key: K, date: string | undefined) =>
    (date === undefined ? {} : { [key]: dayOf(date)! }) as { readonly [key in K]?: number };
  return {
    value: {
      name: given.production,
      opens,
      readyBy: Math.floor(readyBy),
      ...day("starts", given.starts),
      attended: [from, to],
      pieces: given.pieces.map(({ by, copies = 1, ...piece }) => ({
        ...piece,
        copies,
        by: by === undefined ? Math.floor(readyBy) : dayOf(by)!,
      })),
      printers: given.printers.map(({ file, name, count = 1, hoursADay = 24, days, from, until }) => ({
        file,
        ...(name !== undefined && { name }),
        count,
        hoursADay,
        days: days ?? weekdays,
        ...day("from", from),
        ...day("until", until),
      })),
      spools: (given.spools ?? []).map(({ count = 1, ...spool }) => ({ ...spool, count })),
      understudies: given.understudies ?? [],
    },
    messages: [],
  };
}

/** Dates that look like one and are none. */
function dateProblems(document: Document): Message[] {
  return datesOf(document)
    .filter(({ date }) => date !== undefined && dayOf(date) === undefined)
    .map(({ field, date }) => ({
      id: "no-such-date",
      severity: "error",
      field,
      text: `"${field}" is "${date}": there is no such day`,
      suggestion: "write year, month and day, for example 2027-05-14",
    }));
}

const datesOf = ({ opens, readyBy, starts, pieces, printers }: Document) => [
  { field: "opens", date: opens },
  { field: "readyBy", date: readyBy },
  { field: "starts", date: starts },
  ...pieces.map(({ by }, i) => ({ field: `pieces.${i}.by`, date: by })),
  ...printers.flatMap(({ from, until }, i) => [
    { field: `printers.${i}.from`, date: from },
    { field: `printers.${i}.until`, date: until },
  ]),
];

/** Fields that do not go together. */
function clashes(document: Document): Message[] {
  const { opens, ready, readyBy, starts, attended, pieces, printers } = document;
  const said = (field: string, text: string, suggestion: string): Message => ({
    id: "cast-clash",
    severity: "error",
    field,
    text,
    suggestion,
  });
  const messages: Message[] = [];
  if (ready !== undefined && readyBy !== undefined) {
    messages.push(
      said(
        "ready",
        '"ready" and "readyBy" are both given',
        "keep one: days before the first night, or the day",
      ),
    );
  }
  const [first, night] = [starts === undefined ? undefined : dayOf(starts), dayOf(opens)];
  const isAfter = (date: string | undefined, day: number | undefined) =>
    date !== undefined && day !== undefined && (dayOf(date) ?? day) > day;
  if (isAfter(readyBy, night)) {
    messages.push(
      said("readyBy", `"readyBy" is ${readyBy}, after the first night`, `give a day up to ${opens}`),
    );
  }
  const last =
    readyBy ?? (night === undefined ? undefined : dateOf(Math.floor(night - (ready ?? usualReady))));
  if (first !== undefined && last !== undefined && (dayOf(last) ?? first) < first) {
    messages.push(
      said(
        "starts",
        `"starts" is ${starts}, and all has to be printed by ${last}`,
        "begin earlier, or give less time for what comes after printing",
      ),
    );
  }
  if (attended && attended.from >= attended.to) {
    messages.push(
      said(
        "attended.to",
        `"attended" goes from ${attended.from} to ${attended.to} h`,
        "the day's last hour comes after its first",
      ),
    );
  }
  pieces.forEach(({ by }, i) => {
    if (isAfter(by, night)) {
      messages.push(
        said(
          `pieces.${i}.by`,
          `"pieces.${i}.by" is ${by}, after the first night`,
          `give a day up to ${opens}`,
        ),
      );
    }
  });
  printers.forEach(({ from, until }, i) => {
    if (until !== undefined && isAfter(from, dayOf(until))) {
      messages.push(
        said(
          `printers.${i}.until`,
          `the printer is at hand from ${from} until ${until}`,
          "give a last day that is not before its first",
        ),
      );
    }
  });
  return messages;
}
