import type { RadiusData, Tip as ShapeTip } from "../geometry/tubeShape";
import { distance } from "../geometry/vector";
import { number, oneOf, options, shown } from "./check";
import { designError } from "./error";
import { Path } from "./path";

/**
 * How a tube ends. `"round"`: a half ball; `"flat"`: cut square; `{ point }`: narrowing over a length to a rounded
 * point of that radius; `{ flare }`: widening over a length to that radius; `{ bulb }`: a ball of that radius;
 * `{ into }`: grown into another tube. mm.
 */
export type Tip =
  | "round"
  | "flat"
  | { readonly point: number; readonly over?: number }
  | { readonly flare: number; readonly over?: number }
  | { readonly bulb: number }
  | { readonly into: { readonly path: Path } };

/** The ends of a tube: `tip` for both, the others where they differ. */
export interface TipOptions {
  readonly tip?: Tip;
  readonly startTip?: Tip;
  readonly endTip?: Tip;
}

interface Swept {
  readonly path: Path;
  readonly radius: RadiusData;
  readonly startTip: ShapeTip;
  readonly endTip: ShapeTip;
}

/** The path and radius of a tube with its ends as its options ask. */
export function withTips(name: string, path: Path, radius: RadiusData, tips: TipOptions): Swept {
  const first = radius.radii[0];
  const last = radius.radii[radius.radii.length - 1];
  const startTip = tips.startTip ?? tips.tip ?? "round";
  const endTip = tips.endTip ?? tips.tip ?? "round";
  const start = toTip(startTip, `the start tip of "${name}"`, first);
  const end = toTip(endTip, `the end tip of "${name}"`, last);
  if (path.closed) {
    if (tips.tip ?? tips.startTip ?? tips.endTip) {
      throw designError({
        id: "tip-on-closed-path",
        text: `"${name}" runs along a closed path and has no ends for a tip`,
        suggestion: "leave out the tip, or give an open path",
      });
    }
    return { path, radius, startTip: start, endTip: end };
  }
  let grown = path;
  if (isInto(endTip)) grown = grownInto(grown, endTip.into, name);
  if (isInto(startTip)) grown = grownInto(grown.reversed(), startTip.into, name).reversed();
  return { path: grown, radius, startTip: start, endTip: end };
}

const isInto = (tip: Tip): tip is { into: { readonly path: Path } } =>
  typeof tip === "object" && "into" in tip;

function toTip(tip: Tip, what: string, radius: number): ShapeTip {
  if (typeof tip === "string") return { kind: oneOf(tip, what, ["round", "flat"]) };
  if (tip === null || typeof tip !== "object") {
    throw designError({
      id: "not-a-tip",
      text: `${what} is ${shown(tip)}`,
      suggestion: 'give "round", "flat", { point }, { flare }, { bulb } or { into }',
    });
  }
  if ("into" in tip) {
    options(tip, what, ["into"]);
    return { kind: "round" };
  }
  if ("point" in tip) {
    options(tip, what, ["point", "over"]);
    const point = number(tip.point, `point of ${what}`, { above: 0, most: radius });
    return { kind: "point", radius: point, length: lengthOf(tip.over, 4 * radius, what) };
  }
  if ("flare" in tip) {
    options(tip, what, ["flare", "over"]);
    const flare = number(tip.flare, `flare of ${what}`, { least: radius, most: 500 });
    return { kind: "flare", radius: flare, length: lengthOf(tip.over, 2 * (flare - radius) + radius, what) };
  }
  options(tip, what, ["bulb"]);
  return { kind: "bulb", radius: number(tip.bulb, `bulb of ${what}`, { least: radius, most: 500 }) };
}

const lengthOf = (over: number | undefined, preset: number, what: string): number =>
  number(over ?? preset, `over of ${what}`, { above: 0 });

/** The path with its end drawn on to the nearest point of the other tube's middle. */
function grownInto(path: Path, other: { readonly path: Path }, name: string): Path {
  if (!(other?.path instanceof Path)) {
    throw designError({
      id: "not-a-tube",
      text: `"${name}" is to grow into ${shown(other)}, not into a tube`,
      suggestion: "write { into: ring }, where ring = tube(…) or band(…)",
    });
  }
  const target = other.path.nearestTo(path.end);
  if (distance(target.position, path.end.position) < 0.01) return path;
  return new Path({ ...path.data, points: [...path.data.points, target.position] });
}
