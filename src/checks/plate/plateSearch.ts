import { normalize, type Vec3 } from "../../geometry/vector";

/**
 * Searches over the up direction at which a piece is printed. `room` tells how much room a direction leaves, mm; where it
 * is surely less than `floor`, any bound that says so will do. Turning the piece by one radian changes room by at most `reach`, the piece's greatest extent, so that a direction that
 * lacks x mm rules out all directions within x / reach radians. A direction and its opposite leave the same
 * room: half of the sphere is enough, and no tilt above 90° is ever needed.
 */
export type Room = (up: Vec3, floor: number) => number;

const degree = Math.PI / 180;

/** Directions spread evenly over the upper half of the sphere (a spiral by the golden angle), some 6° apart. */
const spiral: readonly Vec3[] = Array.from({ length: 500 }, (_, i) => {
  const z = 1 - (i + 0.5) / 500;
  const across = Math.sqrt(1 - z * z);
  const azimuth = i * Math.PI * (3 - Math.sqrt(5));
  return [across * Math.cos(azimuth), across * Math.sin(azimuth), z];
});

/** Lying on a side comes first: of designs made of upright boxes the exact fits are found exactly. */
const grid: readonly Vec3[] = [[1, 0, 0], [0, 1, 0], ...spiral];

/** No direction lies farther than this from one of the grid. */
const gridGap = 5 * degree;

/** The most room over all directions, and the directions worth a look, the one with most room first. */
export function mostRoom(room: Room, reach: number): { room: number; directions: readonly Vec3[] } {
  let best = -Infinity;
  const rated = grid.map((up) => {
    // Farther down, not even the steepest slope reaches the best within the gap.
    const here = room(up, Math.min(best, 0) - reach * gridGap);
    best = Math.max(best, here);
    return { up, room: here };
  });
  rated.sort((a, b) => b.room - a.room);
  const climbed: { up: Vec3; room: number }[] = [];
  const tops: Vec3[] = [];
  for (const start of rated) {
    if (start.room < best - reach * gridGap || tops.length === 5) break;
    if (tops.some((top) => angleBetween(top, start.up) < 3 * gridGap)) continue;
    tops.push(start.up);
    climbed.push(climb(room, start.up, start.room));
  }
  const feasible = rated.filter((one) => one.room >= 0);
  const all = [...climbed, ...feasible].sort((a, b) => b.room - a.room);
  return { room: all[0].room, directions: all.map((one) => one.up) };
}

/** Steps to the best of eight neighbours while that gains, else halves the step and turns the eight. */
function climb(
  room: Room,
  start: Vec3,
  startRoom: number,
  firstStep = 3 * degree,
): { up: Vec3; room: number } {
  let up = start;
  let here = startRoom;
  let turned = 0;
  for (let step = firstStep; step > 0.002 * degree; ) {
    let better: Vec3 | undefined;
    for (let k = 0; k < 8; k++) {
      const there = stepFrom(up, (k * Math.PI) / 4 + turned, step);
      const value = room(there, here);
      if (value > here + 1e-9) {
        here = value;
        better = there;
      }
    }
    if (better === undefined) {
      step *= 0.6;
      // Narrow ridges run in any direction: other bearings get along those that the last eight did not.
      turned += 0.3;
    } else {
      up = better;
    }
  }
  return { up, room: here };
}

/** The direction reached from `up` by an angle `step` towards `bearing`, in the upper half. */
function stepFrom(up: Vec3, bearing: number, step: number): Vec3 {
  const k = 1 / (1 + up[2]);
  const c = Math.cos(bearing) * Math.sin(step);
  const s = Math.sin(bearing) * Math.sin(step);
  const d = Math.cos(step);
  const there: Vec3 = normalize([
    up[0] * d + c * (1 - up[0] * up[0] * k) - s * up[0] * up[1] * k,
    up[1] * d - c * up[0] * up[1] * k + s * (1 - up[1] * up[1] * k),
    up[2] * d - c * up[0] - s * up[1],
  ]);
  return there[2] < 0 ? [-there[0], -there[1], -there[2]] : there;
}

