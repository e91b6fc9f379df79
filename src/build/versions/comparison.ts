import type { ParameterValue } from "../../design/part";
import type { ReportChange } from "../../export/reportChanges";
import type { TriangleMesh } from "../../geometry/mesh";
import type { Message } from "../../message";

/** A part that is not as it was. */
export interface PartChange {
  readonly name: string;
  readonly change: "added" | "removed" | "changed";
  /** What changed of it, a clause each: "radius 5 to 6 mm", "path up to 12.4 mm away". */
  readonly what: readonly string[];
  /** The name that it had, where only that changed. */
  readonly was?: string;
}

/** A piece against its version in a commit. */
export interface Comparison {
  readonly design: string;
  /** The commit as it was asked for, its full hash, its first line. */
  readonly revision: { readonly asked: string; readonly hash: string; readonly subject: string };
  /** Volume that only the piece of now has, and that only the old one had, mm³. */
  readonly added: number;
  readonly removed: number;
  /** Greatest distance from a point of either surface to the other, mm, and where, in the head frame. */
  readonly greatestDistance: number;
  readonly greatestAt: readonly [number, number, number];
  /** The true distance is at most this much more, mm. */
  readonly greatestWithin?: number;
  readonly parts: readonly PartChange[];
  /** The measurements side by side, those that changed. */
  readonly changes: readonly ReportChange[];
  /** All of it in one sentence. */
  readonly sentence: string;
  /** Both are built on the same head. */
  readonly sameHead?: boolean;
}

/** The surfaces of a comparison, mm, head frame. */
export interface ComparisonMeshes {
  readonly old: TriangleMesh;
  readonly added: TriangleMesh;
  readonly removed: TriangleMesh;
}

export interface CompareRequest {
  /** Absolute. */
  readonly design: string;
  /** A commit as git names it; HEAD unless given. */
  readonly against?: string;
  /** Texts that stand in for files on disk, by absolute path, for the piece of now. */
  readonly texts?: Readonly<Record<string, string>>;
  /** Values of parameters for the piece of now, as texts or as values; the old one has those of its own file. */
  readonly settings?: Readonly<Record<string, string>>;
  readonly values?: Readonly<Record<string, ParameterValue>>;
  /** Absolute paths that stand in for those that the design names, on both sides. */
  readonly wearer?: string;
  readonly printer?: string;
  readonly material?: string;
  readonly print?: string;
  /** Git's executable; "git" unless given. */
  readonly git?: string;
  readonly timeLimitSeconds?: number;
  readonly memoryLimitMB?: number;
}

/** `comparison` and `meshes` are absent where one of the two came to no solid, or there is no such version: messages say why. */
export interface CompareResult {
  readonly ok: boolean;
  readonly comparison?: Comparison;
  readonly meshes?: ComparisonMeshes;
  readonly messages: readonly Message[];
}
