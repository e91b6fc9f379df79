import type { TriangleMesh } from "../geometry/mesh";
import type { TubeShape } from "../geometry/tubeShape";
import type { Vec3 } from "../geometry/vector";
import type { Place } from "../message";
import type { OrientationChoice, OrientationWeights } from "../orientation";
import type { PrintSettings } from "../printSettings";
import type { LimitValues } from "../wearLimits";

/**
 * What a design gives out: plain data, no function and no class, so that it passes from the design's own
 * process to the engine and keys the cache by its content.
 */

interface PartBase {
  /** Unique within the headpiece. */
  readonly name: string;
  /** The call in the design file that made the part. */
  readonly origin?: Place;
}

/** A section swept along a path. */
export interface TubePart extends PartBase {
  readonly kind: "tube";
  readonly shape: TubeShape;
  /** Where given, the tube is laid on the head and over the tubes that rest before it. */
  readonly resting?: Resting;
}

/** Any other body, as a closed mesh placed in the head frame. */
export interface SolidPart extends PartBase {
  readonly kind: "solid";
  readonly mesh: TriangleMesh;
}

/** A body that is taken away: from the whole piece, or from the parts named only. */
export interface CutPart extends PartBase {
  readonly kind: "cut";
  readonly body:
    | { readonly kind: "tube"; readonly shape: TubeShape }
    | { readonly kind: "solid"; readonly mesh: TriangleMesh };
  /** Names of the parts that it is taken from; absent: the whole piece. */
  readonly from?: readonly string[];
}

/** How a tube rests: tubes of one heap are pushed out of each other in the order in which they are listed. */
export interface Resting {
  readonly heap: string;
  /** Share of the radius by which tubes sink into one another and into the head, so that they grow together. */
  readonly sink: number;
  /** Names of tubes that do not rest themselves and that the heap lies over. */
  readonly over?: readonly string[];
  /** Ends that stay where the design put them. */
  readonly pinned: "none" | "start" | "end" | "both";
}

export type Part = TubePart | SolidPart | CutPart;

/**
 * A support that is modelled and printed with the piece, and broken off: from a place on it down to the plate. It is no
 * part of the piece that is worn; its body is made when it is known which way up the piece is printed.
 */
export interface Prop {
  /** Unique within the headpiece. */
  readonly name: string;
  /** The call in the design file that made it. */
  readonly origin?: Place;
  /** Place on the piece that it holds up, mm, head frame. */
  readonly at: Vec3;
  /** Diameter of the neck where it breaks off, mm; absent: as the plan proposes. */
  readonly neck?: number;
  /** Diameter of the strut, mm. */
  readonly thickness?: number;
  /** Diameter of the foot on the plate, mm. */
  readonly foot?: number;
}

export type ParameterValue = number | string | boolean;

/** A declared parameter as data, for reports and for controls. */
export interface ParameterDeclaration {
  readonly name: string;
  readonly kind: "count" | "length" | "angle" | "choice" | "toggle";
  readonly default: ParameterValue;
  readonly least?: number;
  readonly most?: number;
  readonly choices?: readonly string[];
  readonly unit: "" | "mm" | "°";
  readonly help?: string;
}

/** How the piece is printed, as far as its design says; the rest is as usual. */
export interface PrintChoice {
  /** Path of a file of print settings, relative to the design. */
  readonly file?: string;
  /** Settings of the design's own: they go before those of the file. */
  readonly settings?: Partial<PrintSettings>;
  readonly orientation?: OrientationChoice;
  readonly weights?: Partial<OrientationWeights>;
}

/** What a design file declares besides its parts. */
export interface DesignHeader {
  readonly name: string;
  /** Path of the wearer's file as the design gives it, relative to the design file. */
  readonly wearer?: string;
  readonly printer?: string;
  readonly material?: string;
  /** Room between head and piece, mm of offset; absent: the wearer's own. */
  readonly easeOffset?: number;
  readonly print: PrintChoice;
  /** Limits of fit and wear that the design sets. */
  readonly limits?: LimitValues;
  readonly parameters: readonly ParameterDeclaration[];
  /** Where `headpiece(…)` is called. */
  readonly origin?: Place;
}

export interface DesignResult extends DesignHeader {
  readonly values: Readonly<Record<string, ParameterValue>>;
  readonly parts: readonly Part[];
  /** Supports that the design asks for as printed struts. */
  readonly props?: readonly Prop[];
}
