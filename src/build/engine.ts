import { resolve } from "node:path";
import { checkOnePiece } from "../checks/onePiece";
import type { DesignHeader, DesignResult, ParameterValue, Part } from "../design/part";
import type { PartMesh, TriangleMesh } from "../geometry/mesh";
import { BodyError } from "../geometry/solid/body";
import { type Kernel, loadKernel } from "../geometry/solid/kernel";
import { SolidBuilder, type SolidResult } from "../geometry/solid/solidBuilder";
import { surfaceOfPieces } from "../geometry/solid/surface";
import { defaultTolerance } from "../geometry/sweep";
import { type Message, MessageError } from "../message";
import type { OrientationChoice } from "../orientation";
import { BodyMaker, type Swept } from "./bodies";
import { Compiler, type DesignCompiler } from "./compile";
import { Evaluator } from "./evaluator";
import { Heads, type WearerHead } from "./heads";
import { liesInside } from "./insideHead";
import { refuseOversized } from "./oversized";
import { type Parties, type PartyFiles, partyFiles, readParties } from "./parties";
import { valuesFromTexts } from "./settings";
import { settleResting } from "./settleResting";
import type { OpenTexts } from "./sourceTexts";
import { scanNamedIn } from "./wearerScan";
import { workspaceLimitsFile } from "./workspaceLimits";

/** What one build is asked for. */
export interface BuildRequest extends PartyFiles {
  /** The design file. */
  readonly design: string;
  /** Values of parameters, as texts or as values. */
  readonly settings?: Readonly<Record<string, string>>;
  readonly values?: Readonly<Record<string, ParameterValue>>;
  /** Which way up it is printed, in place of what the design says. */
  readonly orientation?: OrientationChoice;
  readonly timeLimitSeconds?: number;
  readonly memoryLimitMB?: number;
  readonly signal?: AbortSignal;
  /** Told how far the work is. */
  readonly progress?: (stage: BuildStage, share?: number) => void;
  /** What did not change since the last build may be added to as it is; see `SolidBuilder`. */
  readonly incremental?: boolean;
  /** In a process of its own that ran nothing before: for what is written to files. */
  readonly isFresh?: boolean;
  /** Texts that stand in for files on disk, by absolute path: what is being typed. */
  readonly texts?: OpenTexts;
  /** Told as soon as the design has run: its parts, lying where they rest, and the head. */
  readonly onDesigned?: (designed: Designed) => void;
  /** Told as soon as all parts have their own surfaces; nothing is united before its promise is kept. */
  readonly onSwept?: (swept: readonly Swept[], parts: readonly Part[]) => Promise<void>;
}

/** A design that has run. */
export type Designed = Required<Pick<Build, "header" | "parties" | "head" | "result">>;

export type BuildStage =
  | "reading the design"
  | "running the design"
  | "building the head"
  | "sweeping"
  | "uniting"
  | "measuring";

/** What a build gives; the later fields are there as far as it came. */
export interface Build {
  /** No message is an error. */
  readonly ok: boolean;
  readonly messages: readonly Message[];
  /** All files that the result depends on, absolute: the ones to watch. */
  readonly inputs: readonly string[];
  readonly header?: DesignHeader;
  readonly parties?: Parties;
  readonly head?: WearerHead;
  /** The design's parts, resting ones where they came to rest. */
  readonly result?: DesignResult;
  readonly solid?: SolidResult & { readonly mesh: PartMesh };
}

/** Where the engine finds the files that it runs. */
export interface EngineFiles {
  /** The bundled script of the design's process. */
  readonly evaluator: string;
  /** `manifold.wasm`. */
  readonly kernel: string;
}

/** A shell below this volume is a crumb, mm³. */
export const crumbVolume = 1;

