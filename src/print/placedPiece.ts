import { convexOutline, enclosingCircle } from "../checks/plate/footprint";
import type { Plate } from "../checks/printer";
import type { PartMesh } from "../geometry/mesh";
import type { Vec3 } from "../geometry/vector";
import type { Orientation } from "../orientation";

/**
 * A piece as it is printed, in the plate's frame: origin at the plate's middle, x to the right, y to the back, z up,
 * its lowest point at 0.
 */
export interface PlacedPiece {
  readonly mesh: PartMesh;
  /** From the head frame to the plate's: three rows of three. A point p goes to rotation · p + shift. */
  readonly rotation: readonly number[];
  readonly shift: Vec3;
  /** Extents along x, y and z, mm. */
  readonly size: Vec3;
}

const degree = Math.PI / 180;

/** The direction of the piece, a unit vector in the head frame, that looks up when it is printed. */
export function upOf({ tilt, towards }: Pick<Orientation, "tilt" | "towards">): Vec3 {
  const across = Math.sin(tilt * degree);
  return [across * Math.sin(towards * degree), across * Math.cos(towards * degree), Math.cos(tilt * degree)];
}

/** The orientation in which a direction of the head frame looks up. */
export function orientationOfUp([x, y, z]: Vec3, turn = 0): Orientation {
  const across = Math.hypot(x, y);
  const tilt = Math.atan2(across, z) / degree;
  const towards = across > 1e-9 ? Math.atan2(x, y) / degree : 0;
  return { tilt, towards, turn };
}

/**
 * The rotation from the head frame to the plate's, three rows of three: about the level axis across `towards` until that
 * side looks up by `tilt`, then by `turn` about the vertical (Rodrigues' formula).
 */
export function rotationOf({ tilt, towards, turn }: Orientation): number[] {
  const [ax, ay] = [Math.cos(towards * degree), -Math.sin(towards * degree)];
  const [c, s] = [Math.cos(tilt * degree), Math.sin(tilt * degree)];
  const k = 1 - c;
  // About (ax, ay, 0) by the tilt: `upOf` goes to (0, 0, 1).
  const r = [c + k * ax * ax, k * ax * ay, s * ay, k * ax * ay, c + k * ay * ay, -s * ax, -s * ay, s * ax, c];
  const [ct, st] = [Math.cos(turn * degree), Math.sin(turn * degree)];
  return [
    ct * r[0] - st * r[3],
    ct * r[1] - st * r[4],
    ct * r[2] - st * r[5],
    st * r[0] + ct * r[3],
    st * r[1] + ct * r[4],
    st * r[2] + ct * r[5],
    r[6],
    r[7],
    r[8],
  ];
}

/** Lays a piece on the plate: turned, standing on it, in its middle. */
export function placedPiece(mesh: PartMesh, orientation: Orientation, plate: Plate): PlacedPiece {
  const rotation = rotationOf(orientation);
  const count = mesh.positions.length / 3;
  const turned = new Float64Array(3 * count);
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  const least = [Infinity, Infinity, Infinity];
  const most = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < count; i++) {
    for (let row = 0; row < 3; row++) {
      const value =
        rotation[3 * row] * mesh.positions[3 * i] +
        rotation[3 * row + 1] * mesh.positions[3 * i + 1] +
        rotation[3 * row + 2] * mesh.positions[3 * i + 2];
      turned[3 * i + row] = value;
      least[row] = Math.min(least[row], value);
      most[row] = Math.max(most[row], value);
    }
    x[i] = turned[3 * i];
    y[i] = turned[3 * i + 1];
  }
  const [middleX, middleY] =
    plate.shape === "round"
      ? enclosingCircle(convexOutline(x, y)).centre
      : [(least[0] + most[0]) / 2, (least[1] + most[1]) / 2];
  const shift: Vec3 = [-middleX, -middleY, -least[2]];
  const positions = new Float32Array(3 * count);
  for (let i = 0; i < 3 * count; i++) positions[i] = turned[i] + shift[i % 3];
  return {
    mesh: { ...mesh, positions },
    rotation,
    shift,
    size: [most[0] - least[0], most[1] - least[1], most[2] - least[2]],
  };
}

/** A point of the plate's frame in the head frame. */
export function toHeadFrame({ rotation, shift }: Pick<PlacedPiece, "rotation" | "shift">, point: Vec3): Vec3 {
  const p = [point[0] - shift[0], point[1] - shift[1], point[2] - shift[2]];
  const back = (axis: number) =>
    rotation[axis] * p[0] + rotation[3 + axis] * p[1] + rotation[6 + axis] * p[2];
  return [back(0), back(1), back(2)];
}
