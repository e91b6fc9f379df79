import type { Prop } from "../../design/part";
import type { PlacedPiece } from "../placedPiece";

/** A prop that is asked for; its place is in the plate's frame. */
export interface PropRequest extends Prop {
  /** Proposed by the plan: the design does not ask for it. */
  readonly isProposed: boolean;
}

/** A prop of the design on the plate. */
export function requestOf(
  prop: Prop,
  { rotation: r, shift }: Pick<PlacedPiece, "rotation" | "shift">,
): PropRequest {
  const [x, y, z] = prop.at;
  const row = (i: number): number => r[3 * i] * x + r[3 * i + 1] * y + r[3 * i + 2] * z + shift[i];
  return { ...prop, at: [row(0), row(1), row(2)], isProposed: false };
}