/** Turns design files into solids, and keeps what did not change for the next time. */
export class Engine {
  readonly #files: EngineFiles;
  readonly #compiler: DesignCompiler;
  readonly #evaluator: Evaluator;
  readonly #heads = new Heads();
  #kernel: Kernel | undefined;
  readonly #workshops = new Map<string, { maker: BodyMaker; builder: SolidBuilder }>();

  /**
   * @param options `keepWarm`: keep the design's process for the next build, and one ready; for an engine that lives
   * on. `compiler`: what compiles, instead of one of its own
   */
  constructor(
    files: EngineFiles,
    options: { readonly keepWarm?: boolean; readonly compiler?: DesignCompiler } = {},
  ) {
    const keepWarm = options.keepWarm ?? false;
    this.#files = files;
    this.#compiler = options.compiler ?? new Compiler();
    this.#evaluator = new Evaluator({ entry: files.evaluator, keepSpare: keepWarm, reuse: keepWarm });
  }

  /** Starts what the first build would wait for. */
  async warm(): Promise<void> {
    await Promise.all([this.#evaluator.warm(), loadKernel(this.#files.kernel)]);
  }

  /** The solid kernel, loaded once. */
  kernel(): Promise<Kernel> {
    return loadKernel(this.#files.kernel);
  }

  /** Frees what is kept of a design that is not built any more. */
  forget(design: string): void {
    this.#workshops.get(resolve(design))?.builder.dispose();
    this.#workshops.delete(resolve(design));
  }

  /** A part's own surface as one mesh, to be looked at. The kernel must be loaded: ask from `onSwept` on. */
  surfaceOf({ add }: Swept): TriangleMesh {
    if (!this.#kernel) throw new Error("the kernel is not loaded yet");
    return surfaceOfPieces(this.#kernel, add);
  }

  /** Ids of the processes in which designs run. */
  get processIds(): number[] {
    return this.#evaluator.processIds;
  }

  /**
   * Builds a design. What is wrong with it comes back as messages. Rejects with the signal's reason when it is
   * aborted.
   */
  async build(request: BuildRequest): Promise<Build> {
    const design = resolve(request.design);
    const build: { -readonly [K in keyof Build]: Build[K] } & { messages: Message[]; inputs: string[] } = {
      ok: false,
      messages: [],
      inputs: [design],
    };
    try {
      request.progress?.("reading the design");
      // The design's process starts while the design is compiled.
      void this.#evaluator.warm();
      const compiled = await this.#compiler.compile(design, request.texts);
      request.signal?.throwIfAborted();
      build.inputs = [...new Set([design, ...compiled.inputs])];
      build.messages.push(...compiled.messages);
      if (compiled.design) {
        request.progress?.("running the design");
        const evaluation = await this.#evaluator.evaluate({
          ...compiled.design,
          ...limitsOf(request),
          provideInput: (header) => {
            build.header = header;
            // A file that is missing is one to watch for too.
            const named = partyFiles(design, header, request);
            const scan = named.wearer && scanNamedIn(named.wearer, request.texts);
            build.inputs.push(
              ...Object.values(named),
              ...(scan ? [scan] : []),
              workspaceLimitsFile(design, request.texts),
            );
            const parties = readParties(design, header, request, request.texts);
            build.parties = request.orientation
              ? { ...parties, print: { ...parties.print, orientation: request.orientation } }
              : parties;
            build.messages.push(...parties.messages);
            request.progress?.("building the head");
            build.head = this.#heads.of(parties.wearer, header);
            const values = {
              ...valuesFromTexts(header.parameters, request.settings ?? {}),
              ...request.values,
            };
            return { head: build.head.grown.toData(), values };
          },
        });
        build.messages.push(...evaluation.messages);
        if (evaluation.result && build.head) {
          refuseOversized(evaluation.result.parts);
          build.result = settleResting(evaluation.result, build.head.grown, build.messages);
          request.onDesigned?.(build as unknown as Designed);
          build.solid = await this.#solidify(design, build.result.parts, build.head, request, build.messages);
        }
      }
    } catch (error) {
      if (!(error instanceof MessageError)) throw error;
      build.messages.push(...error.messages);
    }
    build.ok = build.solid !== undefined && !build.messages.some(({ severity }) => severity === "error");
    return build;
  }

  /** Ends the processes and frees the memory. */
  async dispose(): Promise<void> {
    for (const { builder } of this.#workshops.values()) builder.dispose();
    this.#workshops.clear();
    await Promise.all([this.#evaluator.dispose(), this.#compiler.dispose()]);
  }

  async #solidify(
    design: string,
    parts: readonly Part[],
    head: WearerHead,
    request: BuildRequest,
    messages: Message[],
  ): Promise<SolidResult> {
    const { maker, builder } = await this.#workshop(design);
    request.progress?.("sweeping");
    const { bodies, partOfBody, cuts, swept } = maker.bodiesOf(parts);
    if (request.onSwept) {
      await request.onSwept(swept, parts);
      request.signal?.throwIfAborted();
    }
    const input = {
      bodies,
      cuts,
      head: { key: head.key, mesh: head.hollow },
      crumbVolume,
    };
    const options = {
      ...(request.signal && { signal: request.signal }),
      progress: (share: number) => request.progress?.("uniting", share),
    };
    try {
      let found = await builder.build(input, { ...options, incremental: request.incremental ?? false });
      // A loose piece is told only where the exact order of union finds it too: it may hang by a hair.
      if (request.incremental && found.pieces.length > 1) found = await builder.build(input, options);
      const made = inParts(found, partOfBody);
      messages.push(...checkOnePiece(made, parts, (part) => liesInside(part, head.grown)));
      return made;
    } catch (error) {
      if (error instanceof Error && error.name === "RuntimeError") {
        // A kernel that ran out of memory is dead: what it held is lost with it.
        this.#workshops.delete(design);
        throw new MessageError([tooLarge(parts.length)]);
      }
      if (!(error instanceof BodyError)) throw error;
      const part = parts.find(({ name }) => name === error.body);
      throw new MessageError([
        {
          id: "open-body",
          severity: "error",
          text: error.message,
          suggestion: "give a closed body: every edge shared by two faces",
          ...(part && { part: part.name, ...part.origin }),
        },
      ]);
    }
  }

  async #workshop(design: string): Promise<{ maker: BodyMaker; builder: SolidBuilder }> {
    const known = this.#workshops.get(design);
    if (known) return known;
    const kernel = await loadKernel(this.#files.kernel);
    this.#kernel = kernel;
    const made = { maker: new BodyMaker(defaultTolerance), builder: new SolidBuilder(kernel) };
    this.#workshops.set(design, made);
    return made;
  }
}

const limitsOf = ({ timeLimitSeconds, memoryLimitMB, signal, isFresh }: BuildRequest) => ({
  ...(timeLimitSeconds !== undefined && { timeLimitSeconds }),
  ...(memoryLimitMB !== undefined && { memoryLimitMB }),
  ...(signal && { signal }),
  ...(isFresh && { isFresh }),
});

const tooLarge = (parts: number): Message => ({
  id: "too-large",
  severity: "error",
  text: `the solid kernel ran out of memory on ${parts} parts`,
  suggestion: "make fewer or shorter parts, and start anew",
});

/** The kernel counts bodies; everybody else counts the design's parts. */
function inParts(found: SolidResult, partOfBody: readonly number[]): SolidResult {
  const part = (body: number) => partOfBody[body];
  return {
    ...found,
    mesh: {
      ...found.mesh,
      partOfTriangle: found.mesh.partOfTriangle.map((body) => (body < 0 ? -1 : part(body))),
    },
    pieces: found.pieces.map((piece) => ({ ...piece, bodies: piece.bodies.map(part) })),
    hidden: found.hidden.map(part),
    lost: found.lost.map(part),
  };
}
