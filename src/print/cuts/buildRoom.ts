import { convexOutline, enclosingCircle, roomInRectangle } from "../../checks/plate/footprint";
import type { Printer } from "../../checks/printer";
import { normalize, type Vec3 } from "../../geometry/vector";

/** Which printer, as far as room is asked about. */
export type BuildVolume = Pick<Printer, "plate" | "height">;

/** How much room a set of points has in a build volume at the best of the directions tried. */
export interface Room {
  /** The least that is left on any measure, mm; negative where it is too large. */
  readonly room: number;
  /** By how much it is too large, in build volumes, over all measures: 0 where it fits. */
  readonly excess: number;
  readonly up: Vec3;
}

const degree = Math.PI / 180;

/** Directions over the upper half of the sphere, the axes first, then a spiral by the golden angle. */
const spread = (count: number): readonly Vec3[] => [
  [0, 0, 1],
  [1, 0, 0],
  [0, 1, 0],
  ...Array.from({ length: count }, (_, i): Vec3 => {
    const z = 1 - (i + 0.5) / count;
    const across = Math.sqrt(1 - z * z);
    const azimuth = i * Math.PI * (3 - Math.sqrt(5));
    return [across * Math.cos(azimuth), across * Math.sin(azimuth), z];
  }),
];
const directions = spread(80);

/**
 * Whether points fit a build volume, quickly: a grid of directions, then a climb from the best of them; the turn is
 * exact. What it calls fitting does fit; what it calls too large by a hair may still fit (see `plateFit`).
 */
export function quickRoom(points: ArrayLike<number>, volume: BuildVolume): Room {
  const count = points.length / 3;
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  const at = (up: Vec3): Room => roomAt(points, volume, up, x, y);
  const rated: Room[] = [];
  for (const up of directions) {
    const here = at(up);
    if (here.room >= 0) return here;
    rated.push(here);
  }
  const least = [...rated].sort((a, b) => a.excess - b.excess).slice(0, 3);
  rated.sort((a, b) => b.room - a.room);
  let best = rated[0];
  for (const start of new Set([...rated.slice(0, 3), ...least])) {
    let here = start;
    let turn = 0;
    for (let step = 6 * degree; step > 0.4 * degree; ) {
      turn += 0.4;
      const next = ring(here.up, step, turn)
        .map(at)
        .reduce((a, b) => (b.room > a.room ? b : a));
      if (next.room >= 0) return next;
      if (next.room > here.room) here = next;
      else step /= 2;
    }
    if (here.room > best.room) best = here;
  }
  return best;
}

/** Six directions about one. */
function ring(up: Vec3, step: number, turn: number): Vec3[] {
  const side: Vec3 = Math.abs(up[2]) < 0.9 ? normalize([-up[1], up[0], 0]) : normalize([0, -up[2], up[1]]);
  const other: Vec3 = [
    up[1] * side[2] - up[2] * side[1],
    up[2] * side[0] - up[0] * side[2],
    up[0] * side[1] - up[1] * side[0],
  ];
  return Array.from({ length: 6 }, (_, k) => {
    const angle = (k * Math.PI) / 3 + turn;
    const [c, s] = [step * Math.cos(angle), step * Math.sin(angle)];
    return normalize([
      up[0] + c * side[0] + s * other[0],
      up[1] + c * side[1] + s * other[1],
      up[2] + c * side[2] + s * other[2],
    ]);
  });
}

function roomAt(
  points: ArrayLike<number>,
  { plate, height }: BuildVolume,
  direction: Vec3,
  x: Float64Array,
  y: Float64Array,
): Room {
  const up: Vec3 = direction[2] < 0 ? [-direction[0], -direction[1], -direction[2]] : direction;
  const [ux, uy, uz] = up;
  const k = 1 / (1 + uz);
  const [a, b, c, d] = [1 - ux * ux * k, -ux * uy * k, -ux, 1 - uy * uy * k];
  let bottom = Infinity;
  let top = -Infinity;
  for (let i = 0; i < x.length; i++) {
    const px = points[3 * i];
    const py = points[3 * i + 1];
    const pz = points[3 * i + 2];
    x[i] = a * px + b * py + c * pz;
    y[i] = b * px + d * py - uy * pz;
    const z = ux * px + uy * py + uz * pz;
    if (z < bottom) bottom = z;
    if (z > top) top = z;
  }
  const above = height - (top - bottom);
  const outline = convexOutline(x, y);
  if (plate.shape === "round") {
    const left = plate.diameter - enclosingCircle(outline).diameter;
    const excess = Math.max(0, -above / height) + 2 * Math.max(0, -left / plate.diameter);
    return { room: Math.min(above, left), excess, up };
  }
  const { room: left, turn } = roomInRectangle(outline, plate.width, plate.depth);
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const extent = (p: number, q: number) => {
    let [least, most] = [Infinity, -Infinity];
    for (let i = 0; i < outline.x.length; i++) {
      const along = p * outline.x[i] + q * outline.y[i];
      if (along < least) least = along;
      if (along > most) most = along;
    }
    return most - least;
  };
  const excess =
    Math.max(0, -above / height) +
    Math.max(0, extent(cos, -sin) / plate.width - 1) +
    Math.max(0, extent(sin, cos) / plate.depth - 1);
  return { room: Math.min(above, left), excess, up };
}
