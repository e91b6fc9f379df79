import { plateFit } from "../../checks/plateFit";
import type { PartMesh } from "../../geometry/mesh";
import { scale, type Vec3 } from "../../geometry/vector";
import type { Orientation } from "../../orientation";
import { orientationOfUp, rotationOf } from "../placedPiece";
import type { BuildVolume } from "./buildRoom";
import type { CutFaceSide } from "./cutFaceSides";

/** How a piece is laid on a plate. */
export interface Laying {
  readonly orientation: Orientation;
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
    const level = rotationOf(orientationOfUp(up));
    const points = turned(mesh.positions, level);
    const fit = upright(points, volume);
    if (fit && broadest.area > standsOn * fit.size[0] * fit.size[1]) {
      return { orientation: orientationOfUp(up, fit.turn), fits: true, size: fit.size };
    }
  }
  const fit = plateFit(mesh.positions, volume);
  return { orientation: orientationOf(fit.rotation), fits: fit.fits, size: fit.size };
}

/** The orientation of a rotation, three rows of three. */
export function orientationOf(rotation: readonly number[]): Orientation {
  const level = orientationOfUp([rotation[6], rotation[7], rotation[8]]);
  const base = rotationOf(level);
  // rotation = turn · base: the first column of rotation · baseᵀ.
  const row = (r: number) =>
    rotation[3 * r] * base[0] + rotation[3 * r + 1] * base[1] + rotation[3 * r + 2] * base[2];
  return { ...level, turn: (Math.atan2(row(1), row(0)) * 180) / Math.PI };
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
