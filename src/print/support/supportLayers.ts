import type { PrintSettings } from "../../printSettings";
import type { Support, SupportLayers } from "./support";

/**
 * Supports as layers print them: a run belongs to each layer whose middle it holds; the upper ones of them, as many as
 * there are contact layers, are contact. Places: columns that stand in the layer.
 * @throws RangeError when the number of layers is no whole number of 0 or more, or a layer has no height.
 */
export function supportLayers(
  { runs, columns }: Pick<Support, "runs" | "columns">,
  { contactLayers }: Pick<PrintSettings, "contactLayers">,
  { count, layerHeight }: { readonly count: number; readonly layerHeight: number },
): SupportLayers {
  if (!Number.isInteger(count) || count < 0) {
    throw new RangeError(`${count} layers: it must be a whole number of 0 or more`);
  }
  if (!(layerHeight > 0)) throw new RangeError(`layers of ${layerHeight} mm: it must be above 0`);
  if (!(contactLayers >= 0)) throw new RangeError(`${contactLayers} contact layers: it must be 0 or more`);
  const support = new Float64Array(count + 1);
  const contact = new Float64Array(count + 1);
  const places = new Float64Array(count + 1);
  const layerAt = (height: number): number =>
    Math.min(count, Math.max(0, Math.ceil(height / layerHeight - 0.5 - 1e-4)));
  // Each run and each column says where it begins and where it ends; the rest is sums.
  for (let i = 0; i < runs.count; i++) {
    const from = layerAt(runs.bottom[i]);
    const to = layerAt(runs.top[i]);
    const dense = Math.max(from, to - contactLayers);
    support[from]++;
    support[dense]--;
    contact[dense]++;
    contact[to]--;
  }
  for (const { bottom, top } of columns) {
    places[layerAt(bottom)]++;
    places[layerAt(top)]--;
  }
  const summed = (steps: Float64Array, unit: number): Float64Array => {
    const sums = new Float64Array(count);
    let sum = 0;
    for (let layer = 0; layer < count; layer++) {
      sum += steps[layer];
      sums[layer] = sum * unit;
    }
    return sums;
  };
  const area = runs.cell * runs.cell;
  return { support: summed(support, area), contact: summed(contact, area), places: summed(places, 1) };
}
