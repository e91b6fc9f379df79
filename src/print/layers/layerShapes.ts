import type { LayerSample } from "./layerSample";
import type { LayerSections } from "./layerSections";

/** The two samples between which a layer lies, and how far it is from the first to the second, 0 to 1. */
export interface Bracket {
  readonly from: number;
  readonly to: number;
  readonly share: number;
}

/** For each layer the samples about it, in one pass from the plate up. */
export function brackets({ count, samples }: LayerSections): Bracket[] {
  const found: Bracket[] = [];
  let from = 0;
  for (let layer = 0; layer < count; layer++) {
    while (from + 1 < samples.length && samples[from + 1].layer <= layer) from++;
    const to = Math.min(from + 1, samples.length - 1);
    const gap = samples[to].layer - samples[from].layer;
    found.push({ from, to, share: gap > 0 ? (layer - samples[from].layer) / gap : 0 });
  }
  return found;
}

/** What every layer of a piece divides into: areas in mm², lengths of outline in mm, one number a layer. */
export interface LayerShapes {
  readonly outer: Float64Array;
  readonly inner: Float64Array;
  readonly solid: Float64Array;
  readonly sparse: Float64Array;
  readonly solidOutline: Float64Array;
  readonly sparseOutline: Float64Array;
}

/**
 * Divides every layer's exact area: between two samples the shares go over in a straight line. The parts of a layer add
 * up to its area, and none is less than zero.
 */
export function layerShapes(sections: LayerSections, about: readonly Bracket[]): LayerShapes {
  const { count, area, perimeter, samples, settings } = sections;
  const empty = () => new Float64Array(count);
  const shapes = {
    outer: empty(),
    inner: empty(),
    solid: empty(),
    sparse: empty(),
    solidOutline: empty(),
    sparseOutline: empty(),
  };
  for (let layer = 0; layer < count; layer++) {
    const { from, to, share } = about[layer];
    const [a, b] = [samples[from], samples[to]];
    const between = (of: (sample: LayerSample) => number) => of(a) + share * (of(b) - of(a));
    const line = perimeter[layer] * settings.lineWidth;
    const outer = Math.min(area[layer], line * between((s) => s.outer));
    const inner = Math.min(area[layer] - outer, line * between((s) => s.inner));
    // Where neither sample has a core, what the shells leave is a rounding of theirs.
    const coreShare = between((s) => s.core);
    const core = area[layer] - outer - inner;
    const solid = coreShare > 0 ? core * Math.min(1, between((s) => s.solid) / coreShare) : core;
    shapes.outer[layer] = outer;
    shapes.inner[layer] = inner;
    shapes.solid[layer] = solid;
    shapes.sparse[layer] = core - solid;
    shapes.solidOutline[layer] = perimeter[layer] * between((s) => s.solidOutline);
    shapes.sparseOutline[layer] = perimeter[layer] * between((s) => s.sparseOutline);
  }
  return shapes;
}
