import type { ArmStrength } from "../checks/beams/armStrength";
import type { PlateFit } from "../checks/plateFit";
import { armStrength } from "../checks/strength";
import { WornPiece } from "../checks/wornPiece";
import { layerSections } from "../print/layers/layerSections";
import { asDesignedOrientation, chooseOrientation } from "../print/orientation/chosenOrientation";
import { placedPiece } from "../print/placedPiece";
import type { PrintJob, StandingPiece } from "../print/plan";
import { searchFor } from "../print/planPrint";
import type { Finished } from "./finished";
import { limitsInForce } from "./limitsInForce";
import { wornHeadOf } from "./wornHeads";

/** The arms of a finished piece, found at first need. Their strength needs no mass: it is asked for before that is known. */
export function armsOf(finished: Finished): () => ArmStrength {
  let arms: ArmStrength | undefined;
  return () => {
    if (arms) return arms;
    const { result, parties, solid } = finished;
    const limits = limitsInForce(finished);
    const piece = new WornPiece({
      mesh: solid.mesh,
      parts: result.parts,
      material: parties.material,
      print: parties.print.settings,
      mass: 0,
      centre: [0, 0, 0],
    });
    arms = armStrength(piece, wornHeadOf(finished, limits.hairPressed.value), limits);
    return arms;
  };
}

/** What is printed, on what, of what and how. `area`: the piece's surface, mm². */
export function printJobOf(
  { result, parties, solid }: Finished,
  area: number,
  fit: PlateFit,
  arms: () => ArmStrength,
): PrintJob {
  const { printer, material, print } = parties;
  return {
    mesh: solid.mesh,
    area,
    parts: result.parts,
    props: result.props ?? [],
    printer,
    material,
    setup: print,
    asDesigned: asDesignedOrientation(fit),
    weakest: (up, fill) => arms().weakest({ up, fill }),
    ...(result.origin && { origin: result.origin }),
  };
}

/** The piece as it is to be printed: turned, laid on the plate and cut into layers. */
export function standingOf(job: PrintJob): StandingPiece {
  const { mesh, printer, setup, asDesigned } = job;
  const search = setup.orientation === "best" ? searchFor(job) : undefined;
  const chosen = chooseOrientation(setup.orientation, { mesh, printer, asDesigned, search });
  const placed = placedPiece(mesh, chosen.orientation, printer.plate);
  return {
    choice: setup.orientation,
    chosen,
    placed,
    sections: layerSections(placed, setup.settings),
    ...(search && { search }),
  };
}
