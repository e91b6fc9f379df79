import { join } from "node:path";
import type { Report } from "../../export/report";
import { reportChanges } from "../../export/reportChanges";
import type { Message } from "../../message";
import { JobError, type JobPool } from "../jobs/jobPool";
import type { Job, JobNews, JobResult } from "../jobs/jobs";
import { nameOfDesign } from "../outputs";
import { Freshness, hashOf, type KeptRow, keptRowsOf, readKeptRow } from "./keptRow";
import type { RefitJob, RefitJobResult } from "./refitJob";
import type { RefitCell, RefitEvents, RefitRequest, RefitTable } from "./refitRequest";
import type { RefitRow } from "./refitRow";
import { failedRow } from "./rowOfPiece";
import { designFolder, nameOfWearer, type RowPlace, rowFolder } from "./rowPlaces";
import { toolState } from "./toolState";

type Pool = JobPool<Job, JobResult, JobNews>;

/** One refit: what is good already is taken, the rest goes to the processes. */
export class RefitRun {
  readonly #request: RefitRequest;
  readonly #pool: Pool;
  readonly #events: RefitEvents;
  readonly #tool: string;
  readonly #freshness: Freshness;
  #done = 0;
  #all = 0;

  constructor(request: RefitRequest, script: string, pool: Pool, events: RefitEvents) {
    this.#request = request;
    this.#pool = pool;
    this.#events = events;
    this.#tool = toolState(script);
    this.#freshness = new Freshness(request.texts);
  }

  /** Every design on every wearer. */
  async designs(): Promise<RefitTable> {
    const designs = [...new Set(this.#request.designs)];
    const wearers = [...new Set(this.#request.wearers)];
    this.#all = designs.length * Math.max(1, wearers.length);
    this.#events.onProgress?.(0, this.#all);
    const rows = await Promise.all(designs.map((design) => this.#designRows(design, designs, wearers)));
    return { rows: rows.flat(), messages: [] };
  }

  /** Rows asked for one by one. */
  async cells(cells: readonly RefitCell[]): Promise<RefitTable> {
    this.#all = cells.length;
    this.#events.onProgress?.(0, this.#all);
    const rows = await Promise.all(
      this.#cellJobs(cells).map(async (job) => {
        const { row } = await this.#row(job);
        this.#tell(row);
        return row;
      }),
    );
    return { rows, messages: [] };
  }

  /** Rows that there will be, as far as that is known. */
  get all(): number {
    return this.#all;
  }

  /** How many of the rows that are asked for lie in their folders, good as they are. */
  async keptRows(): Promise<number> {
    const { designs, wearers, cells } = this.#request;
    let count = 0;
    if (cells) {
      for (const job of this.#cellJobs(cells)) if (await this.#kept(job)) count++;
      return count;
    }
    for (const design of new Set(designs)) {
      const place = this.#place(design, designs, wearers);
      if (!place) continue;
      for (const { kept } of await keptRowsOf(place.folder)) {
        const { wearer } = kept.row;
        const isAsked = wearers.includes(wearer) || wearer === kept.ownWearer;
        if (isAsked && (await this.#kept(this.#job({ design, wearer }, place)))) count++;
      }
    }
    return count;
  }

  /** Rows of a design: first that of its own wearer, against which the others are told. */
  async #designRows(
    design: string,
    designs: readonly string[],
    wearers: readonly string[],
  ): Promise<RefitRow[]> {
    const place = this.#place(design, designs, wearers);
    const first = await this.#firstRow(design, place, wearers);
    const own = first.row.wearer;
    const others = wearers.filter((wearer) => wearer !== own);
    if (!first.isDesign && wearers.length > 0) {
      // What is wrong with the design itself is so on everybody.
      const rows = wearers.map((wearer) => ({
        ...first.row,
        wearer,
        wearerName: nameOfWearer(wearer),
      }));
      for (const row of rows) this.#tell(row);
      return rows;
    }
    this.#all += 1 + others.length - Math.max(1, wearers.length);
    this.#tell(first.row);
    const rows = await Promise.all(
      others.map(async (wearer) => {
        const { row, report } = await this.#row(this.#job({ design, wearer }, place));
        const told = withChanges(row, first.report, report);
        this.#tell(told);
        return told;
      }),
    );
    return [first.row, ...rows];
  }

  /** The row of the wearer that a design names, else of the first one. */
  async #firstRow(
    design: string,
    place: RowPlace | undefined,
    wearers: readonly string[],
  ): Promise<RefitJobResult> {
    const known = await this.#knownOwnWearer(design, place);
    const wearer = known && (known.ownWearer ?? wearers[0]);
    if (wearer !== undefined) return this.#row(this.#job({ design, wearer }, place));
    return this.#row({
      ...this.#job({ design }, place),
      ...(wearers[0] !== undefined && { wearerIfNone: wearers[0] }),
    });
  }

  /** What a row that is good still says of whom its design is for. */
  async #knownOwnWearer(design: string, place?: RowPlace): Promise<Pick<KeptRow, "ownWearer"> | undefined> {
    if (!place || this.#request.afresh) return undefined;
    const asked = this.#job({ design }, place).asked;
    const rows = await keptRowsOf(place.folder);
    return rows.find(({ kept }) => kept.asked === asked && this.#freshness.isCurrent(kept))?.kept;
  }

  /** A row that is good already, else one that is made now. */
  async #row(job: RefitJob): Promise<RefitJobResult> {
    const kept = this.#request.afresh ? undefined : await this.#kept(job);
    return kept ?? this.#made(job);
  }

  async #kept({ asked, wearer, place }: RefitJob): Promise<RefitJobResult | undefined> {
    if (!place || wearer === undefined) return undefined;
    const folder = rowFolder(place, wearer);
    const kept = await readKeptRow(folder);
    const { pictures } = this.#request;
    if (!kept || kept.asked !== asked || kept.row.wearer !== wearer) return undefined;
    if (pictures && kept.row.picture === undefined) return undefined;
    if (!this.#freshness.isCurrent(kept) || !(await this.#freshness.areThere(kept, folder))) return undefined;
    const { picture, ...row } = kept.row;
    const { ownWearer, report } = kept;
    return {
      row: {
        ...row,
        ...(pictures && picture !== undefined && { picture }),
        files: Object.keys(kept.files).map((name) => join(folder, name)),
        kept: true,
      },
      isDesign: true,
      ...(ownWearer !== undefined && { ownWearer }),
      ...(report && { report }),
    };
  }

  async #made(job: RefitJob): Promise<RefitJobResult> {
    try {
      const answer = await this.#pool.do(
        { kind: "refit", job },
        job.wearer === undefined ? {} : { like: job.wearer },
      );
      if (answer.kind !== "refit") throw new Error(`a refit was asked for, not ${answer.kind}`);
      return answer.result;
    } catch (error) {
      if (!(error instanceof JobError)) throw error;
      const { design, wearer = "" } = job;
      const failed = failedRow(design, wearer, {}, [rowFailed(job, error)], [design]);
      const row = wearer === "" ? { ...failed, wearerName: ownWearerName } : failed;
      return { row, isDesign: true };
    }
  }

  #cellJobs(cells: readonly RefitCell[]): RefitJob[] {
    const designs = [...new Set(cells.map(({ design }) => design))];
    const wearers = [...new Set(cells.map(({ wearer }) => wearer))];
    return cells.map((cell) => {
      const place = this.#place(cell.design, designs, wearers);
      return this.#job(cell, place && { ...place, ...(cell.name !== undefined && { name: cell.name }) });
    });
  }

