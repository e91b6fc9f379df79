import type { WearRow, WearScene } from "../protocol";
import { isModelOld } from "./modelAge";
import type { ShownState } from "./shownState";

/** A row that is shown; `isOld`: it is of the last good solid, and its answer for this one is still to come. */
export interface ShownRow extends WearRow {
  readonly isOld: boolean;
}

/** What is said about fit and wear, put together from what is known. */
export interface WearState {
  /** There is something to say. */
  readonly isKnown: boolean;
  readonly verdict?: WearScene["verdict"];
  /** The verdict is of the last good solid. */
  readonly isOld: boolean;
  readonly isChecking: boolean;
  readonly rows: readonly ShownRow[];
  readonly sightPlot?: string;
}

/** What is known of the solid in the picture itself, and may be drawn on it; undefined where it is of another one. */
export const wearOfPicture = ({ wear, picture }: ShownState): WearScene | undefined =>
  wear !== undefined && picture?.what === "solid" && wear.version === picture.version
    ? wear.scene
    : undefined;

/** What the side panel says about fit and wear. */
export function wearState(shown: ShownState): WearState {
  const { wear, judged, picture, build } = shown;
  if (wear === undefined) return { isKnown: false, isOld: false, isChecking: false, rows: [] };
  const isOlder = isOlderThanPicture(shown) || (isAtWork(shown) && wear.version < (build?.version ?? 0));
  const isOld = isOlder || isModelOld(shown);
  const { verdict, rows } = wear.scene;
  const before = verdict === undefined && judged !== undefined ? judged.scene : undefined;
  return {
    isKnown: true,
    verdict: verdict ?? before?.verdict,
    isOld: isOld || before !== undefined,
    isChecking: (verdict === undefined && !isOld) || (picture?.what === "solid" && isOlderThanPicture(shown)),
    rows: merged(before?.rows ?? [], rows, isOld),
    sightPlot: wear.scene.sightPlot ?? before?.sightPlot,
  };
}

const isOlderThanPicture = ({ wear, picture }: ShownState): boolean =>
  wear !== undefined && picture !== undefined && wear.version < picture.version;

/** A build that is not done: it goes on, failed or was cancelled. */
const isAtWork = ({ build }: ShownState): boolean =>
  build?.phase === "building" || build?.phase === "failed" || build?.phase === "cancelled";

/** The rows of a solid, and in their places those of the one before whose checks have not answered yet. */
export function merged(
  before: readonly WearRow[],
  now: readonly WearRow[],
  isNowOld: boolean,
): readonly ShownRow[] {
  const answered = (check: string) => now.filter((row) => row.check === check);
  const shown: ShownRow[] = [];
  const done = new Set<string>();
  const take = (rows: readonly WearRow[], isOld: boolean) => {
    shown.push(...rows.map((row) => ({ ...row, isOld })));
  };
  for (const row of before) {
    const fresh = answered(row.check);
    if (fresh.length === 0) take([row], true);
    else if (!done.has(row.check)) take(fresh, isNowOld);
    if (fresh.length > 0) done.add(row.check);
  }
  take(
    now.filter((row) => !done.has(row.check)),
    isNowOld,
  );
  return shown;
}
