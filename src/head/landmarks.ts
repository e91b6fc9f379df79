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

/** Where on the surface two of a point's coordinates are met, on the given side of the head. */
const seek = (
  surface: RadialSurface,
  start: HeadDirection,
  miss: (x: number, y: number, z: number) => readonly [across: number, up: number],
): HeadDirection => {
  const sample = emptySample();
  let azimuth = (start.azimuth * Math.PI) / 180;
  let elevation = (start.elevation * Math.PI) / 180;
  for (let k = 0; k < 60; k++) {
    const s = surface.evaluate(azimuth, elevation, sample);
    const [across, up] = miss(s.x, s.y, s.z);
    if (Math.abs(across) + Math.abs(up) < 1e-7) break;
    azimuth += (0.8 * across) / s.radius;
    elevation += (0.8 * up) / s.radius;
  }
  return { azimuth: degrees(azimuth), elevation: degrees(elevation) };
};

const mirrored = (place: HeadDirection): HeadDirection => ({ ...place, azimuth: -place.azimuth });

/** Azimuth and elevation of a landmark on a bare head. */
export const landmarkDirection = (surface: RadialSurface, name: Landmark, m: Measurements): HeadDirection => {
  // Heights on the midline in shares of the height from tragion to crown (129 mm on the average head).
  const unit = m.crownHeight / 129;
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
    case "rightTemple":
      return seek(surface, { azimuth: 62, elevation: -5 }, (_x, y, z) => [y - 38 * unit, 34 * unit - z]);
    case "rightTragion":
      return seek(surface, { azimuth: 88, elevation: -28 }, (_x, y, z) => [y, -z]);
    case "rightEye":
      return seek(surface, { azimuth: 18, elevation: -15 }, (x, _y, z) => [
        (m.interpupillaryDistance ?? 63.3) / 2 - x,
        12 * unit - z,
      ]);
    case "leftTemple":
      return mirrored(landmarkDirection(surface, "rightTemple", m));
    case "leftTragion":
      return mirrored(landmarkDirection(surface, "rightTragion", m));
    case "leftEye":
      return mirrored(landmarkDirection(surface, "rightEye", m));
  }
};
