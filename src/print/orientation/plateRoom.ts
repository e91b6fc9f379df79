import { convexOutline, enclosingCircle, roomInRectangle } from "../../checks/plate/footprint";
import { exactFit } from "../../checks/plateFit";
import type { Printer } from "../../checks/printer";
import type { Vec3 } from "../../geometry/vector";
import type { Orientation } from "../../orientation";
import { orientationOfUp, rotationOf } from "../placedPiece";

export interface PlateRoom {
  /** The least that is left of the build volume's measures, mm; negative where the piece is too large. */
  readonly room: number;
  /** Turn about the vertical that gives it, degrees: 0 where it fits unturned. */
  readonly turn: number;
  readonly fits: boolean;
}

/**
 * How points (x, y, z in turn, mm) lie in a build volume with `up` on top: unturned where they fit so, else turned to the
 * most room.
 */
export function plateRoom(
  points: ArrayLike<number>,
  up: Vec3,
  { plate, height }: Pick<Printer, "plate" | "height">,
): PlateRoom {
  const { x, y, rise } = layOut(points, orientationOfUp(up));
  const above = height - rise;
  if (plate.shape === "round") {
    const room = Math.min(above, plate.diameter - enclosingCircle(convexOutline(x, y)).diameter);
    return { room, turn: 0, fits: room >= exactFit };
  }
  const unturned = Math.min(plate.width - extent(x), plate.depth - extent(y));
  if (Math.min(above, unturned) >= exactFit) return { room: Math.min(above, unturned), turn: 0, fits: true };
  const turned = roomInRectangle(convexOutline(x, y), plate.width, plate.depth);
  const room = Math.min(above, turned.room);
  const degrees = (turned.turn * 180) / Math.PI;
  return { room, turn: degrees - 360 * Math.round(degrees / 360), fits: room >= exactFit };
}

/** The room at one orientation, its turn as given, mm; negative where the piece is too large. */
export function roomAt(
  points: ArrayLike<number>,
  orientation: Orientation,
  { plate, height }: Pick<Printer, "plate" | "height">,
): number {
  const { x, y, rise } = layOut(points, orientation);
  const above = height - rise;
  if (plate.shape === "round") {
    return Math.min(above, plate.diameter - enclosingCircle(convexOutline(x, y)).diameter);
  }
  return Math.min(above, plate.width - extent(x), plate.depth - extent(y));
}

/**
 * The least that is left of the measures of an upright tube, its axis through a point of the piece, with `up` on top, mm: less than
 * of the narrowest tube, without a search for its axis.
 */
export function roomInTube(
  points: ArrayLike<number>,
  [x, y, z]: Vec3,
  [mx, my, mz]: Vec3,
  diameter: number,
  height: number,
): number {
  let [bottom, top, farthest] = [Infinity, -Infinity, 0];
  for (let i = 0; i < points.length; i += 3) {
    const px = points[i] - mx;
    const py = points[i + 1] - my;
    const pz = points[i + 2] - mz;
    const rise = px * x + py * y + pz * z;
    const square = px * px + py * py + pz * pz - rise * rise;
    if (rise < bottom) bottom = rise;
    if (rise > top) top = rise;
    if (square > farthest) farthest = square;
  }
  return Math.min(height - (top - bottom), diameter - 2 * Math.sqrt(farthest));
}

function layOut(points: ArrayLike<number>, orientation: Orientation) {
  const r = rotationOf(orientation);
  const count = points.length / 3;
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  let [bottom, top] = [Infinity, -Infinity];
  for (let i = 0; i < count; i++) {
    const [px, py, pz] = [points[3 * i], points[3 * i + 1], points[3 * i + 2]];
    x[i] = r[0] * px + r[1] * py + r[2] * pz;
    y[i] = r[3] * px + r[4] * py + r[5] * pz;
    const z = r[6] * px + r[7] * py + r[8] * pz;
    if (z < bottom) bottom = z;
    if (z > top) top = z;
  }
  return { x, y, rise: top - bottom };
}

function extent(values: Float64Array): number {
  let [least, most] = [Infinity, -Infinity];
  for (let i = 0; i < values.length; i++) {
    if (values[i] < least) least = values[i];
    if (values[i] > most) most = values[i];
  }
  return most - least;
}
