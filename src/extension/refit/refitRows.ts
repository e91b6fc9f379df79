import type { RefitRow } from "../../build/refit/refitRow";
import type { RefitEvents, RefitTable } from "../../build/refit/refitting";
import type { Message } from "../../message";
import type { RunPhase } from "../../pages/refitTable/protocol";
import type { Clock } from "../builds/clock";
import { type DesignPlan, KnownRows, rowKey, type StandingRow } from "./knownRows";

/** What the rows need of the world around them. */
export interface RowsWorld {
  /** Fits these designs to their wearers; what is good already costs next to nothing. */
  refit(plans: readonly DesignPlan[], events: RefitEvents): Promise<RefitTable>;
  /** Rows at work at once. */
  readonly processes: number;
  /** Something is other than before; `key`: what is known of that row. */
  changed(key?: string): void;
  /** The tool itself went wrong. */
  failed(error: unknown): void;
  readonly clock: Clock;
}

/** A burst of saves is one change, ms. */
const savesPause = 60;

interface Run {
  readonly plans: readonly DesignPlan[];
  readonly abort: AbortController;
}

/**
 * The rows of the refit table: which there are, which are as their files say, and the run that makes those that are not.
 * Knows paths, not editors.
 */
export class RefitRows {
  readonly #world: RowsWorld;
  #plans: readonly DesignPlan[] = [];
  readonly #known = new KnownRows();
  /** Designs with rows to be made. */
  readonly #due = new Set<string>();
  #run: Run | undefined;
  #ended: Promise<void> = Promise.resolve();
  #callOff: (() => void) | undefined;
  #isLookedAt = false;
  /** Rows that may still end before a run that nobody looks at is stopped. */
  #left = Infinity;
  #phase: RunPhase = "idle";
  #done = 0;
  #all = 0;
  #trouble: string | undefined;
  #messages: readonly Message[] = [];

  constructor(world: RowsWorld) {
    this.#world = world;
  }

