import type { SignedDistance } from "../../geometry/signedDistance";
import type { Contacts } from "./balance";
import { Feeler } from "./feeler";
import type { Pose } from "./pose";
import { cellKey } from "./seat";

/** Contacts of a piece that has come to rest, with the point of its surface that each is. */
export interface RestingContacts extends Contacts {
  readonly points: Uint32Array;
}

/** Points within this of the nearest touch, mm; hair gives way by a share of its thickness more. Common practice, no source. */
const touching = 0.1;
const hairGives = 0.05;
/** Where that makes no three contacts apart, up to this, mm. */
const mostTouching = 0.8;
/** Contacts closer than this are one, mm. */
const apart = 20;
/** Deeper in the head no point is looked for, mm. */
const deepest = 3;
/** More contacts than this are thinned, to the outermost in each cell of a grid, mm. */
const mostContacts = 1500;
const thinCell = 4;

/**
 * Where a piece touches the head in a pose: points of the surface that faces it, `points` x, y, z in turn, mm, as
 * designed.
 */
export function restingContacts(
  points: Float32Array,
  pose: Pose,
  head: SignedDistance,
  hair: number,
): RestingContacts {
  const feeler = new Feeler(head);
  const found: number[] = [];
  const gaps: number[] = [];
  const places: number[] = [];
  const normals: number[] = [];
  let guess = -1;
  const give = touching + hairGives * hair;
  let least = Infinity;
  for (let i = 0; 3 * i < points.length; i++) {
    const [x, y, z] = pose.moved(points[3 * i], points[3 * i + 1], points[3 * i + 2]);
    if (!feeler.feel(x, y, z, deepest, guess)) continue;
    guess = feeler.triangle;
    if (feeler.gap > mostTouching + give) continue;
    found.push(i);
    gaps.push(feeler.gap);
    places.push(x, y, z);
    normals.push(feeler.nx, feeler.ny, feeler.nz);
    least = Math.min(least, feeler.gap);
  }
  const from = Math.max(0, least);
  let within = give;
  const touches = () => found.flatMap((_, k) => (gaps[k] <= from + within ? [k] : []));
  let chosen = touches();
  while (within < mostTouching && !areApart(chosen, places)) {
    within = Math.min(mostTouching, 1.5 * within);
    chosen = touches();
  }
  if (chosen.length > mostContacts) chosen = outermostInCells(chosen, places);
  return {
    count: chosen.length,
    points: Uint32Array.from(chosen, (k) => found[k]),
    positions: Float64Array.from(chosen.flatMap((k) => places.slice(3 * k, 3 * k + 3))),
    normals: Float64Array.from(chosen.flatMap((k) => normals.slice(3 * k, 3 * k + 3))),
  };
}

/** Whether there are three contacts apart from each other. */
function areApart(chosen: readonly number[], places: readonly number[]): boolean {
  const away = (a: number, b: number) =>
    Math.hypot(
      places[3 * a] - places[3 * b],
      places[3 * a + 1] - places[3 * b + 1],
      places[3 * a + 2] - places[3 * b + 2],
    );
  if (chosen.length < 3) return false;
  const farthest = (from: readonly number[]): number => {
    let best = chosen[0];
    let reach = -1;
    for (const k of chosen) {
      const own = Math.min(...from.map((other) => away(k, other)));
      if (own > reach) {
        reach = own;
        best = k;
      }
    }
    return best;
  };
  const first = farthest([chosen[0]]);
  const second = farthest([first]);
  const third = farthest([first, second]);
  return Math.min(away(first, second), away(first, third), away(second, third)) >= apart;
}

/** Of the contacts in each cell the one farthest from the middle of all: it is the edge that tips. */
function outermostInCells(chosen: readonly number[], places: readonly number[]): number[] {
  const middle = [0, 0, 0];
  for (const k of chosen) {
    for (let axis = 0; axis < 3; axis++) middle[axis] += places[3 * k + axis] / chosen.length;
  }
  const reach = (k: number) =>
    Math.hypot(places[3 * k] - middle[0], places[3 * k + 1] - middle[1], places[3 * k + 2] - middle[2]);
  const outermost = new Map<number, number>();
  for (const k of chosen) {
    const key = cellKey(places, k, thinCell);
    const known = outermost.get(key);
    if (known === undefined || reach(k) > reach(known)) outermost.set(key, k);
  }
  return [...outermost.values()];
}

/** Few contacts that stand for all: one in each cell of a grid, its cells so wide that there are at most `most`. */
export function fewContacts(contacts: Contacts, most: number): number[] {
  const { count, positions } = contacts;
  const all = Array.from({ length: count }, (_, k) => k);
  let size = apart / 2;
  for (;;) {
    const cells = new Map<number, number>();
    for (const k of all) {
      const key = cellKey(positions, k, size);
      if (!cells.has(key)) cells.set(key, k);
    }
    if (cells.size <= most) return [...cells.values()];
    size *= 1.3;
  }
}
