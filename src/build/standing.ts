import type { PlateFit } from "../checks/plateFit";
import { armStrength } from "../checks/strength";
import { WornPiece } from "../checks/wornPiece";
import { layerSections } from "../print/layers/layerSections";
import { asDesignedOrientation, chooseOrientation } from "../print/orientation/chosenOrientation";
import { placedPiece } from "../print/placedPiece";
import type { PrintJob, StandingPiece } from "../print/plan";
import { searchFor } from "../print/planPrint";
import { limitsOf } from "../wearLimits";
import type { Finished } from "./finished";
import { wornHeadOf } from "./wornHeads";

/** What is printed, on what, of what and how. `area`: the piece's surface, mm². */
export function printJobOf(finished: Finished, area: number, fit: PlateFit): PrintJob {
  const { result, parties, solid } = finished;
  const { printer, material, print } = parties;
  const limits = limitsOf({
    workspace: parties.workspaceLimits,
    design: result.limits,
    wearer: parties.wearer.limits,
  });
  // The arms' strength needs no mass: it is asked for before that is known.
  const arms = () =>
    armStrength(
      new WornPiece({
        mesh: solid.mesh,
        parts: result.parts,
        material,
        print: print.settings,
        mass: 0,
        centre: [0, 0, 0],
      }),
      wornHeadOf(finished, limits.hairPressed.value),
      limits,
    );
  let model: ReturnType<typeof arms> | undefined;
  return {
    mesh: solid.mesh,
    area,
    parts: result.parts,
    props: result.props ?? [],
    printer,
    material,
    setup: print,
    asDesigned: asDesignedOrientation(fit),
    weakest: (up, fill) => {
      model ??= arms();
      return model.weakest({ up, fill });
    },
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
