import { ComparisonBodies } from "./comparisonBodies";
import { HeadModel } from "./headModel";
import type { Materials } from "./materials";
import { Piece } from "./piece";
import { PlanBodies } from "./planBodies";
import { PlateModel } from "./plateModel";
import { WayModel } from "./wayModel";

/** What is painted. */
export interface Subjects {
  readonly piece: Piece;
  readonly head: HeadModel;
  readonly plate: PlateModel;
  readonly way: WayModel;
  readonly bodies: PlanBodies;
  readonly comparison: ComparisonBodies;
}

export const makeSubjects = (materials: Materials): Subjects => ({
  piece: new Piece(materials),
  head: new HeadModel(materials),
  plate: new PlateModel(),
  way: new WayModel(materials),
  bodies: new PlanBodies(materials),
  comparison: new ComparisonBodies(materials),
});

/** Frees what lies on the graphics processor; drawn again, it is put there again. */
export function releaseSubjects(subjects: Subjects): void {
  for (const each of Object.values(subjects)) each.release();
}

export function disposeSubjects({ piece, head, plate, way, bodies, comparison }: Subjects): void {
  piece.dispose();
  head.dispose();
  plate.dispose();
  way.release();
  bodies.dispose();
  comparison.dispose();
}

/** The arrow of the way on stands in the picture. */
export const isWayShown = ({ way, piece, head, comparison }: Subjects): boolean =>
  // Beside the old piece its arrow would be one thing too many, and of the colour of what was added.
  !comparison.isShown && way.isShown(piece, head);
