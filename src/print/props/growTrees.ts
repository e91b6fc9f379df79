import { distance, type Vec3 } from "../../geometry/vector";
import { radiusFor } from "./propLimits";
import type { Room } from "./room";
import type { Twig } from "./twig";
import { nearSearch, type StrutNeed, type WayDown, wayDown } from "./wayDown";

/** A place of a tree of struts from which one strut goes on downwards. */
export interface Fork {
  readonly at: Vec3;
  /** What stands above it: two forks, one where the strut bends, or a twig. */
  readonly above: readonly Fork[] | Twig;
  readonly twigs: number;
  readonly need: StrutNeed;
  /** How it reaches the plate where it joins no other. */
  readonly way: WayDown;
}

/** A place where two may join, and what material it takes to get there. */
interface Join {
  readonly a: number;
  readonly b: number;
  readonly at: Vec3;
  readonly cost: number;
}

/** Struts join no lower than this over the plate, mm, and where that saves at least as much length. */
const leastHeight = 12;
/** A join lies so much lower than it must, so that struts between joins are not too short, mm. */
const leastDrop = 3;
const leastSaved = 6;
const degree = Math.PI / 180;

/**
 * Twigs joined to trees, two by two, those first that reach each other by the least length (agglomerative clustering). A
 * join lies below both, within the greatest lean, and has a way to the plate; what carries more moves less. What then
 * leans aside on its way is joined once more from where it stands upright.
 */
export function growTrees(twigs: readonly Twig[], room: Room): Fork[] {
  const single = twigs.map(
    (twig): Fork => ({ at: twig.end, above: twig, twigs: 1, need: twig.need, way: twig.way }),
  );
  return joinedForks(joinedForks(single, room).map(pastBend), room);
}

function joinedForks(single: readonly Fork[], room: Room): Fork[] {
  const forks: (Fork | undefined)[] = [...single];
  const waiting = new JoinQueue();
  const consider = (b: number) => {
    for (let a = 0; a < b; a++) {
      const [first, second] = [forks[a], forks[b]];
      const join = first && second && joinOf(first, second, a, b, room);
      if (join) waiting.push(join);
    }
  };
  for (let i = 1; i < forks.length; i++) consider(i);
  for (let join = waiting.pop(); join; join = waiting.pop()) {
    const [a, b] = [forks[join.a], forks[join.b]];
    if (!a || !b) continue;
    const joined = joinedAt(a, b, join.at, room);
    if (!joined) continue;
    forks[join.a] = undefined;
    forks[join.b] = undefined;
    forks.push(joined);
    consider(forks.length - 1);
  }
  return forks.filter((fork) => fork !== undefined);
}

/** A strut that leans aside before it stands, taken where it begins to stand. */
function pastBend(fork: Fork): Fork {
  const [top, corner, ...rest] = fork.way.corners;
  if (rest.length === 0) return fork;
  const need = { ...fork.need, above: fork.need.above + distance(top, corner) };
  return {
    at: corner,
    above: [fork],
    twigs: fork.twigs,
    need,
    way: { corners: [corner, ...rest], foot: fork.way.foot },
  };
}

/** The highest place where two struts can meet; undefined where they are too far apart or it saves nothing. */
function joinOf(first: Fork, second: Fork, a: number, b: number, { limits }: Room): Join | undefined {
  const [p, q] = [first.at, second.at];
  const apart = Math.hypot(q[0] - p[0], q[1] - p[1]);
  if (apart > limits.joinReach) return undefined;
  const slope = Math.tan(limits.lean * degree);
  // As even as the heights allow, what carries more moving less.
  const wanted = second.twigs / (first.twigs + second.twigs);
  const level = (apart - slope * (q[2] - p[2])) / (2 * apart || 1);
  const share = Math.min(1, Math.max(0, first.twigs === second.twigs ? level : wanted));
  const z = Math.min(p[2] - (share * apart) / slope, q[2] - ((1 - share) * apart) / slope) - leastDrop;
  if (z < leastHeight) return undefined;
  const at: Vec3 = [p[0] + (q[0] - p[0]) * share, p[1] + (q[1] - p[1]) * share, z];
  const cost = distance(p, at) + distance(q, at);
  return p[2] + q[2] - z - cost > leastSaved ? { a, b, at, cost } : undefined;
}

function joinedAt(a: Fork, b: Fork, at: Vec3, room: Room): Fork | undefined {
  for (const fork of [a, b]) {
    const length = distance(fork.at, at);
    const radius = Math.max(fork.need.radius, radiusFor(fork.need.above, room.limits));
    const lower = Math.max(radius, radiusFor(fork.need.above + length, room.limits));
    if (!room.isFree(fork.at, at, radius, lower)) return undefined;
  }
  const need: StrutNeed = {
    above: Math.max(a.need.above + distance(a.at, at), b.need.above + distance(b.at, at)),
    radius: Math.max(a.need.radius, b.need.radius),
    foot: Math.max(a.need.foot, b.need.foot),
  };
  const way = wayDown(at, need, room, nearSearch);
  return way && { at, above: [a, b], twigs: a.twigs + b.twigs, need, way };
}

/** Joins, the cheapest first; equal ones in the order in which they came (a binary heap). */
class JoinQueue {
  readonly #heap: { join: Join; order: number }[] = [];
  #count = 0;

  push(join: Join): void {
    const heap = this.#heap;
    let at = heap.push({ join, order: this.#count++ }) - 1;
    for (let up = (at - 1) >> 1; at > 0 && this.#before(at, up); up = (at - 1) >> 1) {
      this.#swap(at, up);
      at = up;
    }
  }

  pop(): Join | undefined {
    const heap = this.#heap;
    if (heap.length === 0) return undefined;
    this.#swap(0, heap.length - 1);
    const { join } = heap.pop()!;
    for (let at = 0; ; ) {
      let least = at;
      for (const child of [2 * at + 1, 2 * at + 2]) {
        if (child < heap.length && this.#before(child, least)) least = child;
      }
      if (least === at) return join;
      this.#swap(at, least);
      at = least;
    }
  }

  #before(i: number, j: number): boolean {
    const [a, b] = [this.#heap[i], this.#heap[j]];
    return a.join.cost < b.join.cost || (a.join.cost === b.join.cost && a.order < b.order);
  }

  #swap(i: number, j: number): void {
    [this.#heap[i], this.#heap[j]] = [this.#heap[j], this.#heap[i]];
  }
}
