import type { Printer } from "../../checks/printer";
import type { PrintSettings } from "../../printSettings";

/** What of a piece, printed one way up, its hours depend on. */
export interface PrintSums {
  /** Volume of the piece, mm³. */
  readonly volume: number;
  /** Outlines of all levels, ∫ perimeter dz, mm²: Σ area · |horizontal part of the normal|. */
  readonly sides: number;
  /** Volume of the filled layers under and over surfaces, outside of the shells, mm³. */
  readonly skins: number;
  /** mm */
  readonly height: number;
  /** Envelope of supports, mm³, and what they hold up, seen from above, mm². */
  readonly supportVolume: number;
  readonly heldArea: number;
}

/**
 * Hours of printing in closed form, to compare directions with: length of each kind of path by its speed, the speed no
 * more than the hot end's flow allows, with the change of layers and the least time of a layer (over all layers, not one by
 * one). Shells take the line width times the outlines, up to the piece's volume; filled layers what they need of the rest; sparse
 * infill its share of what is left. Acceleration and travel, nearly alike whichever way it lies, are not in it, so that it
 * is less than the plan's hours.
 */
export function printHours(
  { volume, sides, skins, height, supportVolume, heldArea }: PrintSums,
  settings: PrintSettings,
  { speeds, flowLimit, layerChangeTime, startTime }: Printer,
): number {
  const { layerHeight, lineWidth, shells, infill, supportShare, contactLayers, contactShare } = settings;
  const line = lineWidth * layerHeight;
  const seconds = (volumeOfPath: number, speed: number): number =>
    volumeOfPath / line / Math.min(speed, flowLimit / line);
  const outer = Math.min(volume, sides * lineWidth);
  const inner = Math.min(volume, sides * lineWidth * shells) - outer;
  const filled = Math.min(volume - outer - inner, skins);
  const sparse = (volume - outer - inner - filled) * (infill / 100);
  const contact = supportShare > 0 ? Math.min(supportVolume, heldArea * contactLayers * layerHeight) : 0;
  const support = (supportVolume - contact) * (supportShare / 100);
  const layers = Math.ceil(height / layerHeight - 1e-9);
  const printing =
    seconds(outer, speeds.outerShell) +
    seconds(inner, speeds.innerShell) +
    seconds(filled, speeds.solidInfill) +
    seconds(sparse, speeds.sparseInfill) +
    seconds(support, speeds.support) +
    seconds(contact * (contactShare / 100), speeds.contact);
  const all = startTime + layers * layerChangeTime + Math.max(printing, layers * settings.leastLayerTime);
  return all / 3600;
}
