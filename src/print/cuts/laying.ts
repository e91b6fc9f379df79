import { plateFit } from "../../checks/plateFit";
import type { PartMesh } from "../../geometry/mesh";
import { scale, type Vec3 } from "../../geometry/vector";
import type { Orientation } from "../../orientation";
import { orientationOfUp } from "../placedPiece";
import type { BuildVolume } from "./buildRoom";
import type { CutFaceSide } from "./cutFaceSides";

/** How a piece is laid on a plate. */
export interface Laying {
  readonly orientation: Orientation;
  /** From the head frame to the plate's, three rows of three. */
  readonly rotation: readonly number[];
  readonly fits: boolean;
  readonly size: Vec3;
}

/** A piece stands on its cut face where that is so much of the area under it. */
const standsOn = 0.35;

/**
 * Which way up a piece is printed: on a cut face without a peg, where that is broad and it fits so; else as `plateFit`
 * lays it, the least tilt that fits.
 */
export function layingOf(mesh: PartMesh, faces: readonly CutFaceSide[], volume: BuildVolume): Laying {
  const broadest = faces.reduce<CutFaceSide | undefined>(
    (a, b) => (!a || b.area > a.area ? b : a),
    undefined,
  );
  if (broadest) {
    const up = scale(broadest.outward, -1);
    const level = uprighting(up);
    const points = turned(mesh.positions, level);
    const fit = upright(points, volume);
    if (fit && broadest.area > standsOn * fit.size[0] * fit.size[1]) {
      const rotation = product(fit.rotation, level);
      return { orientation: orientationOf(rotation), rotation, fits: true, size: fit.size };
    }
  }
  const fit = plateFit(mesh.positions, volume);
  return { orientation: orientationOf(fit.rotation), rotation: fit.rotation, fits: fit.fits, size: fit.size };
}

/** The rotation about a level axis that makes a unit vector look up (Rodrigues' formula); rows. */
function uprighting([x, y, z]: Vec3): number[] {
  // Straight down: half a turn about the x axis.
  if (z < -1 + 1e-9) return [1, 0, 0, 0, -1, 0, 0, 0, -1];
  const k = 1 / (1 + z);
  return [1 - x * x * k, -x * y * k, -x, -x * y * k, 1 - y * y * k, -y, x, y, z];
}

function product(a: readonly number[], b: readonly number[]): number[] {
  return Array.from({ length: 9 }, (_, i) => {
    const [row, column] = [Math.floor(i / 3), i % 3];
    return a[3 * row] * b[column] + a[3 * row + 1] * b[3 + column] + a[3 * row + 2] * b[6 + column];
  });
}

/** The orientation of a rotation, three rows of three: what looks up by its last row, and the turn after. */
export function orientationOf(rotation: readonly number[]): Orientation {
  const up: Vec3 = [rotation[6], rotation[7], rotation[8]];
  const base = uprighting(up);
  // rotation = turn · base: the first column of rotation · baseᵀ.
  const first = (r: number) =>
    rotation[3 * r] * base[0] + rotation[3 * r + 1] * base[1] + rotation[3 * r + 2] * base[2];
  return orientationOfUp(up, (Math.atan2(first(1), first(0)) * 180) / Math.PI);
}

function upright(points: Float32Array, volume: BuildVolume) {
  const fit = plateFit(points, { ...volume });
  return fit.fits && fit.tilt < 1e-6 ? fit : undefined;
}

/** Points turned by a rotation. */
export function turned(positions: Float32Array, r: readonly number[]): Float32Array {
  const out = new Float32Array(positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    const [x, y, z] = [positions[i], positions[i + 1], positions[i + 2]];
    for (let row = 0; row < 3; row++) out[i + row] = r[3 * row] * x + r[3 * row + 1] * y + r[3 * row + 2] * z;
  }
  return out;
}
