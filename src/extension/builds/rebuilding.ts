import type { RebuildMode } from "../settings/settings";
import type { Builds } from "./builds";
import type { Clock } from "./clock";
import type { DesignRecord } from "./designRecord";

/** What decides whether a change leads to a build. */
export interface RebuildPolicy {
  mode(design: string): RebuildMode;
  /** ms without a key before a build while typing. */
  typingPause(design: string): number;
  /** A preview shows it, or a visible editor. */
  isLookedAt(design: string): boolean;
}

/** Changes outside the editor come in swarms (another branch checked out): they are gathered for so long, ms. */
const swarm = 150;

/**
 * Turns changes of files into builds. Only designs that somebody looks at are built at once; those that were built
 * before in this window follow one after the other; all others wait until they are asked for.
 */
export class Rebuilding {
  readonly #builds: Builds;
  readonly #policy: RebuildPolicy;
  readonly #clock: Clock;
  readonly #pauses = new Map<string, () => void>();
  readonly #outside = new Map<string, "changed" | "deleted">();
  #callOffSwarm: (() => void) | undefined;
  readonly #background = new Set<string>();
  #isDraining = false;

  constructor(builds: Builds, policy: RebuildPolicy, clock: Clock) {
    this.#builds = builds;
    this.#policy = policy;
    this.#clock = clock;
  }

  /** A file is about to be saved in the editor. */
  saving(file: string, textOf: () => string): void {
    const asked = this.#builds
      .using(file)
      .filter(({ path }) => this.#policy.mode(path) !== "off" && this.#policy.isLookedAt(path));
    if (asked.length === 0) return;
    const texts = { [file]: textOf() };
    for (const record of asked) this.#builds.prepare(record, texts);
  }

  /** A file was saved in the editor. */
  saved(file: string): void {
    for (const record of this.#builds.using(file)) this.#changed(record);
  }

  /** A file's text is being changed in the editor. */
  typed(file: string): void {
    for (const record of this.#builds.using(file)) {
      const { path } = record;
      if (this.#policy.mode(path) !== "whileTyping" || !this.#policy.isLookedAt(path)) continue;
      this.#pauses.get(path)?.();
      const callOff = this.#clock.after(this.#policy.typingPause(path), () => {
        this.#pauses.delete(path);
        this.#builds.touch(record);
        void this.#builds.build(path);
      });
      this.#pauses.set(path, callOff);
    }
  }

  /** A file was changed, made or deleted by somebody else. */
  changedOutside(file: string, how: "changed" | "deleted"): void {
    this.#outside.set(file, how);
    this.#callOffSwarm?.();
    this.#callOffSwarm = this.#clock.after(swarm, () => {
      this.#callOffSwarm = undefined;
      this.#settleOutside();
    });
  }

  /** Somebody begins to look at a design. */
  lookedAt(design: string): void {
    if (this.#policy.mode(design) === "off" || this.#builds.isBusy(design)) return;
    const record = this.#builds.record(design);
    const isFresh = record.status !== "unbuilt" && record.reportChange === record.change;
    const isKnownBad = record.status === "failed" || record.status === "cancelled";
    if (!isFresh && !isKnownBad) void this.#builds.build(design);
  }

  dispose(): void {
    for (const callOff of this.#pauses.values()) callOff();
    this.#callOffSwarm?.();
    this.#background.clear();
  }

  #settleOutside(): void {
    const outside = new Map(this.#outside);
    this.#outside.clear();
    const changed = new Set<DesignRecord>();
    for (const [file, how] of outside) {
      if (how === "deleted" && this.#builds.known(file)) this.#builds.remove(file);
      else for (const record of this.#builds.using(file)) changed.add(record);
    }
    for (const record of changed) {
      // What a design used changes nothing while the design itself is gone.
      if (!record.isGone || outside.get(record.path) === "changed") this.#changed(record);
    }
  }

  #changed(record: DesignRecord): void {
    const { path } = record;
    this.#pauses.get(path)?.();
    this.#pauses.delete(path);
    const wasBuilt = record.status !== "unbuilt";
    this.#builds.touch(record);
    if (this.#policy.mode(path) === "off") return;
    if (this.#policy.isLookedAt(path)) void this.#builds.build(path);
    else if (wasBuilt) {
      this.#background.add(path);
      void this.#drain();
    }
  }

  /** One after the other, so that what is looked at keeps the machine. */
  async #drain(): Promise<void> {
    if (this.#isDraining) return;
    this.#isDraining = true;
    for (const path of this.#background) {
      this.#background.delete(path);
      await this.#builds.build(path);
    }
    this.#isDraining = false;
  }
}
