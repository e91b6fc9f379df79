import type { PlanScene } from "../protocol";
import { plainNumber } from "./numbers";

type LayersMessage = NonNullable<PlanScene["layers"]>;

/** The layers of a print, ready to be walked through. */
export interface Layers {
  readonly count: number;
  /** mm */
  readonly height: number;
  /** From the start to the end of each layer, s. */
  readonly seconds: Float64Array;
  /** From the start to the end of each layer, m. */
  readonly metres: Float64Array;
  /** Layers within which a spool ends, rising. */
  readonly spoolEnds: readonly number[];
}

const known = new WeakMap<LayersMessage, Layers>();

/** The layers of a message: the very same for the same one. */
export function layersOf(message: LayersMessage): Layers {
  const found = known.get(message);
  if (found) return found;
  const { count, height, seconds, metres, spoolEnds } = message;
  const layers: Layers = {
    count,
    height,
    seconds: new Float64Array(seconds),
    metres: new Float64Array(metres),
    spoolEnds: [...spoolEnds].sort((a, b) => a - b),
  };
  known.set(message, layers);
  return layers;
}

/** How many layers are printed up to a height over the plate, mm: at least one; undefined: all. */
export function layersUpTo({ count, height }: Layers, printedHeight: number | undefined): number {
  if (printedHeight === undefined) return count;
  return Math.min(count, Math.max(1, Math.round(printedHeight / height)));
}

/** The height up to which so many layers reach, mm; undefined for all, which stays all when the piece grows. */
export function heightOfLayers({ count, height }: Layers, printed: number): number | undefined {
  return printed >= count ? undefined : Math.max(1, printed) * height;
}

/** A time as people read it: "41 h 10 min", "12 min", "40 s". */
export function timeText(seconds: number): string {
  if (seconds < 59.5) return `${Math.round(seconds)} s`;
  const minutes = Math.round(seconds / 60);
  const hours = Math.floor(minutes / 60);
  const rest = minutes - 60 * hours;
  if (hours === 0) return `${minutes} min`;
  return rest === 0 ? `${hours} h` : `${hours} h ${rest} min`;
}

/** Metres of filament: tenths below 10 m, whole metres from there on. */
export const metresText = (metres: number): string => `${plainNumber(metres, metres < 9.95 ? 1 : 0)} m`;

/** A height over the plate: as many decimals as a layer's height has, two at most. */
export function layerHeightText(printed: number, height: number): string {
  const digits = Math.min(2, Math.max(1, (/\.(\d+)$/.exec(String(height))?.[1] ?? "").length));
  return `${(printed * height).toFixed(digits)} mm`;
}

/** What a print has taken after so many layers: "layer 312 of 838 · 62.4 mm · 41 h 10 min · 128 m so far". */
export function layerText(layers: Layers, printed: number): string {
  return layerParts(layers, printed).join(" · ");
}

/** The same to be spoken. */
export const spokenLayer = (layers: Layers, printed: number): string =>
  [...layerParts(layers, printed), ...spoolWords(layers, printed)].join(", ");

function layerParts(layers: Layers, printed: number): string[] {
  const at = printed - 1;
  return [
    `layer ${printed} of ${layers.count}`,
    layerHeightText(printed, layers.height),
    timeText(layers.seconds[at]),
    `${metresText(layers.metres[at])} so far`,
  ];
}

/** Where a spool ends: "spool 1 ends in layer 412, at 82.4 mm after 53 h". */
export function spoolText(layers: Layers, spool: number): string {
  const layer = layers.spoolEnds[spool];
  const height = layerHeightText(layer + 1, layers.height);
  return `spool ${spool + 1} ends in layer ${layer + 1}, at ${height} after ${timeText(layers.seconds[layer])}`;
}

function spoolWords({ spoolEnds }: Layers, printed: number): string[] {
  const spool = spoolEnds.indexOf(printed - 1);
  return spool < 0 ? [] : [`spool ${spool + 1} ends here`];
}

/** The number of printed layers after a key in the slider; undefined for a key that is none of its own. */
export function layerAfterKey(key: string, printed: number, count: number): number | undefined {
  const steps: Readonly<Record<string, number>> = {
    ArrowRight: 1,
    ArrowUp: 1,
    ArrowLeft: -1,
    ArrowDown: -1,
    PageUp: 10,
    PageDown: -10,
    Home: -count,
    End: count,
  };
  const step = Object.hasOwn(steps, key) ? steps[key] : undefined;
  return step === undefined ? undefined : Math.min(count, Math.max(1, printed + step));
}
