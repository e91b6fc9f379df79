import type { DesignHeader, DesignResult, ParameterValue } from "../design/part";
import type { Message, Place } from "../message";
import type { ScriptFrame } from "./sourcePlaces";

/** What goes between the engine and the process that runs one design. */

/** What the engine gives for `make`: the language defines `head`; both sides only pass it on. */
export interface DesignInput {
  /** The head as data that a structured clone keeps. */
  readonly head: unknown;
  readonly values: Readonly<Record<string, ParameterValue>>;
  readonly [more: string]: unknown;
}

/** To the design's process. */
export type ToDesign =
  | {
      readonly kind: "load";
      readonly file: string;
      readonly code: string;
      readonly sourceMap: string;
      readonly defaultExport?: Place;
      readonly timeLimitSeconds: number;
      readonly memoryLimitMB: number;
    }
  | { readonly kind: "make"; readonly input: DesignInput };

/** From the design's process. `notes`: what the design printed. */
export type FromDesign =
  | { readonly kind: "ready" }
  | { readonly kind: "header"; readonly header: DesignHeader }
  | (RunEnd & { readonly kind: "result"; readonly result: DesignResult })
  | (RunEnd & { readonly kind: "failed"; readonly messages: readonly Message[] });

interface RunEnd {
  readonly notes: readonly Message[];
  /** The process is as it was before the run, as far as one can tell: another design may run in it. */
  readonly isClean: boolean;
}

/** The pipe on which the watchdog writes its one report, as JSON: the main thread may be stuck. */
export const reportDescriptor = 4;

export interface LimitReport {
  readonly limit: "time" | "memory";
  /** Where the design was, innermost first; empty where it could not be learnt. */
  readonly frames: readonly ScriptFrame[];
}
