import type {
  BuildEvent,
  BuildOutcome,
  ExportOutcome,
  ExportRequest,
  PlanEvent,
  PlanOutcome,
  ServiceRequest,
} from "./protocol";

/** Why the engine's process was replaced. */
export interface EngineReplaced {
  readonly reason: "ended" | "hung" | "asked";
  /** The last that it said on its error output. */
  readonly complaint: string;
}

/** The engine in a process of its own, started at first need, kept warm, replaced when it dies or hangs. */
export interface EngineClient {
  /**
   * Builds. `onEvent` gets drafts and the solid as they come. A newer build of the same design cancels this one.
   * Rejects with an AbortError when cancelled or superseded, and with an `EngineLostError` when the process ended
   * under it and could not be replaced in time.
   * @param options `resend`: send meshes and the head even where they are known
   */
  build(
    request: ServiceRequest,
    onEvent: (event: BuildEvent) => void,
    options?: { readonly signal?: AbortSignal; readonly resend?: boolean },
  ): Promise<BuildOutcome>;
  /**
   * Plans the print of the piece that was last built of a design. Rejects with an AbortError when cancelled, or when a
   * newer build of the design is asked for.
   */
  plan(design: string, onEvent: (event: PlanEvent) => void, signal?: AbortSignal): Promise<PlanOutcome>;
  /** Builds exactly, as the command line does, and writes files whole. */
  export(request: ExportRequest, signal?: AbortSignal): Promise<ExportOutcome>;
  /** The drawing sheet as SVG; undefined when the design does not build. */
  sheet(request: ServiceRequest, signal?: AbortSignal): Promise<string | undefined>;
  /** Starts the process ahead of the first build. */
  warm(): Promise<void>;
  /**
   * Compiles what a build that is about to be asked for will need: call it before a file is written. Costs nothing
   * where no process runs.
   */
  prepare(design: string, texts: Readonly<Record<string, string>>): void;
  /** Frees what is kept for a design. */
  forget(design: string): void;
  /** Ends the process; the next request starts another. */
  restart(): Promise<void>;
  onReplaced(listener: (how: EngineReplaced) => void): { dispose(): void };
  /** Id of the process, undefined when none runs. */
  readonly processId: number | undefined;
  /** Ends all processes; resolves when they are gone. */
  dispose(): Promise<void>;
}

export interface EngineClientOptions {
  /** The bundled script of the engine's process. */
  readonly script: string;
  /** A process that says nothing for so long while it is asked for something is replaced, seconds; 60 unless given. */
  readonly hangSeconds?: number;
  /** A process that holds more than this after a build is replaced when it is idle, MB; 1500 unless given. */
  readonly recycleMB?: number;
}

/** The engine's process ended while it was asked for something, twice in a row. */
export class EngineLostError extends Error {
  constructor(complaint: string) {
    super(complaint || "the engine's process ended");
    this.name = "EngineLostError";
  }
}
