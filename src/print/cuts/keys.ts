import { isConvex, signedArea } from "../../geometry/polygon";
import type { Vec2 } from "../../geometry/vector";

/**
 * A tapered pin with the section of a D, so that it goes in one way only: an ellipse with half axes `a` and `b`, cut flat
 * at half of `a` on one side.
 */
export interface Key {
  /** Half axes at the face, mm. */
  readonly a: number;
  readonly b: number;
  /** How far it sticks out, mm. */
  readonly length: number;
}

/** The peg narrows by so much on each side a mm, so that it prints clean and goes in. */
export const taper = 0.04;
/** Room beyond the tip of a peg, mm. */
export const tipRoom = 0.4;
/** Least wall round a socket, mm: two lines of 0.45 mm, the thinnest that prints (common practice, no source). */
export const socketWall = 0.9;
/** So much more than clearance makes a wrong peg stick, mm. */
const sticks = 0.15;
const stands = 0.4;
const flatAt = -0.5;
const steps = 18;

/** The section of a key at the face, counter-clockwise, about the pin's axis. */
export function keySection({ a, b }: Key): Vec2[] {
  const from = Math.acos(flatAt);
  return Array.from({ length: steps + 1 }, (_, i): Vec2 => {
    const angle = -from + (2 * from * i) / steps;
    return [a * Math.cos(angle), b * Math.sin(angle)];
  });
}

/** The section at some height over the face, mm, grown by `room`. */
export function keyOutline(key: Key, height: number, room = 0): Vec2[] {
  const shrunk = Math.max(0.5, 1 - (taper * height) / key.b);
  return grown(
    keySection(key).map(([x, y]): Vec2 => [x * shrunk, y * shrunk]),
    room,
  );
}

/** A convex outline with every side moved out by `room`. */
export function grown(points: readonly Vec2[], room: number): Vec2[] {
  if (room === 0) return [...points];
  const n = points.length;
  return points.map((p, i) => {
    const [before, after] = [points[(i + n - 1) % n], points[(i + 1) % n]];
    const u = outwards(before, p);
    const v = outwards(p, after);
    const k = room / (1 + u[0] * v[0] + u[1] * v[1]);
    return [p[0] + k * (u[0] + v[0]), p[1] + k * (u[1] + v[1])];
  });
}

function outwards(a: Vec2, b: Vec2): Vec2 {
  const [x, y] = [b[0] - a[0], b[1] - a[1]];
  const l = Math.hypot(x, y);
  return [y / l, -x / l];
}

/** Whether two keys cannot be mistaken: neither peg goes wholly into the other's socket, however it is turned. */
export const areUnlike = (one: Key, other: Key, clearance: number): boolean =>
  !goesInto(one, other, clearance) && !goesInto(other, one, clearance);

function goesInto(peg: Key, socket: Key, clearance: number): boolean {
  if (peg.length >= socket.length + tipRoom + stands) return false;
  return fitsWithin(keySection(peg), grown(keySection(socket), clearance + sticks));
}

/** Whether a convex outline can lie within another, turned in steps of 3° and moved at will. */
export function fitsWithin(inner: readonly Vec2[], outer: readonly Vec2[]): boolean {
  if (!isConvex(inner) || !isConvex(outer)) throw new RangeError("Both outlines must be convex.");
  if (signedArea(inner) > signedArea(outer)) return false;
  for (let degrees = 0; degrees < 360; degrees += 3) {
    const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
    if (
      fitsMoved(
        inner.map(([x, y]): Vec2 => [c * x - s * y, s * x + c * y]),
        outer,
      )
    )
      return true;
  }
  return false;
}

/** The moves that keep the inner outline behind each side of the outer are a half plane each: have they a point in common? */
function fitsMoved(inner: readonly Vec2[], outer: readonly Vec2[]): boolean {
  let left: Vec2[] = [
    [-1e3, -1e3],
    [1e3, -1e3],
    [1e3, 1e3],
    [-1e3, 1e3],
  ];
  for (let i = 0, j = outer.length - 1; i < outer.length; j = i++) {
    const n = outwards(outer[j], outer[i]);
    const reach = inner.reduce((most, p) => Math.max(most, n[0] * p[0] + n[1] * p[1]), -Infinity);
    const room = n[0] * outer[i][0] + n[1] * outer[i][1] - reach;
    left = clipped(left, n, room);
    if (left.length === 0) return false;
  }
  return true;
}

function clipped(points: readonly Vec2[], n: Vec2, most: number): Vec2[] {
  const kept: Vec2[] = [];
  for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
    const [a, b] = [points[j], points[i]];
    const [ha, hb] = [n[0] * a[0] + n[1] * a[1] - most, n[0] * b[0] + n[1] * b[1] - most];
    if (ha <= 0 !== hb <= 0) {
      const k = ha / (ha - hb);
      kept.push([a[0] + k * (b[0] - a[0]), a[1] + k * (b[1] - a[1])]);
    }
    if (hb <= 0) kept.push(b);
  }
  return kept;
}

/** What a joint has room for. */
export interface KeyRoom {
  /** Radius that is free round the pin's axis, clearance and wall taken off, for a pin of so many mm; ascending. */
  readonly radiusAt: (length: number) => number;
}

const lengths = Array.from({ length: 21 }, (_, i) => 4 + i / 2);
const shapes = [0.85, 0.6];
const leastHalf = 1;
const greatestHalf = 8;
const usualLength = 4;

/**
 * A key for each joint, as strong as there is room for and unlike all others, those with most room first; undefined where there is room for none.
 * `isUnique` is false where no unlike key was left.
 */
export function chooseKeys(
  rooms: readonly KeyRoom[],
  clearance: number,
): ({ key: Key; isUnique: boolean } | undefined)[] {
  const order = rooms.map((_, i) => i).sort((a, b) => rooms[b].radiusAt(4) - rooms[a].radiusAt(4) || a - b);
  const chosen = new Array<{ key: Key; isUnique: boolean } | undefined>(rooms.length);
  const used: Key[] = [];
  for (const joint of order) {
    const possible = keysFor(rooms[joint]);
    if (possible.length === 0) continue;
    const unlike = possible.find((key) => used.every((other) => areUnlike(key, other, clearance)));
    const key = unlike ?? possible[0];
    chosen[joint] = { key, isUnique: unlike !== undefined };
    used.push(key);
  }
  return chosen;
}

/** Every key that there is room for, the strongest first; a pin longer than usual counts as weaker. */
function keysFor({ radiusAt }: KeyRoom): Key[] {
  const keys: { key: Key; strength: number }[] = [];
  for (const length of lengths) {
    const most = Math.min(greatestHalf, Math.floor(radiusAt(length) * 4) / 4);
    for (const shape of shapes) {
      for (let a = most; a * shape >= leastHalf * 0.6 && a >= leastHalf; a -= 0.25) {
        keys.push({
          key: { a, b: a * shape, length },
          strength: a * a * shape * (1 - 0.05 * Math.abs(length - usualLength)),
        });
      }
    }
  }
  return keys.sort((x, y) => y.strength - x.strength).map(({ key }) => key);
}