const angleBetween = (a: Vec3, b: Vec3): number =>
  Math.acos(Math.min(1, Math.abs(a[0] * b[0] + a[1] * b[1] + a[2] * b[2])));

const polar = (tilt: number, azimuth: number): Vec3 => [
  Math.sin(tilt) * Math.cos(azimuth),
  Math.sin(tilt) * Math.sin(azimuth),
  Math.cos(tilt),
];

/**
 * The direction of least tilt with room, given directions that have some. Along every fifth azimuth the tilt is raised
 * from upright by steps that cannot pass a fit, then the best azimuths are refined by halving.
 */
export function leastTilt(room: Room, reach: number, withRoom: readonly Vec3[]): Vec3 {
  let best = Math.PI / 2;
  let bestAzimuth = 0;
  const consider = (azimuth: number, from: number): number => {
    const tilt = firstFit(room, reach, azimuth, from, best);
    if (tilt < best) {
      best = tilt;
      bestAzimuth = azimuth;
    }
    return tilt;
  };
  const known = withRoom
    .filter((up) => room(up, 0) >= 0)
    .map((up) => ({ azimuth: Math.atan2(up[1], up[0]), tilt: Math.atan2(Math.hypot(up[0], up[1]), up[2]) }))
    .sort((a, b) => a.tilt - b.tilt);
  for (const { azimuth, tilt } of known.slice(0, 12)) {
    if (tilt <= best) {
      best = tilt;
      bestAzimuth = azimuth;
    }
    consider(azimuth, 0);
  }
  for (let azimuth = -180; azimuth < 180; azimuth += 5) consider(azimuth * degree, 0);
  return polar(...refine(room, reach, best, bestAzimuth, 2.5 * degree));
}

/** Walks to neighbouring azimuths while their first fit has less tilt, halving the step. */
function refine(
  room: Room,
  reach: number,
  tilt: number,
  azimuth: number,
  firstStep: number,
): [tilt: number, azimuth: number] {
  let best: [number, number] = [tilt, azimuth];
  for (let step = firstStep; step > 0.02 * degree; step /= 2) {
    for (let moved = true; moved; ) {
      const [least, around] = best;
      for (const beside of [around - step, around + step]) {
        const found = firstFit(room, reach, beside, Math.max(0, least - 4 * step), best[0]);
        if (found < best[0]) best = [found, beside];
      }
      moved = best[0] < least - 0.002 * degree;
    }
  }
  return best;
}

/**
 * Settles on the exact room what was found with a rough one: the least tilt near `found`, or, if there is no room
 * there, the most room near `roomiest`.
 */
export function settle(room: Room, reach: number, found: Vec3, roomiest: Vec3): Vec3 {
  const azimuth = Math.atan2(found[1], found[0]);
  const tilt = Math.atan2(Math.hypot(found[0], found[1]), found[2]);
  const nearby = firstFit(room, reach, azimuth, Math.max(0, tilt - 0.4 * degree), tilt + degree);
  if (nearby < Infinity) return polar(...refine(room, reach, nearby, azimuth, 0.3 * degree));
  const top = climb(room, roomiest, room(roomiest, -Infinity), 0.2 * degree);
  if (top.room < 0) return top.up;
  // There is room, but not near the rough answer: look along the azimuth of the most room.
  const there = Math.atan2(top.up[1], top.up[0]);
  const least = firstFit(room, reach, there, 0, Math.PI / 2);
  return least < Infinity ? polar(...refine(room, reach, least, there, 0.3 * degree)) : top.up;
}

/** The least tilt from `from` on that has room at an azimuth, or Infinity when none below `limit` has; radians. */
function firstFit(room: Room, reach: number, azimuth: number, from: number, limit: number): number {
  const leastStep = 0.1 * degree;
  let last = from;
  for (let tilt = from; tilt < limit; ) {
    const here = room(polar(tilt, azimuth), 0);
    if (here >= 0) {
      let without = last;
      let within = tilt;
      while (within - without > 0.005 * degree) {
        const middle = (without + within) / 2;
        if (room(polar(middle, azimuth), 0) >= 0) within = middle;
        else without = middle;
      }
      return within;
    }
    last = tilt;
    tilt += Math.max(leastStep, -here / reach);
  }
  return Infinity;
}
