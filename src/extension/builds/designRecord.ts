import type { DesignFacts, PlanBody, PlanFacts, PlateFacts, StageTimes } from "../../build/service/protocol";
import type { CheckName, Finding } from "../../checks/finding";
import type { WearAnswers } from "../../checks/wear";
import type { ParameterValue } from "../../design/part";
import type { Report } from "../../export/report";
import type { Message } from "../../message";
import type { MeshBuffers } from "../../preview/protocol";
import type { DesignStatus, PartyKind } from "../designState";
import type { Picture } from "./picture";

export type Values = Readonly<Record<string, ParameterValue>>;

/** What is known of the fit and wear of a solid; it grows as each question is answered. */
export interface KnownWear {
  /** Of the build whose solid it is of. */
  readonly version: number;
  /** The questions that were answered, also those whose answer is that there is none. */
  readonly answered: ReadonlySet<CheckName>;
  readonly answers: WearAnswers;
  readonly findings: readonly Finding[];
  /** Every question was answered. */
  readonly isWhole: boolean;
}

/** What is known of how a piece is printed; it grows as the plan does. */
export interface KnownPlan {
  /** Of the build whose solid is planned. */
  readonly version: number;
  readonly facts: PlanFacts;
  /** What stands on the plate besides the piece, in the plate's frame. */
  readonly bodies: ReadonlyMap<PlanBody, MeshBuffers | undefined>;
}

/** All that is known of one design. Only `Builds` writes it. */
export interface DesignRecord {
  /** Absolute. */
  readonly path: string;
  /** Of the build that runs, or ran last; 0 before the first. */
  version: number;
  status: DesignStatus;
  stage?: string;
  share?: number;
  messages: readonly Message[];
  facts?: DesignFacts;
  plate?: PlateFacts;
  wear?: KnownWear;
  plan?: KnownPlan;
  report?: Report;
  times?: StageTimes;
  chosen: Readonly<Partial<Record<PartyKind, string>>>;
  /** Of parameters that were moved away from what the file says. */
  values: Values;
  /** Files that the last build depends on, absolute. */
  inputs: ReadonlySet<string>;
  /** Counts changes of the files, the values and the choices that the result depends on. */
  change: number;
  /** The change that `report` is of. */
  reportChange: number;
  /** The bare head form, kept with the picture. */
  head?: { readonly version: number; readonly key: string; readonly mesh: MeshBuffers };
  /** Distance of each vertex of the solid to the bare head, kept with the picture: see `checks/innerGaps`. */
  gaps?: { readonly version: number; readonly values: ArrayBuffer };
  /** Meshes, kept only while somebody shows them. */
  picture?: Picture;
  /** A file that is gone: nothing is built until it is back. */
  isGone: boolean;
}

export const emptyRecord = (path: string): DesignRecord => ({
  path,
  version: 0,
  status: "unbuilt",
  messages: [],
  chosen: {},
  values: {},
  inputs: new Set([path]),
  change: 0,
  reportChange: 0,
  isGone: false,
});

/** The last good result is older than what it depends on. */
export const isOutdated = ({ report, reportChange, change }: DesignRecord): boolean =>
  report !== undefined && reportChange < change;

/** What the file itself says of each parameter, as far as known. */
export const fileValuesOf = ({ facts }: DesignRecord): Record<string, ParameterValue> =>
  Object.fromEntries((facts?.header.parameters ?? []).map(({ name, default: preset }) => [name, preset]));