  #place(design: string, designs: readonly string[], wearers: readonly string[]): RowPlace | undefined {
    const { folder } = this.#request;
    return folder === undefined ? undefined : { folder: designFolder(folder, design, designs), wearers };
  }

  #job(
    { design, wearer, values, isCut, ...cell }: Omit<RefitCell, "wearer"> & { readonly wearer?: string },
    place?: RowPlace,
  ): RefitJob {
    const { texts, timeLimitSeconds, memoryLimitMB, pictures, whole, ...request } = this.#request;
    const { printer = request.printer, material = request.material, print = request.print } = cell;
    const wishes = {
      design,
      ...(printer !== undefined && { printer }),
      ...(material !== undefined && { material }),
      ...(print !== undefined && { print }),
      ...(values && { values }),
      ...(isCut && { isCut }),
      ...(whole && { whole }),
    };
    return {
      ...wishes,
      ...(wearer !== undefined && { wearer }),
      ...(texts && { texts }),
      ...(timeLimitSeconds !== undefined && { timeLimitSeconds }),
      ...(memoryLimitMB !== undefined && { memoryLimitMB }),
      ...(pictures && { pictures }),
      ...(place && { place }),
      asked: hashOf(JSON.stringify([this.#tool, wishes])),
    };
  }

  #tell(row: RefitRow): void {
    this.#events.onRow?.(row);
    this.#events.onProgress?.(++this.#done, this.#all);
  }
}

/** A row with what differs from the design's first. */
const withChanges = (row: RefitRow, first?: Report, report?: Report): RefitRow =>
  first && report ? { ...row, changes: reportChanges(first, report) } : row;

/** Stands for whom a design is for where that could not be asked. */
const ownWearerName = "its own wearer";

const rowFailed = ({ design, wearer }: RefitJob, { message }: JobError): Message => ({
  id: "row-failed",
  severity: "error",
  text: `"${nameOfDesign(design)}" on "${wearer === undefined ? ownWearerName : nameOfWearer(wearer)}" could not be made: ${message.split("\n")[0]}`,
  suggestion: "refit again: rows that are good are not made again; when it fails again, build it by itself",
  file: design,
});
