import type { Material } from "../checks/material";
import type { Printer } from "../checks/printer";
import type { Part, Prop } from "../design/part";
import type { PartMesh } from "../geometry/mesh";
import type { Vec3 } from "../geometry/vector";
import type { Orientation, OrientationChoice } from "../orientation";
import type { FillSettings } from "../printSettings";
import type { PiecePlan } from "./cuts/piecePlan";
import type { Finishing } from "./finishing";
import type { LayerTotals } from "./layers/filament";
import type { LayerPlan } from "./layers/layerPlan";
import type { LayerSections } from "./layers/layerSections";
import type { PrintTotals } from "./layers/printTotals";
import type { ChosenOrientation } from "./orientation/chosenOrientation";
import type { OrientationSearch } from "./orientation/orientationSearch";
import type { PlacedPiece } from "./placedPiece";
import type { PlanFinding } from "./planFinding";
import type { PrintSetup } from "./printSetup";
import type { PropPlan } from "./props/planProps";
import type { Support } from "./support/support";

/** The free arm that is the first to break. */
export interface WeakArm {
  readonly part: string;
  /** Strength over stress under the handling load. */
  readonly factor: number;
}

/** A piece as it is to be printed: which way up, how it lies, cut into layers. */
export interface StandingPiece {
  readonly choice: OrientationChoice;
  readonly chosen: ChosenOrientation;
  readonly placed: PlacedPiece;
  readonly sections: LayerSections;
  /** Where the choice is the best: the search that found it. */
  readonly search?: OrientationSearch;
}

/** What is printed, on what, of what and how. */
export interface PrintJob {
  /** The finished solid, head frame. */
  readonly mesh: PartMesh;
  /** Its surface, mm². */
  readonly area: number;
  /** The design's parts: `partOfTriangle` of the mesh counts these. */
  readonly parts: readonly Part[];
  readonly props: readonly Prop[];
  readonly printer: Printer;
  readonly material: Material;
  readonly setup: PrintSetup;
  /** How it is printed as designed: upright, or at the least tilt that fits. */
  readonly asDesigned: Orientation;
  /** The weakest arm when a direction looks up, filled so; undefined for a piece without arms. */
  readonly weakest: (up: Vec3, fill: FillSettings) => WeakArm | undefined;
  /** Where the headpiece is declared, for findings about the whole. */
  readonly origin?: Part["origin"];
}

/** One filled plate, printed from start to end. */
export interface PlatePrint {
  /** All that stands on it, in the plate's frame. */
  readonly placed: PlacedPiece;
  /** Supports that are printed with it: what props leave of them. */
  readonly support: Support;
  /** Props that are printed with it. */
  readonly props?: PropPlan;
  readonly layers: LayerPlan;
  readonly totals: LayerTotals;
}

/** How a piece is printed. It grows: what is not known yet is absent. */
export interface PrintPlan {
  readonly setup: PrintSetup;
  readonly choice: OrientationChoice;
  readonly chosen: ChosenOrientation;
  /** One, or as many as the pieces fill into which it is cut. */
  readonly plates: readonly PlatePrint[];
  readonly totals: PrintTotals;
  readonly weakest?: WeakArm;
  readonly search?: OrientationSearch;
  /** Hours of the plan over those of the search, which are by closed form, for the way up that is chosen. */
  readonly hoursScale: number;
  /** What the plan proposes for columns that may fail: the same plates, with those props. */
  readonly proposed?: readonly PlatePrint[];
  /** Where props are printed: the same plates without them. */
  readonly withoutProps?: readonly PlatePrint[];
  /** Where it is too large for the plate: how it is cut. */
  readonly pieces?: PiecePlan;
  readonly finishing?: Finishing;
  readonly findings: readonly PlanFinding[];
  /** Nothing more comes. */
  readonly isWhole: boolean;
}
