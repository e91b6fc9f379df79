import type { CameraState, Cameras, SectionPlane, ViewSettings } from "../pieceView";
import { usualViewSettings } from "../pieceView";
import type { KeptDesign } from "../protocolChecks";
import { readKeptDesign } from "../protocolChecks";
import type { ShownState } from "./shownState";

/** The sections of the side panel that can be folded. */
export const foldable = ["parameters", "facts", "wear", "plan", "comparison", "findings", "parts"] as const;
export type Foldable = (typeof foldable)[number];

/** What outlives a rebuild and a reload of the window: plain data, no geometry. */
export interface KeptState {
  readonly camera?: CameraState;
  /** Where the camera was left in the plate view. */
  readonly plateCamera?: CameraState;
  readonly settings: ViewSettings;
  readonly isSideOpen: boolean;
  /** Width of the side panel, CSS pixels. */
  readonly sideWidth: number;
  readonly folded: readonly Foldable[];
  /** The design shown, so that the panel can be restored. */
  readonly design?: KeptDesign;
}

export const sideWidthLimits = { least: 220, most: 520 } as const;

export const usualState: KeptState = {
  settings: usualViewSettings,
  isSideOpen: true,
  sideWidth: 300,
  folded: [],
};

/** What is kept of a design that is shown, and of the commit that it is compared with. */
export function keptDesignOf({ design, comparison, comparing }: ShownState): KeptDesign | undefined {
  if (design?.uri === undefined) return undefined;
  const { uri, isLocked } = design;
  const comparedWith = comparison?.scene.revision.hash ?? comparing?.revision;
  return { uri, isLocked, ...(comparedWith !== undefined && { comparedWith }) };
}

/** Where the cameras were left. */
export const camerasOf = ({ camera, plateCamera }: KeptState): Cameras => ({
  ...(camera && { head: camera }),
  ...(plateCamera && { plate: plateCamera }),
});

/** The state as it was kept, with what is missing or unreadable as usual. */
export function readKeptState(value: unknown): KeptState {
  if (typeof value !== "object" || value === null) return usualState;
  const kept = value as Record<string, unknown>;
  const camera = readCamera(kept.camera);
  const plateCamera = readCamera(kept.plateCamera);
  const design = readKeptDesign(value);
  const width = kept.sideWidth;
  return {
    ...(camera && { camera }),
    ...(plateCamera && { plateCamera }),
    settings: readSettings(kept.settings),
    isSideOpen: typeof kept.isSideOpen === "boolean" ? kept.isSideOpen : usualState.isSideOpen,
    sideWidth: isNumber(width) ? clampWidth(width) : usualState.sideWidth,
    folded: Array.isArray(kept.folded)
      ? foldable.filter((name) => (kept.folded as unknown[]).includes(name))
      : [],
    ...(design && { design }),
  };
}

export const clampWidth = (width: number): number =>
  Math.round(Math.min(sideWidthLimits.most, Math.max(sideWidthLimits.least, width)));

const isNumber = (value: unknown): value is number => Number.isFinite(value);
const isShare = (value: unknown): value is number => isNumber(value) && value >= 0 && value <= 1;

function readSettings(value: unknown): ViewSettings {
  if (typeof value !== "object" || value === null) return usualViewSettings;
  const kept = value as Record<string, unknown>;
  const flag = (name: keyof ViewSettings): boolean =>
    typeof kept[name] === "boolean" ? (kept[name] as boolean) : (usualViewSettings[name] as boolean);
  const section = readSection(kept.section);
  return {
    projection: kept.projection === "parallel" ? "parallel" : "perspective",
    isHeadShown: flag("isHeadShown"),
    isPlateShown: flag("isPlateShown"),
    areDimensionsShown: flag("areDimensionsShown"),
    isWireShown: flag("isWireShown"),
    areFindingsShown: flag("areFindingsShown"),
    isFieldShown: flag("isFieldShown"),
    isBalanceShown: flag("isBalanceShown"),
    isPlateView: flag("isPlateView"),
    isOverhangShown: flag("isOverhangShown"),
    areDifferencesShown: flag("areDifferencesShown"),
    comparisonShare: isShare(kept.comparisonShare) ? kept.comparisonShare : usualViewSettings.comparisonShare,
    ...(isNumber(kept.printedHeight) && kept.printedHeight > 0 && { printedHeight: kept.printedHeight }),
    ...(section && { section }),
  };
}

function readSection(value: unknown): SectionPlane | undefined {
  if (typeof value !== "object" || value === null) return undefined;
  const { axis, share } = value as Record<string, unknown>;
  const isAxis = axis === "right" || axis === "forward" || axis === "up";
  return isAxis && isNumber(share) && share >= 0 && share <= 1 ? { axis, share } : undefined;
}

function readCamera(value: unknown): CameraState | undefined {
  if (typeof value !== "object" || value === null) return undefined;
  const { target, direction, up, span } = value as Record<string, unknown>;
  const isVector = (vector: unknown): vector is [number, number, number] =>
    Array.isArray(vector) && vector.length === 3 && vector.every(isNumber);
  return isVector(target) && isVector(direction) && isVector(up) && isNumber(span) && span > 0
    ? { target, direction, up, span }
    : undefined;
}
