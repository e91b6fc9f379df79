import { type TimeKind, timeKinds } from "../../print/layers/layerPlan";
import { groupOf, type KindGroup, kindGroups } from "./kindStyles";
import type { WorkshopPrint } from "./workshopInput";

/** Time from the start to the end of each layer, s. */
export function elapsed({ layers, startTime }: WorkshopPrint): Float64Array {
  const { count, seconds } = layers;
  const result = new Float64Array(count);
  let sum = startTime;
  for (let layer = 0; layer < count; layer++) {
    for (const kind of timeKinds) sum += seconds[kind][layer];
    result[layer] = sum;
  }
  return result;
}

/** Time by group within each of even steps of height, s; a layer across a border is shared by its height. */
export function timeByHeight({ layers }: WorkshopPrint, step: number): Record<KindGroup, number>[] {
  const { count, layerHeight, seconds } = layers;
  const bins = Array.from({ length: Math.max(1, Math.ceil((count * layerHeight) / step - 1e-9)) }, () =>
    Object.fromEntries(kindGroups.map((group) => [group, 0])),
  ) as Record<KindGroup, number>[];
  for (let layer = 0; layer < count; layer++) {
    const [from, to] = [layer * layerHeight, (layer + 1) * layerHeight];
    const last = Math.min(bins.length - 1, Math.floor(to / step));
    for (let bin = Math.min(last, Math.floor(from / step)); bin <= last; bin++) {
      const until = bin === last ? to : (bin + 1) * step;
      const share = (until - Math.max(from, bin * step)) / layerHeight;
      if (share <= 0) continue;
      for (const kind of timeKinds) bins[bin][groupOf[kind]] += share * seconds[kind][layer];
    }
  }
  return bins;
}

/** Time by kind over all prints, what comes before the first layer too, s. */
export function timeByKind(prints: readonly WorkshopPrint[]): Record<TimeKind | "start", number> {
  const result = Object.fromEntries([...timeKinds, "start"].map((kind) => [kind, 0])) as Record<
    TimeKind | "start",
    number
  >;
  for (const { layers, startTime } of prints) {
    result.start += startTime;
    for (const kind of timeKinds) {
      for (let layer = 0; layer < layers.count; layer++) result[kind] += layers.seconds[kind][layer];
    }
  }
  return result;
}

/**
 * @throws RangeError when there are no layers, an array is too short, or a time is no finite number from 0.
 */
export function demandLayers({ layers, startTime, spoolEnds }: WorkshopPrint): void {
  const { count, layerHeight, seconds } = layers;
  if (!Number.isInteger(count) || count < 1)
    throw new RangeError(`A print has at least one layer, not ${count}.`);
  if (!(layerHeight > 0) || !Number.isFinite(layerHeight)) {
    throw new RangeError(`A layer is ${layerHeight} mm high: it is a finite number above 0.`);
  }
  if (!(startTime >= 0) || !Number.isFinite(startTime)) {
    throw new RangeError(`The print starts after ${startTime} s: it is a finite number from 0.`);
  }
  for (const kind of timeKinds) {
    for (let layer = 0; layer < count; layer++) {
      const value = seconds[kind][layer];
      if (!(value >= 0) || !Number.isFinite(value)) {
        throw new RangeError(`Layer ${layer} takes ${value} s of "${kind}": it is a finite number from 0.`);
      }
    }
  }
  for (const { spool, layer } of spoolEnds) {
    if (!Number.isInteger(layer) || layer < 0 || layer >= count) {
      throw new RangeError(`Spool ${spool} ends in layer ${layer}: layers count from 0 to ${count - 1}.`);
    }
  }
}