  get run(): {
    readonly phase: RunPhase;
    readonly done: number;
    readonly all: number;
    readonly trouble?: string;
  } {
    const { done, all } = { done: this.#done, all: this.#all };
    return { phase: this.#phase, done, all, ...(this.#trouble !== undefined && { trouble: this.#trouble }) };
  }

  /** Of the last run, about the whole. */
  get messages(): readonly Message[] {
    return this.#messages;
  }

  /** The rows, a design each list. */
  get groups(): readonly { readonly design: string; readonly rows: readonly StandingRow[] }[] {
    return this.#plans.map((plan) => ({ design: plan.design, rows: this.#known.of(plan) }));
  }

  get rows(): readonly StandingRow[] {
    return this.groups.flatMap(({ rows }) => rows);
  }

  /** Which rows there are to be. What is known of those that stay is kept. */
  want(plans: readonly DesignPlan[]): void {
    if (JSON.stringify(plans) === JSON.stringify(this.#plans)) return;
    const before = new Map(this.#plans.map((plan) => [plan.design, JSON.stringify(plan)]));
    const isOther = (plan: DesignPlan) => before.get(plan.design) !== JSON.stringify(plan);
    this.#plans = plans;
    const designs = new Set(plans.map(({ design }) => design));
    for (const design of this.#due) if (!designs.has(design)) this.#due.delete(design);
    for (const plan of plans.filter(isOther)) {
      this.#known.setOrder(plan.design, undefined);
      if (this.#known.of(plan).some(({ state }) => state !== "current")) this.#due.add(plan.design);
    }
    if (this.#run?.plans.some((plan) => !designs.has(plan.design) || isOther(plan)) || this.#due.size > 0)
      this.#restart();
    else this.#setIdle();
    this.#world.changed();
  }

  /**
   * A file is saved, came or went: what depends on it is made again. @param isOther it came or went: it may be what a
   * row that failed was missing
   */
  fileChanged(path: string, isOther = false): void {
    const mayRead = mayBeRead(path);
    const concerned = this.#known.outdate(
      (row) =>
        row.inputs.includes(path) ||
        row.design === path ||
        row.wearer === path ||
        (isOther && mayRead && row.verdict === "failed"),
    );
    // Of a row that was never made nobody knows what it reads: it may be reading this.
    for (const { design, wearers } of this.#run?.plans ?? []) {
      const isNew = wearers.some((wearer) => !this.#known.isKnown(design, wearer));
      if (isNew && mayRead) concerned.add(design);
    }
    this.#concern(concerned);
  }

  /** Other than its files is set for a design, for example its printer: all its rows are made again. */
  designChanged(design: string): void {
    this.#known.outdate((row) => row.design === design);
    this.#concern(new Set([design]));
  }

  /** Whether somebody looks at the table: nobody waits for rows that nobody sees. */
  setLookedAt(isLookedAt: boolean): void {
    if (isLookedAt === this.#isLookedAt) return;
    this.#isLookedAt = isLookedAt;
    if (!isLookedAt) {
      // Those at work may end; no others begin.
      this.#left = this.#world.processes;
      return;
    }
    this.#left = Infinity;
    if (this.#due.size > 0 && !this.#run && this.#phase !== "cancelled" && this.#phase !== "failed")
      this.#restart();
  }

  /** Stops; what is made stays. */
  cancel(): void {
    if (this.#phase !== "running") return;
    this.#stop();
    this.#phase = "cancelled";
    this.#world.changed();
  }

  /** Makes all rows that are not as their files say, after a cancel too; looks at the files of all others. */
  again(): void {
    for (const { design } of this.#plans) this.#due.add(design);
    this.#restart();
  }

  /** Ends what runs; resolves when it has. */
  dispose(): Promise<void> {
    this.#isLookedAt = false;
    this.#stop();
    return this.#ended;
  }

  #concern(designs: ReadonlySet<string>): void {
    const shown = this.#plans.filter(({ design }) => designs.has(design));
    if (shown.length === 0) return;
    for (const { design } of shown) this.#due.add(design);
    this.#restart();
  }

  #stop(): void {
    this.#callOff?.();
    this.#callOff = undefined;
    const run = this.#run;
    this.#run = undefined;
    run?.abort.abort();
  }

  #setIdle(): void {
    if (this.#run || this.#callOff) return;
    this.#phase = "idle";
    this.#trouble = undefined;
  }

  /** Begins a run over all that is due, in place of the one that goes on. */
  #restart(): void {
    this.#stop();
    this.#trouble = undefined;
    if (!this.#isLookedAt) {
      this.#phase = "paused";
      this.#world.changed();
      return;
    }
    if (this.#phase !== "running") {
      this.#done = 0;
      this.#all = this.#countDue();
    }
    this.#phase = "running";
    this.#world.changed();
    this.#callOff = this.#world.clock.after(savesPause, () => {
      this.#callOff = undefined;
      this.#begin();
    });
  }

  #countDue(): number {
    return this.#plans
      .filter(({ design }) => this.#due.has(design))
      .reduce((sum, { wearers }) => sum + wearers.length, 0);
  }

  #begin(): void {
    const plans = this.#plans.filter(({ design }) => this.#due.has(design));
    if (plans.length === 0) {
      this.#phase = "idle";
      this.#world.changed();
      return;
    }
    const run: Run = { plans, abort: new AbortController() };
    this.#run = run;
    // Two must not write into one folder.
    this.#ended = this.#ended.then(() => this.#make(run));
  }

  async #make(run: Run): Promise<void> {
    const isWanted = () => this.#run === run;
    if (!isWanted()) return;
    try {
      const table = await this.#world.refit(run.plans, {
        signal: run.abort.signal,
        onProgress: (done, all) => {
          if (!isWanted()) return;
          this.#done = done;
          this.#all = all;
          this.#world.changed();
        },
        onRow: (row) => {
          if (!isWanted()) return;
          this.#take(row);
          if (!row.kept && --this.#left <= 0) this.#pause();
        },
      });
      if (isWanted()) this.#finish(run, table);
    } catch (error) {
      if (!isWanted()) return;
      this.#run = undefined;
      this.#phase = "failed";
      this.#trouble = error instanceof Error ? error.message : String(error);
      this.#world.failed(error);
      this.#world.changed();
    }
  }

  #take(row: RefitRow): void {
    if (this.#known.take(row)) this.#world.changed(rowKey(row.design, row.wearer));
  }

  #finish(run: Run, table: RefitTable): void {
    this.#run = undefined;
    this.#phase = "idle";
    this.#messages = table.messages;
    for (const row of table.rows) this.#take(row);
    for (const { design } of run.plans) {
      this.#due.delete(design);
      const own = table.rows.filter((row) => row.design === design);
      this.#known.setOrder(
        design,
        own.map(({ wearer }) => wearer),
      );
    }
    this.#world.changed();
  }

  #pause(): void {
    this.#stop();
    this.#phase = "paused";
    this.#world.changed();
  }
}

/** Whether a design may read a file: what the tool itself writes beside designs it does not. */
const mayBeRead = (path: string): boolean =>
  /\.(?:[cm]?[jt]s|json)$/.test(path) && !/(?:[\\/]row|\.report)\.json$/.test(path);
