import { subtract, type Vec3 } from "../../geometry/vector";
import type { InnerSurface } from "../fit/innerSurface";
import type { MotionOff } from "../wayOn";
import type { WornHead } from "../wornHead";
import type { WornPiece } from "../wornPiece";
import { type FeltPoints, feltPoints, pointsAt } from "./feltPoints";
import { girthRings } from "./girthRings";
import { type WayOffSteps, wayOffSteps } from "./wayOff";

/** What of a piece the light judge looks at; all as it sits on the head that it was made for. */
export interface FittedPiece {
  readonly felt: FeltPoints;
  /** More of the same, for how deep it lies in the head where it rests. */
  readonly asked: FeltPoints;
  /** Levels at which it goes round the head: points in pairs, of which on a head the nearer counts. */
  readonly rings: readonly FeltPoints[];
  /** Of the felt points those that wider levels of the head have to pass. */
  readonly passing: readonly number[];
  readonly off: WayOffSteps;
  /** Middle of the felt points, mm. */
  readonly middle: Vec3;
  /** From there to the centre of mass, mm. */
  readonly toCentre: Vec3;
  /** It may come to lie on the ears, or has to pass them. */
  readonly isNearEars: boolean;
  /** Elevations, as the head's centre sees them, between which heads are looked at, degrees. */
  readonly elevations: readonly [number, number];
}

/** What lies higher over the girth than this has only narrower levels above it, mm. */
const overGirth = 4;
/** Ears begin about so far under the girth, mm, less what a piece may sink; between these azimuths, degrees. */
const overEars = 4;
const earSides = [65, 145] as const;
/** Elevations that a piece may come to by sinking, tilting or passing, degrees. */
const below = 15;
const above = 25;

/** Takes of a piece what the light judge looks at; undefined where nothing of it faces the head. */
export function fittedPiece(
  piece: WornPiece,
  head: WornHead,
  inner: InnerSurface,
  off: MotionOff | undefined,
): FittedPiece | undefined {
  if (inner.count === 0) return undefined;
  const { felt, asked } = feltPoints(piece, head);
  const rings = girthRings(piece, head, inner).map((samples) => pointsAt(piece, head, samples));
  const sum = [0, 0, 0];
  const passing: number[] = [];
  let [from, to] = [90, -90];
  const girthHeight = head.form.center[2];
  const [sideFrom, sideTo] = earSides;
  let isNearEars = false;
  for (let i = 0; i < felt.count; i++) {
    const [x, y, z] = felt.positions.subarray(3 * i, 3 * i + 3);
    sum[0] += x;
    sum[1] += y;
    sum[2] += z;
    if (z < girthHeight + overGirth) passing.push(i);
    const { azimuth, elevation } = head.directionOf([x, y, z]);
    const side = Math.abs(azimuth);
    if (side > sideFrom && side < sideTo && z < girthHeight - overEars) isNearEars = true;
    from = Math.min(from, elevation);
    to = Math.max(to, elevation);
  }
  const middle: Vec3 = [sum[0] / felt.count, sum[1] / felt.count, sum[2] / felt.count];
  return {
    felt,
    asked,
    rings,
    passing,
    off: wayOffSteps(off),
    middle,
    isNearEars,
    toCentre: subtract(piece.centre, middle),
    elevations: [Math.max(-60, from - below), Math.min(90, to + above)],
  };
}
