import type { Printer } from "../../checks/printer";
import type { PrintSettings } from "../../printSettings";
import type { PlacedPiece } from "../placedPiece";
import type { SupportLayers } from "../support/support";
import { checkFilling } from "./checkFilling";
import { type LayerPlan, type PathKind, pathKinds, type TimeKind, timeKinds } from "./layerPlan";
import { type LayerSections, layerSections, type SectionOptions } from "./layerSections";
import { type Bracket, brackets, type LayerShapes, layerShapes } from "./layerShapes";
import { lineFill, outlineOfPlaces, wayBetweenPlaces } from "./lineFill";
import { printSpeed, runTime } from "./motion";
import { type Drive, type ShellPace, shellPace } from "./shellPace";

/**
 * Cuts a placed piece into layers and says of each what it is printed of and how long it takes: `layerSections`, then
 * `fillLayers`.
 * @throws RangeError for a piece, settings or a printer that make no sense.
 */
export function planLayers(
  placed: PlacedPiece,
  settings: PrintSettings,
  printer: Printer,
  support?: SupportLayers,
  options: SectionOptions = {},
): LayerPlan {
  return fillLayers(layerSections(placed, settings, options), settings, printer, support);
}

/**
 * Lengths and times of every layer, from sections that are kept: only settings on which they do not depend may differ
 * from those they were made with. In time that grows with the layers, a hundredth of that of cutting them.
 *
 * Lengths: an area over the line width; of infill and support, its share of it. Lines of infill are counted by Crofton's
 * formula (`lineFill`); a support's places count as squares of its mean area.
 *
 * Times: constant acceleration (`runTime`); the speed of each kind or what the flow limit allows; the first layer at the
 * first layer's speed; corners of more than 30° at the corner speed, bends at full speed; ways among outlines by a greedy
 * tour, among supports by the length of the shortest tour of random places; waiting until a layer has taken the least
 * time. Not in it: drawing filament back and priming it, lifting on the way, slowing on overhangs, and what a printer's
 * control does differently.
 * @throws RangeError where shape settings differ from those of the sections, a share or a printer's figure is wrong, or
 * support has another number of layers.
 */
export function fillLayers(
  sections: LayerSections,
  settings: PrintSettings,
  printer: Printer,
  support?: SupportLayers,
): LayerPlan {
  checkFilling(sections, settings, printer, support);
  const { count, area, perimeter } = sections;
  const plan: LayerPlan = {
    count,
    layerHeight: settings.layerHeight,
    area,
    perimeter,
    lengths: emptyArrays(pathKinds, count),
    travel: new Float64Array(count),
    seconds: emptyArrays(timeKinds, count),
    pieceVolume: new Float64Array(count),
    wasteVolume: new Float64Array(count),
  };
  const drive = {
    acceleration: printer.acceleration,
    cornerSpeed: printer.cornerSpeed,
    travel: printer.speeds.travel,
  };
  const speed = (kind: PathKind, layer: number) => {
    const wished = layer === 0 || kind === "brim" ? printer.speeds.firstLayer : printer.speeds[kind];
    return printSpeed(wished, printer.flowLimit, settings.lineWidth, settings.layerHeight);
  };
  const about = brackets(sections);
  const shapes = layerShapes(sections, about);
  addShells(plan, sections, about, shapes, speed, drive);
  addInfill(plan, shapes, settings, speed, drive);
  if (support) addSupport(plan, support, settings, sections.width * sections.depth, speed, drive);
  addBrim(plan, sections, speed, drive);
  finishLayers(plan, settings, printer);
  return plan;
}

/** Speed along a kind of path in a layer, mm/s. */
type Speed = (kind: PathKind, layer: number) => number;

function addShells(
  plan: LayerPlan,
  sections: LayerSections,
  about: readonly Bracket[],
  shapes: LayerShapes,
  speed: Speed,
  drive: Drive,
): void {
  const { lineWidth } = sections.settings;
  const paceIn = (layer: number) => {
    const speeds = { outer: speed("outerShell", layer), inner: speed("innerShell", layer) };
    return (index: number) => shellPace(sections.samples[index], speeds, sections.settings, drive);
  };
  // All layers but the first have the same speeds.
  const paces = sections.samples.map((_, index) => paceIn(1)(index));
  const firstPace = paceIn(0)(0);
  for (let layer = 0; layer < plan.count; layer++) {
    const { from, to, share } = about[layer];
    const [a, b] = layer === 0 ? [firstPace, firstPace] : [paces[from], paces[to]];
    const between = (of: (pace: ShellPace) => number) => of(a) + share * (of(b) - of(a));
    const outer = shapes.outer[layer] / lineWidth;
    const inner = shapes.inner[layer] / lineWidth;
    plan.lengths.outerShell[layer] = outer;
    plan.lengths.innerShell[layer] = inner;
    plan.seconds.outerShell[layer] = outer * between((pace) => pace.outer);
    plan.seconds.innerShell[layer] = inner * between((pace) => pace.inner);
    plan.travel[layer] += between((pace) => pace.way);
    plan.seconds.travel[layer] += between((pace) => pace.waySeconds);
  }
}

