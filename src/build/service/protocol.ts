import type { WearAnswer } from "../../checks/wear";
import type { DesignHeader, ParameterValue } from "../../design/part";
import type { ReportPlan } from "../../export/planReport";
import type { Report } from "../../export/report";
import type { Message } from "../../message";
import type { PlanFinding } from "../../print/planFinding";
import type { OutputKind } from "../outputs";

/**
 * What an editor and the engine's process tell each other. The process serves one request a design at a time: a new
 * one for the same design cancels the running one.
 */

/** A mesh as it travels; arrays are trimmed to what they hold. */
export interface MeshArrays {
  readonly positions: Float32Array;
  readonly triangles: Uint32Array;
}

/** What is asked of every build. */
export interface ServiceRequest {
  /** Absolute path. */
  readonly design: string;
  /** Texts that stand in for files on disk, by absolute path: what is being typed. */
  readonly texts?: Readonly<Record<string, string>>;
  /** Absolute paths that stand in for those that the design names. */
  readonly wearer?: string;
  readonly printer?: string;
  readonly material?: string;
  readonly print?: string;
  readonly values?: Readonly<Record<string, ParameterValue>>;
  readonly timeLimitSeconds?: number;
  readonly memoryLimitMB?: number;
}

/** What was found of one part. */
export interface PartSummary {
  readonly name: string;
  readonly kind: "tube" | "solid" | "cut";
  /** mm */
  readonly length?: number;
  /** Least and greatest, mm. */
  readonly radius?: readonly [least: number, most: number];
  readonly origin?: {
    readonly file: string;
    readonly line: number;
    readonly column: number;
    readonly length?: number;
  };
}

/** A part's own surface; `mesh` only where its key was not in the last draft of that design. */
export interface DraftPartArrays {
  readonly part: number;
  readonly key: string;
  readonly mesh?: MeshArrays;
}

/** As far as the design alone: what it declares, its parts, who it is for. */
export interface DesignFacts {
  readonly header: DesignHeader;
  /** The values it was made with. */
  readonly values: Readonly<Record<string, ParameterValue>>;
  readonly wearer: string;
  /** Girth ease and hair of the wearer, mm. */
  readonly ease: { readonly offset: number; readonly hair: number };
  readonly printer: string;
  readonly material: string;
  /** What the print settings are called. */
  readonly print: string;
  readonly parts: readonly PartSummary[];
}

/** How the piece lies on the plate: see `PlateFit`. */
export interface PlateFacts {
  readonly printer: string;
  readonly outline:
    | { readonly shape: "rectangular"; readonly width: number; readonly depth: number }
    | { readonly shape: "round"; readonly diameter: number };
  /** mm */
  readonly height: number;
  readonly fits: boolean;
  /** One clause: "as designed", "tilted 12°, turned 40°", "14 mm too wide". */
  readonly summary: string;
  /** Plate frame (origin at its middle, z up) to head frame: 16 numbers, column by column. */
  readonly toHead: readonly number[];
}

/** Times of the stages of one build, ms, as the process measured them. */
export type StageTimes = Readonly<Record<string, number>>;

/** What comes while a build goes on, each as soon as it is known, in this order (progress in between). */
export type BuildEvent =
  | { readonly kind: "progress"; readonly stage: string; readonly share?: number }
  /** The bare head form; only when it is not that of the last build of this design. */
  | { readonly kind: "head"; readonly key: string; readonly mesh: MeshArrays }
  /** `head`: the key of the head that it stands on. */
  | { readonly kind: "draft"; readonly head: string; readonly parts: readonly DraftPartArrays[] }
  | { readonly kind: "facts"; readonly facts: DesignFacts }
  /** The finished solid, packed (`geometry/packedMesh`): it is sent with every build, and whole. */
  | { readonly kind: "solid"; readonly packed: Uint8Array }
  | MeasureEvent;

/** What comes while the solid is measured, in this order. */
export type MeasureEvent =
  | { readonly kind: "plate"; readonly plate: PlateFacts }
  /** Distance of each vertex of the solid to the bare head: see `checks/innerGaps`. */
  | { readonly kind: "gaps"; readonly gaps: Int16Array }
  /** A question of fit and wear that is answered, one after the other: see `checks/wear`. */
  | { readonly kind: "check"; readonly answer: Omit<WearAnswer, "innerGaps"> };

