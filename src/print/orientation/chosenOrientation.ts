import { exactFit, type PlateFit } from "../../checks/plateFit";
import type { Printer } from "../../checks/printer";
import type { TriangleMesh } from "../../geometry/mesh";
import type { Orientation, OrientationChoice } from "../../orientation";
import { orientationOfUp } from "../placedPiece";
import type { OrientationSearch } from "./orientationSearch";
import { roomAt } from "./plateRoom";

/** How a piece is to be printed. */
export interface ChosenOrientation {
  readonly name: "as designed" | "best of all" | "as given";
  readonly orientation: Orientation;
  /** The least that is left of the build volume's measures, mm; negative where the piece is too large. */
  readonly room: number;
  readonly fits: boolean;
}

/**
 * How a piece is printed as designed: upright, unturned where it fits so; else turned, else at the least tilt that fits; where
 * none fits, as it is least too large.
 */
export function asDesignedOrientation({ rotation, turn }: Pick<PlateFit, "rotation" | "turn">): Orientation {
  return orientationOfUp([rotation[6], rotation[7], rotation[8]], turn);
}

export interface ChoiceInput {
  readonly mesh: TriangleMesh;
  readonly printer: Pick<Printer, "plate" | "height">;
  /** How it is printed as designed: see `asDesignedOrientation`. */
  readonly asDesigned: Orientation;
  /** Needed for the best. */
  readonly search?: OrientationSearch | undefined;
}

/**
 * The orientation that a choice comes to. A given one is kept even where it does not fit: the findings tell.
 * @throws RangeError for the best without a search, and for a given one with an angle that is not finite
 */
export function chooseOrientation(
  choice: OrientationChoice,
  { mesh, printer, asDesigned, search }: ChoiceInput,
): ChosenOrientation {
  if (choice === "best") {
    if (!search) throw new RangeError('The choice is "best": it takes a search to choose from.');
    const { orientation, room, fits } = search.best;
    return { name: "best of all", orientation, room, fits };
  }
  const isGiven = choice !== "as designed";
  const orientation = isGiven ? choice : asDesigned;
  for (const [angle, value] of Object.entries(orientation)) {
    if (!Number.isFinite(value)) throw new RangeError(`The ${angle} is ${value}: it must be finite.`);
  }
  const room = roomAt(mesh.positions, orientation, printer);
  return { name: isGiven ? "as given" : "as designed", orientation, room, fits: room >= exactFit };
}
