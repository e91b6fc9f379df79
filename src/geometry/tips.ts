import { radiusProfile } from "./radius";
import { refusal } from "./refusal";
import type { Tip, TubeShape } from "./tubeShape";

/** What closes an end of a tube beyond its path: nothing but a face, or a half ball of `radius`. mm */
export type Cap = { readonly kind: "flat" } | { readonly kind: "dome"; readonly radius: number };

/** The radius of a tube with its tips worked in, by millimetres from the path's start. */
export interface TubeProfile {
  radiusAt(position: number): number;
  /** Positions where the radius has a corner: rings must lie there. mm */
  readonly corners: readonly number[];
  /** Positions that rings should not miss: knots of the radius, where a tip begins. mm */
  readonly knots: readonly number[];
  readonly greatest: number;
  readonly start: Cap;
  readonly end: Cap;
}

/** Ends narrower than this close in a point, mm. */
export const leastRadius = 0.01;

/**
 * The radius along a tube's path of `length` mm with both tips worked in. `point` and `flare` change the radius with the
 * square of the way into the tip, so that they leave the tube without a corner; a `bulb` swells to the ball about
 * the path's end. Throws a MessageError for a tip whose measures are not above 0.
 */
export function tubeProfile(shape: TubeShape, length: number): TubeProfile {
  const radius = radiusProfile(shape.radius);
  let radiusAt = (position: number) => radius.at(position / length);
  let greatest = Math.max(...shape.radius.radii);
  const corners: number[] = [];
  const knots = radius.shares.map((share) => share * length);
  const caps: Cap[] = [];

  for (const atStart of [true, false]) {
    const tip = shape.path.closed ? ({ kind: "flat" } as const) : atStart ? shape.startTip : shape.endTip;
    checkTip(tip);
    const before = radiusAt;
    const fromEnd = (position: number) => (atStart ? position : length - position);
    switch (tip.kind) {
      case "flat":
        caps.push({ kind: "flat" });
        break;
      case "round":
        caps.push({ kind: "dome", radius: before(atStart ? 0 : length) });
        break;
      case "point":
      case "flare": {
        const reach = Math.min(tip.length, length);
        radiusAt = (position) => {
          const into = 1 - fromEnd(position) / reach;
          const own = before(position);
          return into <= 0 ? own : own + (tip.radius - own) * into * into;
        };
        greatest = Math.max(greatest, tip.radius);
        for (let i = 0; i <= 4; i++) knots.push(fromEnd((reach * i) / 4));
        caps.push(tip.kind === "point" ? { kind: "dome", radius: tip.radius } : { kind: "flat" });
        break;
      }
      case "bulb": {
        const ball = tip.radius;
        const neck = neckDistance((d) => before(atStart ? d : length - d), ball);
        if (neck > 0) {
          radiusAt = (position) => {
            const d = fromEnd(position);
            return d >= neck ? before(position) : Math.sqrt(ball * ball - d * d);
          };
          if (neck < length) corners.push(fromEnd(neck));
          for (let i = 1; i < 10; i++) {
            const d = neck * Math.sin((Math.PI * i) / 20);
            if (d < length) knots.push(fromEnd(d));
          }
          greatest = Math.max(greatest, ball);
        }
        caps.push({ kind: "dome", radius: ball });
        break;
      }
    }
  }
  return { radiusAt, corners, knots, greatest, start: caps[0], end: caps[1] };
}

/** How far from the path's end the ball about it meets the tube, mm; 0 if the tube is the wider one. */
function neckDistance(radiusFromEnd: (distance: number) => number, ball: number): number {
  if (radiusFromEnd(0) >= ball) return 0;
  let [inside, outside] = [0, ball];
  // The first crossing, looked for in small steps, then halved.
  for (let i = 1; i <= 64; i++) {
    const d = (ball * i) / 64;
    if (radiusFromEnd(d) ** 2 + d * d >= ball * ball) {
      outside = d;
      break;
    }
    inside = d;
  }
  for (let round = 0; round < 50; round++) {
    const d = (inside + outside) / 2;
    if (radiusFromEnd(d) ** 2 + d * d >= ball * ball) outside = d;
    else inside = d;
  }
  return Math.min(outside, ball * 0.9999);
}

/** Rings beyond a path's end, from the end outwards, and the pole that closes them. mm */
export interface DomeRings {
  readonly offsets: readonly number[];
  readonly radii: readonly number[];
  readonly pole: number;
}

/**
 * Rings of a half ball of `radius` on a tube that ends with the ring `base`, within `tolerance`. Rings and pole lie a
 * little outside the ball, so that the frusta between them hold exactly its volume.
 */
export function domeRings(base: number, radius: number, tolerance: number): DomeRings {
  // A ball narrower than the tube stands on its flat end.
  const shoulder = radius < base * 0.999;
  const own = shoulder ? radius : base;
  let steps = Math.max(2, Math.ceil(Math.PI / 2 / Math.sqrt((12 * tolerance) / radius)));
  let k = domeFactor(own, radius, steps);
  while ((k - 1) * radius > tolerance) k = domeFactor(own, radius, ++steps);
  const angle = Math.PI / 2 / steps;
  const offsets: number[] = shoulder ? [0] : [];
  const radii: number[] = shoulder ? [radius] : [];
  for (let i = 1; i < steps; i++) {
    offsets.push(k * radius * Math.sin(i * angle));
    radii.push(k * radius * Math.cos(i * angle));
  }
  return { offsets, radii, pole: k * radius };
}

/** By how much the rings of a half ball must be blown up for the frusta between them to hold its volume. */
function domeFactor(base: number, radius: number, steps: number): number {
  const angle = Math.PI / 2 / steps;
  const wanted = (2 / 3) * radius ** 3;
  const volume = (k: number): number => {
    let sum = 0;
    for (let i = 0; i < steps; i++) {
      const r0 = i === 0 ? base : k * radius * Math.cos(i * angle);
      const r1 = i + 1 === steps ? 0 : k * radius * Math.cos((i + 1) * angle);
      const height = k * radius * (Math.sin((i + 1) * angle) - Math.sin(i * angle));
      sum += (height * (r0 * r0 + r0 * r1 + r1 * r1)) / 3;
    }
    return sum;
  };
  let [low, high] = [1, 1.5];
  for (let round = 0; round < 40; round++) {
    const k = (low + high) / 2;
    if (volume(k) < wanted) low = k;
    else high = k;
  }
  return (low + high) / 2;
}

function checkTip(tip: Tip): void {
  const measures: [string, number][] =
    tip.kind === "flat" || tip.kind === "round"
      ? []
      : tip.kind === "bulb"
        ? [["radius", tip.radius]]
        : [
            ["radius", tip.radius],
            ["length", tip.length],
          ];
  for (const [what, value] of measures) {
    if (!(value > 0) || !Number.isFinite(value)) {
      throw refusal(
        "tip-not-positive",
        `the ${what} of a ${tip.kind} tip is ${value} mm`,
        `give a ${what} above 0 mm`,
      );
    }
  }
}