/** What is known so far of how a piece is printed. */
export interface PlanFacts {
  /** Nothing more comes. */
  readonly isWhole: boolean;
  /** As it stands in the report. */
  readonly plan: ReportPlan;
  /** With the files as the engine knows them. */
  readonly findings: readonly PlanFinding[];
  readonly outline: PlateFacts["outline"];
  /** Build height, mm. */
  readonly height: number;
  /** Plate frame to head frame as the piece is to be printed: 16 numbers, column by column. */
  readonly toHead: readonly number[];
  /** mm of a layer, and from the start to the end of each the time, s, and the filament, m. */
  readonly layers: {
    readonly height: number;
    readonly seconds: Float64Array;
    readonly metres: Float64Array;
    readonly spoolEnds: readonly number[];
  };
  /** A small picture of each orientation of the plan, SVG. */
  readonly pictures: readonly string[];
}

/** What comes while a print is planned. */
export type PlanEvent =
  | { readonly kind: "plan"; readonly plan: PlanFacts }
  /** What stands on the plate besides the piece, in the plate's frame; without a mesh there is none. */
  | { readonly kind: "planBody"; readonly body: PlanBody; readonly mesh?: MeshArrays };

/** What else stands on the plate: supports, props; or the pieces into which it is cut. */
export type PlanBody = "supports" | "props" | "pieces";

/** How the planning of a print ended. */
export interface PlanOutcome {
  /** Absent where there was no finished piece to plan, or it went wrong. */
  readonly plan?: ReportPlan;
  readonly messages: readonly Message[];
}

/** How a build ended. */
export interface BuildOutcome {
  /** No message is an error. */
  readonly ok: boolean;
  readonly messages: readonly Message[];
  /** Files that the result depends on, absolute: a change of one asks for a build. */
  readonly inputs: readonly string[];
  /** Present when it came to a solid. */
  readonly report?: Report;
  readonly times: StageTimes;
  /** Memory of the process after the build, MB. */
  readonly memoryMB: number;
}

/** Files that an export wrote. */
export interface ExportOutcome {
  readonly ok: boolean;
  readonly messages: readonly Message[];
  readonly report?: Report;
  readonly files: readonly { readonly path: string; readonly kind: OutputKind | "committed-report" }[];
}

export interface ExportRequest extends ServiceRequest {
  /** Absolute. */
  readonly folder: string;
  /** Also writes the report that is kept beside the design for git; alone: nothing else is written. */
  readonly committedReport?: "also" | "alone";
}

export type ToService =
  | {
      readonly kind: "build";
      readonly id: number;
      readonly request: ServiceRequest;
      readonly resend?: boolean;
    }
  | { readonly kind: "export"; readonly id: number; readonly request: ExportRequest }
  /** The drawing sheet of the design as it is now, as SVG. */
  | { readonly kind: "sheet"; readonly id: number; readonly request: ServiceRequest }
  /** How the piece that was last built of the design is printed. A build of the design ends it. */
  | { readonly kind: "plan"; readonly id: number; readonly design: string }
  | { readonly kind: "cancel"; readonly id: number }
  /** A build is about to be asked for: compiles what it will need. */
  | { readonly kind: "prepare"; readonly design: string; readonly texts: Readonly<Record<string, string>> }
  /** Forgets what is kept for a design that is no longer looked at. */
  | { readonly kind: "forget"; readonly design: string }
  | { readonly kind: "ping"; readonly id: number };

export type FromService =
  | { readonly kind: "ready" }
  | { readonly kind: "event"; readonly id: number; readonly event: BuildEvent | PlanEvent }
  | { readonly kind: "planned"; readonly id: number; readonly outcome: PlanOutcome }
  | { readonly kind: "built"; readonly id: number; readonly outcome: BuildOutcome }
  | { readonly kind: "exported"; readonly id: number; readonly outcome: ExportOutcome }
  | {
      readonly kind: "sheet";
      readonly id: number;
      readonly svg?: string;
      readonly messages: readonly Message[];
    }
  | { readonly kind: "cancelled"; readonly id: number }
  /** The service itself went wrong: a fault of the tool, not of the design. */
  | { readonly kind: "fault"; readonly id: number; readonly text: string }
  | { readonly kind: "pong"; readonly id: number };
