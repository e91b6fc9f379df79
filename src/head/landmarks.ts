import { degrees } from "../geometry/vector";
import type { HeadDirection } from "./coordinates";
import type { Measurements } from "./measurements";
import { emptySample, type RadialSurface } from "./radialSurface";

/**
 * Named points of the head. `crown` is the vertex, `brow` the glabella, `back` the opisthocranion, `sellion` the
 * root of the nose, `chin` the menton; left and right are the wearer's.
 */
export const LANDMARKS = [
  "crown",
  "brow",
  "back",
  "nape",
  "leftTemple",
  "rightTemple",
  "leftTragion",
  "rightTragion",
  "sellion",
  "noseTip",
  "chin",
  "leftEye",
  "rightEye",
] as const;
export type Landmark = (typeof LANDMARKS)[number];

/**
 * Where on the surface two of a point's coordinates are met: on the right, or, with −1 for a side, on the left, as if
 * that were the right. On a scan's rough surface, which may have no such point, it is the nearest that was met.
 */
const seek = (
  surface: RadialSurface,
  start: HeadDirection,
  miss: (x: number, y: number, z: number) => readonly [across: number, up: number],
  side: 1 | -1 = 1,
): HeadDirection => {
  const sample = emptySample();
  let azimuth = (start.azimuth * Math.PI) / 180;
  let elevation = (start.elevation * Math.PI) / 180;
  let least = Number.POSITIVE_INFINITY;
  let [nearAzimuth, nearElevation] = [azimuth, elevation];
  for (let k = 0; k < 60; k++) {
    const s = surface.evaluate(side * azimuth, elevation, sample);
    const [across, up] = miss(side * s.x, s.y, s.z);
    const missed = Math.abs(across) + Math.abs(up);
    if (missed < least) {
      least = missed;
      nearAzimuth = azimuth;
      nearElevation = elevation;
    }
    if (missed < 1e-7) break;
    azimuth += (0.8 * across) / s.radius;
    elevation += (0.8 * up) / s.radius;
  }
  if (surface.data.whole) [azimuth, elevation] = [nearAzimuth, nearElevation];
  return { azimuth: side * degrees(azimuth), elevation: degrees(elevation) };
};

/** Azimuth and elevation of a landmark on a bare head. */
export const landmarkDirection = (surface: RadialSurface, name: Landmark, m: Measurements): HeadDirection => {
  // Heights on the midline in shares of the height from tragion to crown (129 mm on the average head).
  const unit = m.crownHeight / 129;
  const side = name.startsWith("left") ? -1 : 1;
  const midline = (azimuth: number, elevation: number, z: number): HeadDirection =>
    seek(surface, { azimuth, elevation }, (_x, _y, pz) => [0, z * unit - pz]);
  switch (name) {
    case "crown":
      return { azimuth: 0, elevation: 90 };
    case "brow":
      return { azimuth: 0, elevation: 0 };
    case "back":
      return { azimuth: 180, elevation: 0 };
    case "nape":
      return midline(180, -50, -72);
    case "sellion":
      return midline(0, -9, 25);
    case "noseTip":
      return midline(0, -25, -16);
    case "chin":
      return midline(0, -54, -88);
    case "leftTemple":
    case "rightTemple":
      return seek(
        surface,
        { azimuth: 62, elevation: -5 },
        (_x, y, z) => [y - 38 * unit, 34 * unit - z],
        side,
      );
    case "leftTragion":
    case "rightTragion":
      return seek(surface, { azimuth: 88, elevation: -28 }, (_x, y, z) => [y, -z], side);
    case "leftEye":
    case "rightEye":
      return seek(
        surface,
        { azimuth: 18, elevation: -15 },
        (x, _y, z) => [(m.interpupillaryDistance ?? 63.3) / 2 - x, 12 * unit - z],
        side,
      );
  }
};