function addInfill(
  plan: LayerPlan,
  { solid, sparse, solidOutline, sparseOutline }: LayerShapes,
  { lineWidth, infill }: PrintSettings,
  speed: Speed,
  drive: Drive,
): void {
  const apart = (100 * lineWidth) / infill;
  for (let layer = 0; layer < plan.count; layer++) {
    const fill = (kind: "solidInfill" | "sparseInfill", area: number, outline: number, distance: number) =>
      addLines(plan, kind, layer, area, outline, distance, speed(kind, layer), drive);
    fill("solidInfill", solid[layer], solidOutline[layer], lineWidth);
    fill("sparseInfill", sparse[layer], sparseOutline[layer], apart);
  }
}

function addSupport(
  plan: LayerPlan,
  { support, contact, places }: SupportLayers,
  { lineWidth, supportShare, contactShare }: PrintSettings,
  onPlate: number,
  speed: Speed,
  drive: Drive,
): void {
  for (let layer = 0; layer < plan.count; layer++) {
    const held = support[layer] + contact[layer];
    if (!(held > 0)) continue;
    const number = Math.max(1, places[layer]);
    const fill = (kind: "support" | "contact", area: number, share: number) => {
      const outline = outlineOfPlaces(area, held, number);
      addLines(plan, kind, layer, area, outline, (100 * lineWidth) / share, speed(kind, layer), drive);
    };
    fill("support", support[layer], supportShare);
    fill("contact", contact[layer], contactShare);
    const way = wayBetweenPlaces(onPlate, number);
    plan.travel[layer] += number * way;
    plan.seconds.travel[layer] += number * runTime(way, 0, 0, drive.travel, drive.acceleration);
  }
}

function addLines(
  plan: LayerPlan,
  kind: PathKind,
  layer: number,
  area: number,
  outline: number,
  apart: number,
  speed: number,
  drive: Drive,
): void {
  const lines = lineFill(area, outline, apart, speed, drive);
  plan.lengths[kind][layer] = lines.length;
  plan.seconds[kind][layer] = lines.seconds;
  plan.travel[layer] += lines.way;
  plan.seconds.travel[layer] += lines.waySeconds;
}

/** The brim runs around what stands on the plate, each loop from rest to rest. */
function addBrim(plan: LayerPlan, { brim, settings }: LayerSections, speed: Speed, drive: Drive): void {
  if (!(brim.area > 0)) return;
  const length = brim.area / settings.lineWidth;
  const loops = Math.max(1, Math.ceil(settings.brimWidth / settings.lineWidth - 1e-9)) * brim.loops;
  plan.lengths.brim[0] = length;
  plan.seconds.brim[0] = loops * runTime(length / loops, 0, 0, speed("brim", 0), drive.acceleration);
}

/** Change of layer, waiting and volumes, once all paths are known. */
function finishLayers(
  plan: LayerPlan,
  { lineWidth, layerHeight, leastLayerTime }: PrintSettings,
  { layerChangeTime }: Printer,
): void {
  const section = lineWidth * layerHeight;
  for (let layer = 0; layer < plan.count; layer++) {
    plan.seconds.layerChange[layer] = layerChangeTime;
    let busy = 0;
    for (const kind of timeKinds) busy += plan.seconds[kind][layer];
    plan.seconds.waiting[layer] = Math.max(0, leastLayerTime - busy);
    for (const kind of pathKinds) {
      const volumes = isWaste(kind) ? plan.wasteVolume : plan.pieceVolume;
      volumes[layer] += plan.lengths[kind][layer] * section;
    }
  }
}

/** Whether what is printed of a kind is thrown away. */
export const isWaste = (kind: PathKind): boolean =>
  kind === "support" || kind === "contact" || kind === "brim";

function emptyArrays<Kind extends PathKind | TimeKind>(
  kinds: readonly Kind[],
  count: number,
): Record<Kind, Float64Array> {
  return Object.fromEntries(kinds.map((kind) => [kind, new Float64Array(count)])) as Record<
    Kind,
    Float64Array
  >;
}
