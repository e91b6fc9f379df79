import { scanLines } from "../../geometry/lineScan";
import { loopArea, loopLength } from "../../geometry/loops";
import { rawInset } from "../../geometry/rawOffset";
import type { Loop } from "../../geometry/slices";
import type { PrintSettings } from "../../printSettings";
import { hopsBetween, type LoopRuns, loopRuns } from "./loopRuns";

/** What a layer that was looked at closely is made of, as shares of its area (mm²) and of its outlines' length (mm). */
export interface LayerSample {
  readonly layer: number;
  /** Area of the outer shell and of all inner shells, as shares of outline × line width. */
  readonly outer: number;
  readonly inner: number;
  /** Area inside all shells, and of it what is filled in full, as shares of the layer's area. */
  readonly core: number;
  readonly solid: number;
  /** Length of outline of what is filled in part and in full, as shares of the layer's outlines. */
  readonly sparseOutline: number;
  readonly solidOutline: number;
  readonly loops: number;
  readonly runs: LoopRuns;
  /** Ways from outline to outline. */
  readonly hops: Float64Array;
}

/** Outlines of the layers to which the skins of a layer reach; undefined: as far as this goes, there is no skin. */
export interface SkinLoops {
  readonly above: readonly Loop[] | undefined;
  readonly below: readonly Loop[] | undefined;
}

/**
 * Looks closely at one layer. Shell k fills what lies between the outline inset by k − 1 and by k line widths, so that
 * nothing thinner than a shell is lost; what lies inside the last is filled in full where one of the two slices to which
 * the skins reach does not cover it, else in part.
 *
 * Areas of insets are exact where no edge is shorter than its corners take away and no wall thinner than the shells
 * (the plain mitred curve). Elsewhere the curves cross themselves; how often they wind around what is not inside is
 * measured along lines `spacing` apart and taken off. What the skins leave uncovered is measured along the same lines.
 */
export function layerSample(
  layer: number,
  loops: readonly Loop[],
  skins: SkinLoops,
  settings: Pick<PrintSettings, "shells" | "lineWidth">,
  spacing: number,
): LayerSample {
  const { shells, lineWidth } = settings;
  const area = sum(loops, loopArea);
  const perimeter = sum(loops, loopLength);
  const shared = { layer, loops: loops.length, runs: loopRuns(loops), hops: hopsBetween(loops) };
  if (!(area > 0 && perimeter > 0)) {
    return { ...shared, outer: 0, inner: 0, core: 0, solid: 0, sparseOutline: 0, solidOutline: 0 };
  }
  const first = loops.map((loop) => rawInset(loop, lineWidth));
  const last = shells === 1 ? first : loops.map((loop) => rawInset(loop, shells * lineWidth));
  const isOpen = isEmpty(skins.above) || isEmpty(skins.below);
  const scan = scanSample(
    first,
    last,
    isOpen ? { above: undefined, below: undefined } : skins,
    spacing,
    layer,
  );
  const inFirst = clamp(sum(first, loopArea) + scan.firstExcess, 0, area);
  const core = clamp(sum(last, loopArea) + scan.coreExcess, 0, inFirst);
  const coreOutline = core > 0 ? sum(last, loopLength) * scan.coreBounds : 0;
  const solid = isOpen ? core : clamp(scan.uncovered, 0, core);
  return {
    ...shared,
    outer: (area - inFirst) / (perimeter * lineWidth),
    inner: (inFirst - core) / (perimeter * lineWidth),
    core: core / area,
    solid: solid / area,
    sparseOutline: isOpen ? 0 : (coreOutline * scan.sparseBounds) / perimeter,
    solidOutline: (coreOutline * (isOpen ? 1 : scan.solidBounds)) / perimeter,
  };
}

const isEmpty = (loops: readonly Loop[] | undefined): boolean => loops !== undefined && loops.length === 0;

const goldenSection = (Math.sqrt(5) - 1) / 2;

interface Scan {
  /** What is to be added to the area that the raw curves wind around, mm². */
  readonly firstExcess: number;
  readonly coreExcess: number;
  /** Area of the core that the skins' slices do not cover, mm². */
  readonly uncovered: number;
  /** Of the crossings with the core's raw curve those that bound the core; bounds of its parts by those. */
  readonly coreBounds: number;
  readonly sparseBounds: number;
  readonly solidBounds: number;
}

function scanSample(
  first: readonly Loop[],
  last: readonly Loop[],
  { above, below }: SkinLoops,
  spacing: number,
  layer: number,
): Scan {
  const scan = new RunSums(above !== undefined, below !== undefined);
  // From layer to layer the lines lie elsewhere, as evenly as may be (multiples of the golden section).
  scanLines(
    [first, last, above ?? [], below ?? []],
    spacing,
    (length, windings) => scan.add(length, windings),
    layer * goldenSection,
  );
  const { rawBounds, coreBounds, sparseBounds, solidBounds } = scan;
  return {
    firstExcess: scan.firstExcess * spacing,
    coreExcess: scan.coreExcess * spacing,
    uncovered: scan.uncovered * spacing,
    coreBounds: rawBounds > 0 ? coreBounds / rawBounds : 1,
    sparseBounds: coreBounds > 0 ? sparseBounds / coreBounds : 1,
    solidBounds: coreBounds > 0 ? solidBounds / coreBounds : 0,
  };
}

/** What the runs of a scan add up to: lengths in mm, and numbers of bounds. Sets: first, last, above, below. */
class RunSums {
  firstExcess = 0;
  coreExcess = 0;
  uncovered = 0;
  rawBounds = 0;
  coreBounds = 0;
  sparseBounds = 0;
  solidBounds = 0;
  readonly #hasAbove: boolean;
  readonly #hasBelow: boolean;
  #turns = 0;
  #wasSparse = false;
  #wasSolid = false;

  constructor(hasAbove: boolean, hasBelow: boolean) {
    this.#hasAbove = hasAbove;
    this.#hasBelow = hasBelow;
  }

  add(length: number, windings: Int32Array): void {
    const inFirst = windings[0];
    const inCore = windings[1];
    if (inFirst > 1 || inFirst < 0) this.firstExcess += length * ((inFirst > 0 ? 1 : 0) - inFirst);
    if (inCore > 1 || inCore < 0) this.coreExcess += length * ((inCore > 0 ? 1 : 0) - inCore);
    const isCovered = (!this.#hasAbove || windings[2] > 0) && (!this.#hasBelow || windings[3] > 0);
    const isSparse = inCore > 0 && isCovered;
    const isSolid = inCore > 0 && !isCovered;
    if (isSolid) this.uncovered += length;
    this.rawBounds += Math.abs(inCore - this.#turns);
    if ((isSparse || isSolid) !== (this.#wasSparse || this.#wasSolid)) this.coreBounds++;
    if (isSparse !== this.#wasSparse) this.sparseBounds++;
    if (isSolid !== this.#wasSolid) this.solidBounds++;
    this.#turns = inCore;
    this.#wasSparse = isSparse;
    this.#wasSolid = isSolid;
  }
}

const clamp = (value: number, least: number, most: number): number => Math.min(most, Math.max(least, value));

function sum(loops: readonly Loop[], of: (loop: Loop) => number): number {
  let total = 0;
  for (const loop of loops) total += of(loop);
  return total;
}
