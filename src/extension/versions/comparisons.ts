import type {
  CompareRequest,
  CompareResult,
  Comparison,
  ComparisonMeshes,
} from "../../build/versions/comparison";
import type { Message } from "../../message";
import type { Clock } from "../builds/clock";

/** A design beside its version in a commit, as it is known. */
export interface ComparisonRecord {
  /** The commit as it was asked for: "HEAD", a short hash. */
  readonly asked: string;
  /** What goes on; undefined when nothing does. */
  readonly stage?: string;
  /** The last that came to something. */
  readonly result?: ComparisonResult;
  /** The piece is no longer that of `result`. */
  readonly isOutdated: boolean;
  /** Of the last attempt. */
  readonly messages: readonly Message[];
}

export interface ComparisonResult {
  readonly comparison: Comparison;
  readonly meshes: ComparisonMeshes;
  /** The piece of now has other parameters than its file: some were moved. */
  readonly hasMovedValues: boolean;
}

/** What the comparisons need of the world around them. */
export interface ComparisonWorld {
  /** Compares. Rejects with the signal's reason when it is aborted. */
  compare(
    request: CompareRequest,
    onStage: (stage: string) => void,
    signal: AbortSignal,
  ): Promise<CompareResult>;
  /** What is compared: the design with all that was chosen for it. */
  requestFor(design: string): Omit<CompareRequest, "against">;
  /** Counts the changes of all that the design's result depends on. */
  changeOf(design: string): number;
  hasMovedValues(design: string): boolean;
  /** The last build of the design ended well and is of its last change. */
  isBuilt(design: string): boolean;
  changed(design: string): void;
  /** The tool itself went wrong. */
  failed(error: unknown): void;
  readonly clock: Clock;
}

/** A piece that stays as it is for so long after its build is compared anew, ms: it takes the processor for seconds. */
export const comparisonPause = 700;

interface Run {
  readonly abort: AbortController;
  readonly change: number;
}

class Entry {
  readonly asked: string;
  /** The full hash, once it is known: HEAD may be another commit by the next save. */
  against: string;
  stage: string | undefined;
  result: ComparisonResult | undefined;
  /** Changes of the design that the result, and the last attempt, are of. */
  resultChange = -1;
  triedChange = -1;
  messages: readonly Message[] = [];
  run: Run | undefined;
  callOff: (() => void) | undefined;

  constructor(asked: string) {
    this.asked = asked;
    this.against = asked;
  }

  stop(): void {
    this.callOff?.();
    this.callOff = undefined;
    this.run?.abort.abort();
    this.run = undefined;
  }
}

/** The comparisons of all designs, at most one each. Made again when the piece has changed and is built. */
export class Comparisons {
  readonly #world: ComparisonWorld;
  readonly #entries = new Map<string, Entry>();

  constructor(world: ComparisonWorld) {
    this.#world = world;
  }

  /** How a design's comparison stands; undefined where it has none. */
  of(design: string): ComparisonRecord | undefined {
    const entry = this.#entries.get(design);
    if (!entry) return undefined;
    const { asked, stage, result, resultChange, messages } = entry;
    return {
      asked,
      ...(stage !== undefined && { stage }),
      ...(result && { result }),
      isOutdated: result !== undefined && resultChange !== this.#world.changeOf(design),
      messages,
    };
  }

  /**
   * Compares a design with a commit in place of the one before; resolves with how that came out, undefined when it was
   * ended or another one came in its place.
   */
  async compare(design: string, asked: string): Promise<ComparisonRecord | undefined> {
    this.#entries.get(design)?.stop();
    const entry = new Entry(asked);
    this.#entries.set(design, entry);
    await this.#run(design, entry);
    return this.#entries.get(design) === entry ? this.of(design) : undefined;
  }

  /** Compares a design with a commit as soon as it is built, unless it is compared already: after a reload. */
  resume(design: string, asked: string): void {
    if (this.#entries.has(design)) return;
    const entry = new Entry(asked);
    entry.stage = "waiting for the piece";
    this.#entries.set(design, entry);
    this.onBuild(design);
  }

  /** The piece is shown alone again. */
  end(design: string): void {
    const entry = this.#entries.get(design);
    if (!entry) return;
    entry.stop();
    this.#entries.delete(design);
    this.#world.changed(design);
  }

  /** Something happened to a design: what is known of it may be outdated, or can be made anew. */
  onBuild(design: string): void {
    const entry = this.#entries.get(design);
    if (!entry) return;
    const change = this.#world.changeOf(design);
    if (entry.run && entry.run.change !== change) {
      entry.stop();
      entry.stage = undefined;
    }
    const tried = entry.run?.change ?? entry.triedChange;
    this.#world.changed(design);
    entry.callOff?.();
    entry.callOff = undefined;
    if (tried === change || !this.#world.isBuilt(design)) return;
    entry.callOff = this.#world.clock.after(comparisonPause, () => {
      entry.callOff = undefined;
      if (this.#world.isBuilt(design)) void this.#run(design, entry);
    });
  }

  dispose(): void {
    for (const entry of this.#entries.values()) entry.stop();
    this.#entries.clear();
  }

  async #run(design: string, entry: Entry): Promise<void> {
    const world = this.#world;
    const run: Run = { abort: new AbortController(), change: world.changeOf(design) };
    entry.run = run;
    entry.stage = "starting";
    entry.messages = [];
    world.changed(design);
    const hasMovedValues = world.hasMovedValues(design);
    const request = { ...world.requestFor(design), against: entry.against };
    try {
      const tell = (stage: string) => {
        if (entry.run !== run) return;
        entry.stage = stage;
        world.changed(design);
      };
      const { comparison, meshes, messages } = await world.compare(request, tell, run.abort.signal);
      if (entry.run !== run) return;
      entry.messages = messages;
      if (comparison && meshes) {
        entry.resultChange = run.change;
        entry.result = { comparison, meshes, hasMovedValues };
        entry.against = comparison.revision.hash;
      }
    } catch (error) {
      if (entry.run !== run) return;
      world.failed(error);
      entry.messages = [faultOf(error)];
    }
    entry.run = undefined;
    entry.stage = undefined;
    entry.triedChange = run.change;
    world.changed(design);
  }
}

const faultOf = (error: unknown): Message => ({
  id: "engine-fault",
  severity: "error",
  text: `The comparison went wrong: ${error instanceof Error ? error.message : String(error)}`,
  suggestion: "compare again; the log says more",
});
