import type { Place } from "../message";
import type {
  ComparisonMessage,
  DraftMessage,
  FieldMessage,
  MeshBuffers,
  PartFacts,
  PlanScene,
  PlateScene,
  SolidMessage,
  ToPreview,
  WearScene,
} from "./protocol";

/**
 * The picture of the piece as the rest of the preview sees it: `scene/` makes it with the renderer, `panel/` puts
 * controls around it. Neither knows how the other works.
 */

export const standardViews = ["front", "back", "left", "right", "top", "plate"] as const;
export type StandardView = (typeof standardViews)[number];

/** Where the section plane lies: `share` 0 to 1 of the piece's extent along the axis. */
export interface SectionPlane {
  readonly axis: "right" | "forward" | "up";
  readonly share: number;
}

/** All that a person can set on the picture; kept over rebuilds and reloads. */
export interface ViewSettings {
  readonly projection: "perspective" | "parallel";
  readonly isHeadShown: boolean;
  readonly isPlateShown: boolean;
  readonly areDimensionsShown: boolean;
  readonly isWireShown: boolean;
  readonly areFindingsShown: boolean;
  /** The solid has the colours of its gaps. */
  readonly isFieldShown: boolean;
  /** Contacts, centre of mass and plumb line are drawn. */
  readonly isBalanceShown: boolean;
  /** The piece is seen on the plate, as it is printed, not on the head. */
  readonly isPlateView: boolean;
  /** In the plate view what leans out has its colours. */
  readonly isOverhangShown: boolean;
  /** In the plate view: printed up to this height over the plate, mm. Absent: all of it. */
  readonly printedHeight?: number;
  /** While the piece is compared: what was added and removed has its colours, and the old piece its place. */
  readonly areDifferencesShown: boolean;
  /** Which of the two is seen: 0 the old piece, 1 that of now, between them both. */
  readonly comparisonShare: number;
  /** Absent: nothing is cut. */
  readonly section?: SectionPlane;
}

export const usualViewSettings: ViewSettings = {
  projection: "perspective",
  isHeadShown: true,
  isPlateShown: true,
  areDimensionsShown: false,
  isWireShown: false,
  areFindingsShown: true,
  isFieldShown: false,
  isBalanceShown: false,
  isPlateView: false,
  isOverhangShown: true,
  areDifferencesShown: true,
  comparisonShare: 0.5,
};

/** The frame that a camera stands in: the head's, or the plate's in the plate view. */
export type CameraFrame = "head" | "plate";

/** Where a camera was left, in each frame. */
export type Cameras = Readonly<Partial<Record<CameraFrame, CameraState>>>;

/** Where the camera stands, as plain data in its frame, mm. */
export interface CameraState {
  readonly target: readonly [number, number, number];
  /** From the target to the camera, a unit vector. */
  readonly direction: readonly [number, number, number];
  readonly up: readonly [number, number, number];
  /** Height of what is seen at the target, mm: the same picture size in both projections. */
  readonly span: number;
}

/** A mark on the piece for something that was found. */
export interface FindingMark {
  /** −1: of none in particular. */
  readonly part: number;
  readonly severity: "error" | "warning" | "note";
  readonly text: string;
  /** Where on the piece, mm; absent: wherever the part is seen best. */
  readonly at?: readonly [number, number, number];
  /** The line that it comes from. */
  readonly place?: Place;
}

export interface PieceViewEvents {
  /**
   * The pointer is over a part, or over none (−1). x, y: CSS pixels in the view. `gap`: the value of the field there,
   * mm, while its colours are shown.
   */
  onPoint(part: number, x: number, y: number, gap?: number): void;
  onPick(part: number): void;
  onPickMark(mark: FindingMark): void;
  /** The camera came to rest. */
  onCamera(camera: CameraState, frame: CameraFrame): void;
  onDrawn(what: "draft" | "solid", version: number, milliseconds: number): void;
  /** The graphics context was lost, or came back. */
  onContext(isLost: boolean): void;
}

export interface PieceView {
  showDraft(draft: DraftMessage): void;
  showSolid(solid: SolidMessage): void;
  showHead(mesh: MeshBuffers): void;
  showPlate(plate: PlateScene): void;
  /** How the piece is printed; undefined: nothing is known of it. */
  showPlan(plan: PlanScene | undefined): void;
  /** What stands on the plate besides the piece of the same version; it may come before the plan. */
  showPlanBody(body: Extract<ToPreview, { kind: "planBody" }>): void;
  /** For labels of the picture. */
  setParts(parts: readonly PartFacts[]): void;
  setMarks(marks: readonly FindingMark[]): void;
  /** Values of the solid of the same version, whether it is there or still to come; of another length: ignored. */
  showField(field: FieldMessage): void;
  /** What is shown has values. */
  readonly hasField: boolean;
  /** The way on to the head of the solid that is shown; undefined: none is known. */
  setWay(way: WearScene["wayOff"]): void;
  /** Where on its way on the piece is: 0 off the head, 1 at its seat; undefined: it just sits. */
  setWayShare(share: number | undefined): void;
  /** Where the piece rests and where its mass is. */
  setBalance(balance: Pick<WearScene, "contacts" | "balance">): void;
  /** The piece beside its version in a commit; undefined: alone. */
  showComparison(comparison: Pick<ComparisonMessage, "old" | "added" | "removed"> | undefined): void;
  /** What is shown of the comparison is of an older piece. */
  setComparisonOutdated(isOutdated: boolean): void;
  setSettings(settings: ViewSettings): void;
  /** Lights a part: the editor's cursor is in it, or a control points at it; −1 for none. */
  light(part: number): void;
  /** Fades what is shown, since it is older than the text. */
  setOutdated(isOutdated: boolean): void;
  /** The camera in the frame of what is seen now. */
  setCamera(camera: CameraState): void;
  readonly camera: CameraState;
  /** Turns to a view; at once where motion is to be reduced. Frames the piece and the head. */
  look(view: StandardView): void;
  /** Comes near to a place, mm, from a side from which it is seen; at once where motion is to be reduced. */
  lookAt(place: readonly [number, number, number]): void;
  /** Frames everything from where the camera looks. */
  frame(): void;
  /** Degrees about the vertical and over it. */
  orbit(right: number, up: number): void;
  /** Shares of the view's height. */
  pan(right: number, up: number): void;
  /** Above 1 comes nearer. */
  zoom(factor: number): void;
  /** Reads the theme's colours anew. */
  refreshTheme(): void;
  /** PNG of what is seen, at the screen's own resolution. */
  picture(): Promise<ArrayBuffer>;
  dispose(): void;
}

/** Makes the picture in an element; throws an `Error` where there is no WebGL 2. */
export type MakePieceView = (host: HTMLElement, events: PieceViewEvents, cameras?: Cameras) => PieceView;
