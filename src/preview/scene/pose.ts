import type { CameraState, StandardView } from "../pieceView";
import { along, type Vector } from "./vector";

/**
 * Where the camera stands, as a turntable: it goes round the vertical and up to straight above or below, so that the
 * piece never leans or flips in the picture.
 */
export interface Pose {
  /** Degrees about the vertical: 0 before the wearer, 90 on her right, −90 on her left. */
  readonly azimuth: number;
  /** Degrees over the level, −90 to 90. */
  readonly elevation: number;
  readonly target: Vector;
  /** Height of what is seen at the target, mm. */
  readonly span: number;
}

/** Opening angle of the perspective picture from its lower to its upper edge, degrees: a calm, long lens. */
export const openingAngle = 26;

/** Spans that can be looked at, mm: from a tip to a stage. */
export const leastSpan = 2;
export const mostSpan = 20_000;

const radians = Math.PI / 180;

/** From the target to the camera, and the picture's up and right. */
export function axesOf({ azimuth, elevation }: Pick<Pose, "azimuth" | "elevation">): {
  readonly direction: Vector;
  readonly up: Vector;
  readonly right: Vector;
} {
  const [sa, ca] = [Math.sin(azimuth * radians), Math.cos(azimuth * radians)];
  const [se, ce] = [Math.sin(elevation * radians), Math.cos(elevation * radians)];
  return { direction: [ce * sa, ce * ca, se], up: [-se * sa, -se * ca, ce], right: [-ca, sa, 0] };
}

/** Distance from which the perspective picture is `span` high at the target, mm. */
export const distanceFor = (span: number): number => span / 2 / Math.tan((openingAngle / 2) * radians);

export function stateOf(pose: Pose): CameraState {
  const { direction, up } = axesOf(pose);
  return { target: pose.target, direction, up, span: pose.span };
}

/** The nearest pose of the turntable. Throws a RangeError where a number is missing or the span is not above 0. */
export function poseOf({ target, direction, up, span }: CameraState): Pose {
  const length = Math.hypot(...direction);
  if (![...target, ...up].every(Number.isFinite) || !(length > 0) || !(span > 0 && span < Infinity)) {
    throw new RangeError("the camera needs a target, a direction and a span above 0");
  }
  const sine = Math.max(-1, Math.min(1, direction[2] / length));
  const isAtPole = Math.abs(sine) > 1 - 1e-9;
  const sign = -Math.sign(sine);
  const azimuth = isAtPole ? Math.atan2(sign * up[0], sign * up[1]) : Math.atan2(direction[0], direction[1]);
  return {
    azimuth: azimuth / radians,
    elevation: Math.asin(sine) / radians,
    target,
    span: clampSpan(span),
  };
}

/** Degrees to the right about the vertical and up over it, as the camera moves; it stops at the poles. */
export const orbited = (pose: Pose, right: number, up: number): Pose => ({
  ...pose,
  azimuth: wrapped(pose.azimuth - right),
  elevation: Math.max(-90, Math.min(90, pose.elevation + up)),
});

/** Shares of the picture's height, as the camera moves. */
export function panned(pose: Pose, right: number, up: number): Pose {
  const axes = axesOf(pose);
  const target = along(along(pose.target, axes.right, right * pose.span), axes.up, up * pose.span);
  return { ...pose, target };
}

/**
 * Comes nearer by a factor above 1, further by one below. What lies at the target's depth under the point (x to the
 * right, y up from the picture's middle, shares of its height) stays where it is.
 */
export function zoomed(pose: Pose, factor: number, x = 0, y = 0): Pose {
  const span = clampSpan(pose.span / factor);
  const moved = panned(pose, x * (1 - span / pose.span), y * (1 - span / pose.span));
  return { ...moved, span };
}

/** The way from one pose to another; `share` 0 to 1. Turns the short way round; the span changes by ratio. */
export function between(from: Pose, to: Pose, share: number): Pose {
  const mix = (a: number, b: number) => a + share * (b - a);
  return {
    azimuth: wrapped(from.azimuth + share * wrapped(to.azimuth - from.azimuth)),
    elevation: mix(from.elevation, to.elevation),
    target: [
      mix(from.target[0], to.target[0]),
      mix(from.target[1], to.target[1]),
      mix(from.target[2], to.target[2]),
    ],
    span: from.span * (to.span / from.span) ** share,
  };
}

/** The pose from which a piece is first seen: from before and above, on the wearer's left. */
export const firstLook = { azimuth: -34, elevation: 17 };

/** The pose from which the plate is first seen: from before the printer and above, on its left. */
export const firstPlateLook = { azimuth: -146, elevation: 24 };

/** Where a view of the plate is seen from: its back lies along y, so front is on the other side than a wearer's. */
export function plateLookFrom(view: StandardView): Pick<Pose, "azimuth" | "elevation"> {
  const facing: StandardView = view === "front" ? "back" : view === "back" ? "front" : view;
  // From above, too, its front lies below in the picture.
  return view === "top" ? { azimuth: 180, elevation: 90 } : lookFrom(facing);
}

/** Where a view is seen from. Left and right are the wearer's. `plateUp`: the plate's normal, head frame. */
export function lookFrom(
  view: StandardView,
  plateUp: Vector = [0, 0, 1],
): Pick<Pose, "azimuth" | "elevation"> {
  switch (view) {
    case "front":
      return { azimuth: 0, elevation: 0 };
    case "back":
      return { azimuth: 180, elevation: 0 };
    case "left":
      return { azimuth: -90, elevation: 0 };
    case "right":
      return { azimuth: 90, elevation: 0 };
    case "top":
      return { azimuth: 0, elevation: 90 };
    case "plate": {
      const direction: Vector = [-plateUp[0], -plateUp[1], -plateUp[2]];
      const { azimuth, elevation } = poseOf({ target: [0, 0, 0], direction, up: [0, 1, 0], span: 1 });
      return { azimuth, elevation };
    }
  }
}

const wrapped = (degrees: number): number => {
  const turned = (((degrees + 180) % 360) + 360) % 360;
  return turned === 0 ? 180 : turned - 180;
};

const clampSpan = (span: number): number => Math.max(leastSpan, Math.min(mostSpan, span));
