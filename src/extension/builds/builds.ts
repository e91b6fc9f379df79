import type { EngineClient } from "../../build/service/engineClient";
import type { BuildEvent, BuildOutcome, ServiceRequest } from "../../build/service/protocol";
import type { PartyKind } from "../designState";
import type { Clock } from "./clock";
import { type DesignRecord, emptyRecord, type Values } from "./designRecord";
import { engineTrouble } from "./engineTrouble";
import { withPlan, withPlanned } from "./knownPlan";
import { withAnswer } from "./knownWear";
import { type Haste, LatestOnly } from "./latestOnly";
import { gapBuffer, meshBuffers } from "./meshBuffers";
import { meantValues, movedValues } from "./movedValues";
import { Picture } from "./picture";

/** What happened to a design. */
export type BuildChange =
  | "started"
  | "progress"
  | "facts"
  | "head"
  | "draft"
  | "solid"
  | "plate"
  | "gaps"
  | "check"
  /** More is known of how it is printed. */
  | "plan"
  | "planBody"
  /** How it is printed is known, as far as it will be. */
  | "planned"
  | "ended"
  /** Moved parameters, or another wearer, printer, material or print settings. */
  | "settings"
  /** Something that the result depends on changed, and nothing is being built. */
  | "stale"
  /** The file is gone. */
  | "gone"
  /** Nobody looks at it any more. */
  | "forgotten";

/** What the builds need of the world around them. */
export interface BuildWorld {
  engine(): EngineClient;
  /** False where nothing may be run: an untrusted workspace. */
  mayBuild(design: string): boolean;
  /** Limits, and texts that stand in for files. */
  requestFor(design: string): Pick<ServiceRequest, "texts" | "timeLimitSeconds" | "memoryLimitMB">;
  changed(record: DesignRecord, change: BuildChange): void;
  /** The tool itself went wrong. */
  failed(error: unknown): void;
  readonly clock: Clock;
}

/** Least time between two starts of the same design, ms: below what is noticed, above what a burst of saves costs. */
const spacing = 60;

/**
 * A piece that stays as it is for so long is planned, ms: a plan takes the processor for seconds, and would keep the
 * picture of the next save from it.
 */
export const planPause = 1000;

/** The builds of all designs: at most one each, and what came of them. Knows paths, not editors. */
export class Builds {
  readonly #world: BuildWorld;
  readonly #records = new Map<string, DesignRecord>();
  readonly #runs = new Map<string, LatestOnly<void>>();
  readonly #viewers = new Map<string, number>();
  /** What plans the print of the last good build. */
  readonly #plans = new Map<string, Promise<void>>();
  #lastVersion = 0;

  constructor(world: BuildWorld) {
    this.#world = world;
  }

