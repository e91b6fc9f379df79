import type { ViewSettings } from "../pieceView";
import type { PlanScene } from "../protocol";
import { isModelOld } from "./modelAge";
import type { ShownState } from "./shownState";

/** What is said about how the piece is printed. */
export interface PlanState {
  /** The plan that is shown; undefined while nothing has come. */
  readonly scene?: PlanScene;
  /** It is of the last good solid, or of one that is being replaced. */
  readonly isOld: boolean;
  /** More of the plan is on its way. */
  readonly isPlanning: boolean;
}

/** What is known of how the solid in the picture itself is printed, and may be drawn on it. */
export const planOfPicture = ({ plan, picture }: ShownState): PlanScene | undefined =>
  plan !== undefined && picture?.what === "solid" && plan.version === picture.version
    ? plan.scene
    : undefined;

/** The piece is seen on the plate: that is wanted, and where the plate stands is known. */
export const isOnPlate = (
  { plan, plateVersion }: ShownState,
  { isPlateView }: Pick<ViewSettings, "isPlateView">,
): boolean => isPlateView && (plan !== undefined || plateVersion !== undefined);

/** What the side panel says about the print: of a plan that tells nothing yet, the one before stays, as old. */
export function planState(shown: ShownState): PlanState {
  const { plan, planned, picture, build } = shown;
  if (plan === undefined) return { isOld: false, isPlanning: false };
  const isOlderThanPicture = picture !== undefined && plan.version < picture.version;
  const isAtWork = build?.phase === "building" || build?.phase === "failed" || build?.phase === "cancelled";
  const isOld = isOlderThanPicture || (isAtWork && plan.version < build.version) || isModelOld(shown);
  const isAwaited = isOlderThanPicture && picture.what === "solid";
  if (!hasSomething(plan.scene) && planned !== undefined && planned.version < plan.version) {
    return { scene: planned.scene, isOld: true, isPlanning: !isOld || isAwaited };
  }
  return { scene: plan.scene, isOld, isPlanning: (!plan.scene.isWhole && !isOld) || isAwaited };
}

const hasSomething = ({ rows, orientations, layers, isWhole }: PlanScene): boolean =>
  isWhole || rows.length > 0 || orientations.length > 0 || layers !== undefined;
