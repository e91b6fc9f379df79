import { loopArea, simplifiedLoop } from "../../geometry/loops";
import { outset, regionArea, regionOf } from "../../geometry/regions";
import { type Loop, sliceLoops, sliceMeasures } from "../../geometry/slices";
import type { PrintSettings } from "../../printSettings";
import type { PlacedPiece } from "../placedPiece";
import { type LayerSample, layerSample } from "./layerSample";
import { sampledLayers } from "./sampledLayers";

/** The settings on which the shapes of layers depend; all others only say how they are filled. */
export type ShapeSettings = Pick<
  PrintSettings,
  "layerHeight" | "lineWidth" | "shells" | "topLayers" | "bottomLayers" | "brimWidth"
>;

/** A piece cut into layers: shapes alone, whatever they are filled with and however fast they are printed. */
export interface LayerSections {
  readonly settings: ShapeSettings;
  readonly count: number;
  /** Area of the true section in the middle of each layer, mm², and length of its outlines, mm. */
  readonly area: Float64Array;
  readonly perimeter: Float64Array;
  /** Layers that were looked at closely, ascending; the first and the last are among them. */
  readonly samples: readonly LayerSample[];
  /** Area of the brim, mm², and outlines that it runs around. */
  readonly brim: { readonly area: number; readonly loops: number };
  /** Extents of the piece on the plate, mm. */
  readonly width: number;
  readonly depth: number;
}

export interface SectionOptions {
  /** Layers are looked at closely at most this far apart, mm; 1 unless given. Low pieces: nearer. */
  readonly sampleEvery?: number;
}

/** A low piece is looked at closely more often: in at least so many places, or in every layer. */
const leastSamples = 50;

/** Points of an outline this near to the rest are left out before insets, mm. */
const outlineTolerance = 0.02;

/**
 * Cuts a placed piece into layers: the true section in the middle of each, and on samples of them what lies within the
 * shells and under the skins.
 * @throws RangeError for settings or a mesh that cannot be cut: not finite, empty, open, of no height.
 */
export function layerSections(
  { mesh, size }: PlacedPiece,
  settings: ShapeSettings,
  { sampleEvery = 1 }: SectionOptions = {},
): LayerSections {
  checkSettings(settings, sampleEvery);
  const { layerHeight, lineWidth, shells, topLayers, bottomLayers, brimWidth } = settings;
  const [width, depth, height] = size;
  if (!(height > 0 && height < Infinity)) {
    throw new RangeError(`The piece is ${height} mm high: it must be more than zero.`);
  }
  // A layer is printed where its middle lies within the piece.
  const count = Math.max(1, Math.ceil(height / layerHeight - 0.5 - 1e-6));
  const middles = Float64Array.from({ length: count }, (_, layer) => (layer + 0.5) * layerHeight);
  const measures = sliceMeasures(mesh, middles);
  const every = Math.min(sampleEvery, height / leastSamples) / layerHeight;
  const sampled = sampledLayers(measures, Math.round(every), settings);
  const loopsOf = loopsOfLayers(mesh, middles, sampled, settings);
  // Lines as far apart as those that are printed, nearer on a small piece.
  const spacing = Math.min(lineWidth, Math.max(width, depth, lineWidth) / 100);
  const skin = (layer: number, layers: number) => (layers === 0 ? undefined : (loopsOf(layer) ?? []));
  const samples = sampled.map((layer) =>
    layerSample(
      layer,
      loopsOf(layer) ?? [],
      { above: skin(layer + topLayers, topLayers), below: skin(layer - bottomLayers, bottomLayers) },
      { shells, lineWidth },
      spacing,
    ),
  );
  return { settings, count, ...measures, samples, brim: brimOf(loopsOf(0) ?? [], brimWidth), width, depth };
}

/** Simplified outlines of the sampled layers and of those to which their skins reach. */
function loopsOfLayers(
  mesh: PlacedPiece["mesh"],
  middles: Float64Array,
  sampled: readonly number[],
  { topLayers, bottomLayers }: ShapeSettings,
): (layer: number) => readonly Loop[] | undefined {
  const isNeeded = new Uint8Array(middles.length);
  for (const layer of sampled) {
    for (const needed of [layer, layer + topLayers, layer - bottomLayers]) {
      if (needed >= 0 && needed < middles.length) isNeeded[needed] = 1;
    }
  }
  const layers = Array.from(isNeeded.keys()).filter((layer) => isNeeded[layer] === 1);
  const slices = sliceLoops(
    mesh,
    layers.map((layer) => middles[layer]),
  );
  const byLayer = new Map<number, Loop[]>();
  layers.forEach((layer, i) => {
    const simple = slices[i].map((loop) => simplifiedLoop(loop, outlineTolerance));
    byLayer.set(
      layer,
      simple.filter((loop) => loop !== undefined),
    );
  });
  return (layer) => byLayer.get(layer);
}

function brimOf(loops: readonly Loop[], brimWidth: number): LayerSections["brim"] {
  if (brimWidth === 0 || loops.length === 0) return { area: 0, loops: 0 };
  const standing = regionOf(loops);
  const area = Math.max(0, regionArea(outset(standing, brimWidth)) - regionArea(standing));
  return { area, loops: loops.filter((loop) => loopArea(loop) > 0).length };
}

function checkSettings(settings: ShapeSettings, sampleEvery: number): void {
  for (const name of ["layerHeight", "lineWidth"] as const) {
    const value = settings[name];
    if (!(value > 0 && value < Infinity)) {
      throw new RangeError(`"${name}" is ${value} mm: it must be more than zero.`);
    }
  }
  for (const name of ["topLayers", "bottomLayers"] as const) {
    const value = settings[name];
    if (!(Number.isInteger(value) && value >= 0)) {
      throw new RangeError(`"${name}" is ${value}: use a whole number from 0 up.`);
    }
  }
  const { shells, brimWidth } = settings;
  if (!(Number.isInteger(shells) && shells >= 1)) {
    throw new RangeError(`"shells" is ${shells}: use a whole number from 1 up.`);
  }
  if (!(brimWidth >= 0 && brimWidth < Infinity)) {
    throw new RangeError(`"brimWidth" is ${brimWidth} mm: use zero or more.`);
  }
  if (!(sampleEvery > 0 && sampleEvery < Infinity)) {
    throw new RangeError(`Layers are sampled every ${sampleEvery} mm: use more than zero.`);
  }
}
