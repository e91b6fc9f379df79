import type { ViewSettings } from "../pieceView";
import type { Materials } from "./materials";
import type { PlateStage } from "./plateStage";
import { isWayShown, type Subjects } from "./subjects";

/** Brings all that is painted in step with where the plate stands and whether the piece is seen on it. */
export function arrangeSubjects(
  subjects: Subjects,
  materials: Materials,
  stage: PlateStage,
  settings: ViewSettings,
): void {
  const { piece, plate, bodies } = subjects;
  arrangeComparison(subjects, stage, settings);
  bodies.arrange(stage.plateFrame, piece.isSolid ? piece.version : -1, stage.isOn);
  bodies.isOverhangShown = stage.isOverhangShown;
  piece.isOverhangShown = stage.isOverhangShown;
  const surfaces = piece.shown().map(({ surface }) => surface);
  const shown = stage.plateFor(surfaces, bodies.shown("pieces") !== undefined);
  if (shown) plate.take(shown);
  const { angle, level } = stage.overhang;
  materials.setOverhang(angle, level);
  materials.shared.skyward.value.set(...stage.frame.z);
}

/** Which of the two pieces is seen; on the plate that of now alone. */
export function arrangeComparison(
  { comparison }: Subjects,
  stage: PlateStage,
  { comparisonShare, areDifferencesShown }: ViewSettings,
): void {
  comparison.arrange(comparisonShare, areDifferencesShown && !stage.isOn);
}

/** Makes the arrow of the way on, where it is to be seen. */
export function arrangeWay(subjects: Subjects): void {
  const box = subjects.piece.box();
  if (box && isWayShown(subjects)) subjects.way.arrange(box);
}
