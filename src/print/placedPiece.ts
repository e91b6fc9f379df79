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

/**
 * Lays a piece on the plate: turned, standing on it, in its middle.
 * @param outer Points, x, y, z in turn, among which the corners of the mesh's convex hull are (see `outerVertices`): whoever lays
 * one piece many times finds them once. All vertices unless given.
 */
export function placedPiece(
  mesh: PartMesh,
  orientation: Orientation,
  plate: Plate,
  outer: ArrayLike<number> = mesh.positions,
): PlacedPiece {
  const rotation = rotationOf(orientation);
  const { shift, size } = restingOn(plate, outer, rotation);
  const positions = movedPositions(mesh.positions, { rotation, shift });
  return { mesh: { ...mesh, positions }, rotation, shift, size };
}

/** How points are moved: p goes to rotation · p + shift. */
type Placing = Pick<PlacedPiece, "rotation" | "shift">;

/** Points of the head frame, x, y, z in turn, in the plate's frame. */
export function movedPositions(p: ArrayLike<number>, { rotation, shift }: Placing): Float32Array {
  const [xx, xy, xz, yx, yy, yz, zx, zy, zz] = rotation;
  const [dx, dy, dz] = shift;
  const positions = new Float32Array(p.length);
  for (let i = 0; i < p.length; i += 3) {
    const x = p[i];
    const y = p[i + 1];
    const z = p[i + 2];
    positions[i] = xx * x + xy * y + xz * z + dx;
    positions[i + 1] = yx * x + yy * y + yz * z + dy;
    positions[i + 2] = zx * x + zy * y + zz * z + dz;
  }
  return positions;
}

/** What takes turned points to the plate, standing on it in its middle, and their extents. */
export function restingOn(
  plate: Plate,
  points: ArrayLike<number>,
  [xx, xy, xz, yx, yy, yz, zx, zy, zz]: readonly number[],
): { readonly shift: Vec3; readonly size: Vec3 } {
  const count = points.length / 3;
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  let [left, right, front, back, bottom, top] = [
    Infinity,
    -Infinity,
    Infinity,
    -Infinity,
    Infinity,
    -Infinity,
  ];
  for (let i = 0; i < count; i++) {
    const px = points[3 * i];
    const py = points[3 * i + 1];
    const pz = points[3 * i + 2];
    const tx = xx * px + xy * py + xz * pz;
    const ty = yx * px + yy * py + yz * pz;
    const tz = zx * px + zy * py + zz * pz;
    x[i] = tx;
    y[i] = ty;
    if (tx < left) left = tx;
    if (tx > right) right = tx;
    if (ty < front) front = ty;
    if (ty > back) back = ty;
    if (tz < bottom) bottom = tz;
    if (tz > top) top = tz;
  }
  const [middleX, middleY] =
    plate.shape === "round"
      ? enclosingCircle(convexOutline(x, y)).centre
      : [(left + right) / 2, (front + back) / 2];
  return { shift: [-middleX, -middleY, -bottom], size: [right - left, back - front, top - bottom] };
}

/** A point of the plate's frame in the head frame. */
export function toHeadFrame({ rotation, shift }: Placing, point: Vec3): Vec3 {
  const p = [point[0] - shift[0], point[1] - shift[1], point[2] - shift[2]];
  const back = (axis: number) =>
    rotation[axis] * p[0] + rotation[3 + axis] * p[1] + rotation[6 + axis] * p[2];
  return [back(0), back(1), back(2)];
}

/** From the plate's frame to the head frame, as 16 numbers, column by column. */
export function headMatrix(placing: Placing): number[] {
  const { rotation: r } = placing;
  // The transpose of a rotation is its inverse.
  const columns = [0, 3, 6].flatMap((row) => [r[row], r[row + 1], r[row + 2], 0]);
  return [...columns, ...toHeadFrame(placing, [0, 0, 0]), 1];
}