  get records(): readonly DesignRecord[] {
    return [...this.#records.values()];
  }

  /** What is known of a design; undefined where nobody asked for it yet. */
  known(design: string): DesignRecord | undefined {
    return this.#records.get(design);
  }

  record(design: string): DesignRecord {
    let record = this.#records.get(design);
    if (!record) {
      record = emptyRecord(design);
      this.#records.set(design, record);
    }
    return record;
  }

  /** Builds; resolves when that build, or a newer one in its place, ended in any way. */
  async build(design: string, haste: Haste = "now"): Promise<DesignRecord> {
    const record = this.record(design);
    if (!this.#world.mayBuild(design)) return record;
    let run = this.#runs.get(design);
    if (!run) {
      run = new LatestOnly<void>((_job, signal) => this.#run(record, signal), this.#world.clock, spacing);
      this.#runs.set(design, run);
    }
    await run.request(undefined, haste);
    return record;
  }

  /** Resolves once it is known how the last build is printed, or that it will not be known. */
  async planned(design: string): Promise<DesignRecord> {
    let awaited: Promise<void> | undefined;
    while (awaited !== this.#plans.get(design)) {
      awaited = this.#plans.get(design);
      await awaited;
    }
    return this.record(design);
  }

  /** What the engine is asked for a design, as things stand. */
  requestOf({ path, chosen, values }: DesignRecord): ServiceRequest {
    return {
      design: path,
      ...this.#world.requestFor(path),
      ...chosen,
      ...(Object.keys(values).length > 0 && { values }),
    };
  }

  /** A file that a design uses is about to be written: what the build of it will need is made ready meanwhile. */
  prepare({ path, version }: DesignRecord, texts: Readonly<Record<string, string>>): void {
    if (version > 0 && this.#world.mayBuild(path)) this.#world.engine().prepare(path, texts);
  }

  isBusy(design: string): boolean {
    return this.#runs.get(design)?.isBusy ?? false;
  }

  cancel(design: string): void {
    this.#runs.get(design)?.cancel();
  }

  /** Values of parameters in place of the file's; those that are equal to the file's count for nothing. */
  setValues(design: string, values: Values): void {
    const record = this.record(design);
    record.values = movedValues(values, record.facts?.header.parameters);
    record.change++;
    this.#world.changed(record, "settings");
  }

  /** Files in place of those that the design names. */
  setChosen(design: string, chosen: Readonly<Partial<Record<PartyKind, string>>>): void {
    const record = this.record(design);
    record.chosen = chosen;
    record.change++;
    this.#world.changed(record, "settings");
  }

  /** The designs that depend on a file. */
  using(file: string): DesignRecord[] {
    return this.records.filter(({ path, inputs }) => path === file || inputs.has(file));
  }

  /** Something that the design depends on changed: its result is outdated. */
  touch(record: DesignRecord): void {
    record.change++;
    record.isGone = false;
    this.#world.changed(record, "stale");
  }

  /** The design's file is gone. What it last made stays to be looked at, without its findings. */
  remove(design: string): void {
    const record = this.#records.get(design);
    if (!record || record.isGone) return;
    this.cancel(design);
    if (record.version > 0) this.#world.engine().forget(design);
    Object.assign(record, { status: "unbuilt", messages: [], isGone: true, version: ++this.#lastVersion });
    record.change++;
    this.#world.changed(record, "gone");
  }

  /** Keeps the meshes of a design for as long as somebody shows them. The result gives them up. */
  view(design: string): () => void {
    const record = this.record(design);
    record.picture ??= new Picture();
    this.#viewers.set(design, (this.#viewers.get(design) ?? 0) + 1);
    let isOver = false;
    return () => {
      if (isOver) return;
      isOver = true;
      const left = (this.#viewers.get(design) ?? 1) - 1;
      if (left > 0) {
        this.#viewers.set(design, left);
        return;
      }
      this.#viewers.delete(design);
      record.picture = undefined;
      record.head = undefined;
      record.gaps = undefined;
    };
  }

  isViewed(design: string): boolean {
    return this.#viewers.has(design);
  }

  /** Stops all that runs. */
  dispose(): void {
    for (const run of this.#runs.values()) run.cancel();
  }

  async #run(record: DesignRecord, signal: AbortSignal): Promise<void> {
    const { path } = record;
    const version = ++this.#lastVersion;
    const { change } = record;
    const isCurrent = () => !signal.aborted && record.version === version;
    let lacksMeshes = false;
    Object.assign(record, { version, status: "building", stage: undefined, share: undefined, isGone: false });
    this.#world.changed(record, "started");
    try {
      const outcome = await unlessAborted(
        signal,
        this.#world.engine().build(
          this.requestOf(record),
          (event) => {
            if (isCurrent() && !this.#take(record, event, { version, change })) lacksMeshes = true;
          },
          { signal, resend: needsAll(record) },
        ),
      );
      if (isCurrent()) this.#finish(record, outcome, change);
    } catch (error) {
      if (record.version !== version) return;
      // One that gave way to a newer build goes on in that one.
      if (signal.aborted && this.#runs.get(path)?.isWaiting) return;
      if (signal.aborted) record.status = "cancelled";
      else if (isAbort(error)) {
        // The engine was told to forget the design when its editor closed; somebody may look at it again by now.
        record.status = "unbuilt";
        if (this.isViewed(path)) void this.build(path);
      } else {
        this.#world.failed(error);
        Object.assign(record, { status: "failed", messages: [engineTrouble(error, path)] });
      }
    }
    if (record.version !== version) return;
    if (record.status === "built") this.#plans.set(path, this.#plan(record, signal));
    record.stage = undefined;
    record.share = undefined;
    const values = signal.aborted ? record.values : meantValues(record.values, record.messages);
    if (values !== record.values) {
      // The file no longer knows a parameter that was moved, or no longer allows its value.
      record.values = values;
      this.#world.changed(record, "settings");
      void this.build(path);
    } else if (lacksMeshes && !signal.aborted && record.picture) {
      record.picture = new Picture();
      void this.build(path);
    }
    this.#world.changed(record, "ended");
  }

  /** Plans the print of what was just built; a newer build of the design ends it. */
  async #plan(record: DesignRecord, signal: AbortSignal): Promise<void> {
    const { version, path } = record;
    const isCurrent = () => !signal.aborted && record.version === version && record.status === "built";
    await new Promise<void>((resolve) => this.#world.clock.after(planPause, resolve));
    if (!isCurrent()) return;
    try {
      const { plan } = await this.#world.engine().plan(
        path,
        (event) => {
          if (!isCurrent()) return;
          record.plan = withPlanned(record.plan, event, version);
          this.#world.changed(record, event.kind);
        },
        signal,
      );
      if (!isCurrent() || !plan || !record.report) return;
      record.report = withPlan(record.report, plan);
      record.messages = [...record.messages, ...(record.plan?.facts.findings ?? [])];
      this.#world.changed(record, "planned");
    } catch (error) {
      if (isAbort(error)) return;
      this.#world.failed(error);
      if (!isCurrent() || record.plan?.version !== version) return;
      // The piece stands without the rest of its plan: nobody need wait for it.
      record.plan = { ...record.plan, facts: { ...record.plan.facts, isWhole: true } };
      this.#world.changed(record, "planned");
    }
  }

  /** False when a mesh is left out that is not at hand. */
  #take(record: DesignRecord, event: BuildEvent, at: { version: number; change: number }): boolean {
    switch (event.kind) {
      case "progress":
        record.stage = event.stage;
        record.share = event.share;
        break;
      case "facts":
        record.facts = event.facts;
        record.values = movedValues(record.values, event.facts.header.parameters);
        break;
      case "head":
        if (!record.picture) return true;
        record.head = { version: at.version, key: event.key, mesh: meshBuffers(event.mesh) };
        break;
      case "draft":
        this.#runs.get(record.path)?.pictureShown();
        if (!record.picture) return true;
        // What was sent of a build that gave way may never have been heard: the engine believes it known.
        if (record.head?.key !== event.head) record.head = undefined;
        if (!record.picture.takeDraft(event, at) || !record.head) return false;
        break;
      case "solid":
        if (!record.picture) return true;
        record.picture.takeSolid(event, at);
        break;
      case "plate":
        record.plate = event.plate;
        break;
      case "gaps":
        if (!record.picture) return true;
        record.gaps = { version: at.version, values: gapBuffer(event.gaps) };
        break;
      case "check":
        record.wear = withAnswer(record.wear, event.answer, at.version);
        break;
    }
    this.#world.changed(record, event.kind);
    return true;
  }

  #finish(record: DesignRecord, outcome: BuildOutcome, change: number): void {
    record.status = outcome.ok ? "built" : "failed";
    const findings = outcome.ok && record.wear?.version === record.version ? record.wear.findings : [];
    record.messages = [...outcome.messages, ...findings];
    record.times = outcome.times;
    // A build that failed early has not come to all files that it would need: those of the last one still count.
    record.inputs = new Set([record.path, ...(outcome.ok ? [] : record.inputs), ...outcome.inputs]);
    if (!outcome.report) return;
    record.report = outcome.report;
    record.reportChange = change;
  }
}

/** Whether the engine must send what it believes to be known here. */
const needsAll = ({ picture, head }: DesignRecord): boolean =>
  picture !== undefined && (picture.isEmpty || head === undefined);

const isAbort = (error: unknown): boolean => error instanceof Error && error.name === "AbortError";

/** Settles with the work, or rejects as soon as the signal is aborted, however long the work then takes to stop. */
function unlessAborted(signal: AbortSignal, work: Promise<BuildOutcome>): Promise<BuildOutcome> {
  return new Promise((resolve, reject) => {
    const stop = () => reject(new DOMException("cancelled", "AbortError"));
    if (signal.aborted) stop();
    signal.addEventListener("abort", stop, { once: true });
    work.then(resolve, reject).finally(() => signal.removeEventListener("abort", stop));
  });
}
