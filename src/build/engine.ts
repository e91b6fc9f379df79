import { resolve } from "node:path";
import { checkOnePiece } from "../checks/onePiece";
import type { DesignHeader, DesignResult, ParameterValue, Part } from "../design/part";
import type { PartMesh } from "../geometry/mesh";
import { BodyError } from "../geometry/solid/body";
import { loadKernel } from "../geometry/solid/kernel";
import { SolidBuilder, type SolidResult } from "../geometry/solid/solidBuilder";
import { defaultTolerance } from "../geometry/sweep";
import { type Message, MessageError } from "../message";
import { BodyMaker } from "./bodies";
import { Compiler } from "./compile";
import { Evaluator } from "./evaluator";
import { Heads, type WearerHead } from "./heads";
import { liesInside } from "./insideHead";
import { refuseOversized } from "./oversized";
import { type Parties, type PartyFiles, readParties } from "./parties";
import { valuesFromTexts } from "./settings";
import { settleResting } from "./settleResting";

/** What one build is asked for. */
export interface BuildRequest extends PartyFiles {
  /** The design file. */
  readonly design: string;
  /** Values of parameters, as texts or as values. */
  readonly settings?: Readonly<Record<string, string>>;
  readonly values?: Readonly<Record<string, ParameterValue>>;
  readonly timeLimitSeconds?: number;
  readonly memoryLimitMB?: number;
  readonly signal?: AbortSignal;
  /** Told how far the work is. */
  readonly progress?: (stage: BuildStage, share?: number) => void;
  /** What did not change since the last build may be added to as it is; see `SolidBuilder`. */
  readonly incremental?: boolean;
}

export type BuildStage = "reading the design" | "building the head" | "sweeping" | "uniting" | "measuring";

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
  readonly #compiler = new Compiler();
  readonly #evaluator: Evaluator;
  readonly #heads = new Heads();
  readonly #workshops = new Map<string, { maker: BodyMaker; builder: SolidBuilder }>();

  /** @param options `keepWarm`: start the next design's process ahead; for an engine that lives on */
  constructor(files: EngineFiles, options: { readonly keepWarm?: boolean } = {}) {
    this.#files = files;
    this.#evaluator = new Evaluator({ entry: files.evaluator, keepSpare: options.keepWarm ?? false });
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
      const compiled = await this.#compiler.compile(design);
      build.inputs = [...new Set([design, ...compiled.inputs])];
      build.messages.push(...compiled.messages);
      if (compiled.design) {
        const evaluation = await this.#evaluator.evaluate({
          ...compiled.design,
          ...limitsOf(request),
          provideInput: (header) => {
            build.header = header;
            const parties = readParties(design, header, request);
            build.parties = parties;
            build.inputs.push(...parties.files);
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
    const { bodies, partOfBody, cuts } = maker.bodiesOf(parts);
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
    const made = { maker: new BodyMaker(defaultTolerance), builder: new SolidBuilder(kernel) };
    this.#workshops.set(design, made);
    return made;
  }
}

const limitsOf = ({ timeLimitSeconds, memoryLimitMB, signal }: BuildRequest) => ({
  ...(timeLimitSeconds !== undefined && { timeLimitSeconds }),
  ...(memoryLimitMB !== undefined && { memoryLimitMB }),
  ...(signal && { signal }),
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
