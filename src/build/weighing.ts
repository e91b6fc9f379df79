import { type MassProperties, massProperties } from "../checks/massProperties";
import { type MassEstimate, printedMass } from "../checks/printedMass";
import type { Finished } from "./finished";

/** Size and mass of a finished piece: what its STL, its fit and wear, and its report all start from. */
export interface Weighed {
  readonly body: MassProperties;
  readonly mass: MassEstimate;
}

/** Weighs a finished piece in its material, as it is printed. */
export function weigh({ parties: { material, printer, print }, solid }: Finished): Weighed {
  const body = massProperties(solid.mesh);
  return { body, mass: printedMass(body, material, print.settings, printer.filamentDiameter) };
}
