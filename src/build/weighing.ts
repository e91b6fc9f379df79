import type { ArmStrength } from "../checks/beams/armStrength";
import { type MassProperties, massProperties } from "../checks/massProperties";
import { type PlateFit, plateFit } from "../checks/plateFit";
import { type PrintedMass, printedMass } from "../print/layers/printedMass";
import type { PrintJob, StandingPiece } from "../print/plan";
import type { Finished } from "./finished";
import { armsOf, printJobOf, standingOf } from "./standing";

/** Size and mass of a finished piece: what its STL, its fit and wear, its plan and its report all start from. */
export interface Weighed {
  readonly body: MassProperties;
  /** How it lies in the build volume, at the least tilt. */
  readonly fit: PlateFit;
  readonly job: PrintJob;
  /** Its arms, for any way up and any filling, found at first need. */
  readonly arms: () => ArmStrength;
  readonly standing: StandingPiece;
  readonly mass: PrintedMass;
}

/**
 * Weighs a finished piece in its material, as it is printed: cut into layers the way up that it is to stand.
 * @param fit how it lies on the plate, where that is known already
 */
export function weigh(finished: Finished, fit?: PlateFit): Weighed {
  const { parties, solid } = finished;
  const body = massProperties(solid.mesh);
  const lies = fit ?? plateFit(solid.mesh.positions, parties.printer);
  const arms = armsOf(finished);
  const job = printJobOf(finished, body.area, lies, arms);
  const standing = standingOf(job);
  return { body, fit: lies, job, arms, standing, mass: printedMass(body, standing.sections, job) };
}
