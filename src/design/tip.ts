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
interface TipOptions {
  readonly tip?: Tip;
  readonly startTip?: Tip;
  readonly endTip?: Tip;
}

/** The path with those of its ends that grow into another tube drawn on to the middle of that tube. */
export function drawnInto(
  name: string,
  path: Path,
  tips: TipOptions,
): { readonly path: Path; readonly addedAtStart: number } {
  const { startTip, endTip } = endsOf(tips);
  if (path.closed) return { path, addedAtStart: 0 };
  const toEnd = isInto(endTip) ? grownInto(path, endTip.into, name) : path;
  const whole = isInto(startTip) ? grownInto(toEnd.reversed(), startTip.into, name).reversed() : toEnd;
  return { path: whole, addedAtStart: whole.data.points.length - toEnd.data.points.length };
}

/** How a tube of this radius ends, as its options ask. */
export function tipsOf(
  name: string,
  closed: boolean,
  radius: RadiusData,
  tips: TipOptions,
): { readonly startTip: ShapeTip; readonly endTip: ShapeTip } {
  if (closed && (tips.tip ?? tips.startTip ?? tips.endTip)) {
    throw designError({
      id: "tip-on-closed-path",
      text: `"${name}" runs along a closed path and has no ends for a tip`,
      suggestion: "leave out the tip, or give an open path",
    });
  }
  const { startTip, endTip } = endsOf(tips);
  const { radii } = radius;
  return {
    startTip: toTip(startTip, `the start tip of "${name}"`, radii[0]),
    endTip: toTip(endTip, `the end tip of "${name}"`, radii[radii.length - 1]),
  };
}

const endsOf = ({ tip = "round", startTip = tip, endTip = tip }: TipOptions) => ({ startTip, endTip });

const isInto = (tip: Tip): tip is { into: { readonly path: Path } } =>
  typeof tip === "object" && tip !== null && "into" in tip;

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
