import type { Printer } from "../../checks/printer";
import type { PrintSettings } from "../../printSettings";
import type { SupportLayers } from "../support/support";
import type { LayerSections, ShapeSettings } from "./layerSections";

const shapeNames: readonly (keyof ShapeSettings)[] = [
  "layerHeight",
  "lineWidth",
  "shells",
  "topLayers",
  "bottomLayers",
  "brimWidth",
];

/**
 * Refuses to fill sections with what makes no sense for them.
 * @throws RangeError for shape settings other than those the sections were cut with, a share or a printer's figure out
 * of range, supports of another number of layers.
 */
export function checkFilling(
  { settings: made, count }: LayerSections,
  settings: PrintSettings,
  printer: Printer,
  support: SupportLayers | undefined,
): void {
  for (const name of shapeNames) {
    if (made[name] === settings[name]) continue;
    throw new RangeError(
      `The layers were cut with "${name}" ${made[name]}, not ${settings[name]}: cut them anew.`,
    );
  }
  for (const name of ["infill", "supportShare", "contactShare"] as const) {
    if (settings[name] >= 0 && settings[name] <= 100) continue;
    throw new RangeError(`"${name}" is ${settings[name]} %: use 0 to 100.`);
  }
  if (!(settings.leastLayerTime >= 0 && settings.leastLayerTime < Infinity)) {
    throw new RangeError(`"leastLayerTime" is ${settings.leastLayerTime} s: use zero or more.`);
  }
  const { speeds, acceleration, flowLimit } = printer;
  for (const [name, value] of Object.entries({ ...speeds, acceleration, flowLimit })) {
    if (!(value > 0 && value < Infinity)) {
      throw new RangeError(`The printer's "${name}" is ${value}: it must be more than zero.`);
    }
  }
  for (const name of ["cornerSpeed", "layerChangeTime", "startTime"] as const) {
    if (printer[name] >= 0 && printer[name] < Infinity) continue;
    throw new RangeError(`The printer's "${name}" is ${printer[name]}: use zero or more.`);
  }
  if (!support) return;
  for (const name of ["support", "contact", "places"] as const) {
    if (support[name].length === count) continue;
    throw new RangeError(`The supports have ${support[name].length} layers, the piece ${count}.`);
  }
}
