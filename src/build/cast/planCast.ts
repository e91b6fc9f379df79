import { setMaxListeners } from "node:events";
import { basename, dirname, join } from "node:path";
import type { CastReport } from "../../export/castReport";
import type { Message } from "../../message";
import type { RefitRow } from "../refit/refitRow";
import { type RefitEvents, type RefitRequest, refit } from "../refit/refitting";
import type { OpenTexts } from "../sourceTexts";
import { type AskedCell, cellsOf, cutCellsOf, otherCellsOf } from "./castCells";
import { composeCast } from "./composeCast";
import { readCast } from "./readCast";

/** What a plan is asked for. */
export interface CastRequest
  extends Pick<RefitRequest, "afresh" | "processes" | "timeLimitSeconds" | "memoryLimitMB"> {
  /** The cast's file, absolute. */
  readonly file: string;
  /** Where the pieces' files go and what is kept to resume; `out/cast` beside the cast's file unless given. */
  readonly folder?: string;
  /** The day from which is planned, as in `calendar.ts`. */
  readonly today: number;
  readonly texts?: OpenTexts;
}

/** What becomes of it: `report` is absent where the cast's file, or one that it names, is wrong. */
export interface CastResult {
  readonly report?: CastReport;
  readonly messages: readonly Message[];
  /** Files that it depends on, absolute. */
  readonly inputs: readonly string[];
}

/** Where the pieces of a cast go unless another folder is given. */
export const castFolder = (file: string): string => join(dirname(file), "out", "cast");

/** `the-tide-court` of `the-tide-court.cast.json`. */
export const nameOfCast = (file: string): string => basename(file).replace(/\.cast\.json$|\.json$/, "");

/**
 * Plans the printing of a cast: makes every piece for its wearer on every printer at hand, cuts what fits none whole,
 * looks who else could wear what does not suit whom it is for, then schedules prints and counts spools.
 * @param script the bundled script that does jobs
 * @param make what makes rows, instead of `refit`
 * @throws the signal's reason on abort; what was made is kept
 */
export async function planCast(
  request: CastRequest,
  script: string,
  events: Omit<RefitEvents, "onRow"> = {},
  make: typeof refit = refit,
): Promise<CastResult> {
  const { value: cast, messages, inputs } = readCast(request.file, request.texts);
  if (!cast) return { messages, inputs };
  // Each piece that waits listens to it.
  if (events.signal) setMaxListeners(0, events.signal);
  const maker = new Maker(request, script, events, make);
  const rows = await maker.rows(cellsOf(cast));
  const cut = await maker.rows(cutCellsOf(cast, rows));
  // What was made on a printer whole gives way to what was made of it in pieces.
  const all = rows.map(
    (one) => cut.find(({ piece, printer }) => piece === one.piece && printer === one.printer) ?? one,
  );
  const others = await maker.rows(otherCellsOf(cast, all));
  const composed = composeCast(
    cast,
    { rows: all, others, messages: [...messages, ...maker.messages] },
    request.today,
    request.texts,
  );
  return { ...composed, inputs: [...new Set([...inputs, ...maker.inputs])] };
}

/** Makes rows in several rounds, and tells of them as one. */
class Maker {
  readonly messages: Message[] = [];
  readonly inputs = new Set<string>();
  readonly #request: CastRequest;
  readonly #script: string;
  readonly #events: Omit<RefitEvents, "onRow">;
  readonly #make: typeof refit;
  #before = 0;

  constructor(request: CastRequest, script: string, events: Omit<RefitEvents, "onRow">, make: typeof refit) {
    this.#request = request;
    this.#script = script;
    this.#events = events;
    this.#make = make;
  }

  async rows<Place>(asked: readonly AskedCell<Place>[]): Promise<(Place & { readonly row: RefitRow })[]> {
    const { onProgress, signal } = this.#events;
    signal?.throwIfAborted();
    if (asked.length === 0) return [];
    const { file, folder = castFolder(file), today: _, ...options } = this.#request;
    const before = this.#before;
    const table = await this.#make(
      { ...options, folder, designs: [], wearers: [], cells: asked.map(({ cell }) => cell), pictures: true },
      this.#script,
      {
        onProgress: (done, all) => onProgress?.(before + done, before + all),
        ...(signal && { signal }),
      },
    );
    signal?.throwIfAborted();
    this.#before += asked.length;
    this.messages.push(...table.messages);
    return asked.flatMap(({ places }, i) => {
      const row = table.rows[i];
      // A pool that was closed has no rows for what it did not do.
      if (!row) return [];
      for (const input of row.inputs) this.inputs.add(input);
      return places.map((place) => ({ ...place, row }));
    });
  }
}
