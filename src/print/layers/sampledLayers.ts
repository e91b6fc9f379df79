import type { SliceMeasures } from "../../geometry/slices";

/** A leap of area or outline from one layer to the next that counts as a floor or a roof, as share of the greater. */
const leap = 0.06;

/** A change of the step from layer to layer that counts as an edge, where a slope begins or ends, as share of the area. */
const kink = 0.02;

/**
 * The layers that are looked at closely, ascending: no farther than `every` layers apart, the first and the last, and
 * where area or outline leap from one layer to the next or begin to grow or shrink: on both sides of that place and at
 * both ends of the skins that begin there. Between them, what a layer is made of goes over steadily.
 */
export function sampledLayers(
  { area, perimeter }: SliceMeasures,
  every: number,
  skins: { readonly topLayers: number; readonly bottomLayers: number },
): number[] {
  const count = area.length;
  const isSampled = new Uint8Array(count);
  const sample = (layer: number) => {
    if (layer >= 0 && layer < count) isSampled[layer] = 1;
  };
  const leapsAt = (layer: number) => {
    for (const at of [layer - 1 - skins.topLayers, layer - skins.topLayers, layer - 1]) sample(at);
    for (const at of [layer, layer + skins.bottomLayers - 1, layer + skins.bottomLayers]) sample(at);
  };
  const steps = Math.max(1, Math.ceil((count - 1) / Math.max(1, every)));
  for (let k = 0; k <= steps; k++) sample(Math.round((k * (count - 1)) / steps));
  leapsAt(0);
  leapsAt(count);
  for (let layer = 1; layer < count; layer++) {
    if (isLeap(area, layer) || isLeap(perimeter, layer) || isKink(area, layer)) leapsAt(layer);
  }
  return Array.from(isSampled.keys()).filter((layer) => isSampled[layer] === 1);
}

function isLeap(values: Float64Array, layer: number): boolean {
  const [below, here] = [values[layer - 1], values[layer]];
  return Math.abs(here - below) > leap * Math.max(here, below);
}

function isKink(values: Float64Array, layer: number): boolean {
  if (layer + 1 >= values.length) return false;
  const [below, here, above] = [values[layer - 1], values[layer], values[layer + 1]];
  return Math.abs(above - 2 * here + below) > kink * here;
}
