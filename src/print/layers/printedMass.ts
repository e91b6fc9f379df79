import type { Material } from "../../checks/material";
import type { Printer } from "../../checks/printer";
import type { PrintSetup } from "../printSetup";
import { filamentLength } from "./filamentLength";
import type { LayerSections } from "./layerSections";
import { fillLayers } from "./planLayers";

/** What a piece weighs as it is printed. */
export interface PrintedMass {
  /** Mass if the piece were solid throughout, g. */
  readonly solid: number;
  /** Mass as printed, without supports, g. */
  readonly printed: number;
  /** Filament for the printed mass, m. */
  readonly filament: number;
  /** What the printed mass rests on, as one sentence. */
  readonly basis: string;
}

/** The printed mass of a piece by its layers: every path of shells, skins and infill, without supports and brim. */
export function printedMass(
  body: { readonly volume: number },
  sections: LayerSections,
  { material, printer, setup }: { material: Material; printer: Printer; setup: PrintSetup },
): PrintedMass {
  const { settings } = setup;
  const { pieceVolume, count } = fillLayers(sections, settings, printer);
  const volume = pieceVolume.reduce((sum, layer) => sum + layer, 0);
  const printed = (volume / 1000) * material.density;
  return {
    solid: (body.volume / 1000) * material.density,
    printed,
    filament: filamentLength(printed, material.density, printer.filamentDiameter),
    basis:
      `From ${count} layers of ${settings.layerHeight} mm: ${settings.shells} ` +
      `${settings.shells === 1 ? "shell" : "shells"} of ${settings.lineWidth} mm, ${settings.topLayers} filled layers ` +
      `under what looks up and ${settings.bottomLayers} over what looks down, ${settings.infill} % infill, ` +
      `${material.name} of ${material.density} g/cm³; supports not included.`,
  };
}
