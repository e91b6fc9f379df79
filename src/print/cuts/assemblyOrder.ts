import { add, dot, normalize, scale, type Vec3 } from "../../geometry/vector";
import type { AssemblyStep } from "./piecePlan";

/** A face at which two pieces meet, with the direction out of the first into the second. */
export interface Meeting {
  readonly pieces: readonly [number, number];
  readonly normal: Vec3;
}

/** A pin may slant by so much from square to its face, degrees. */
const mostSlant = 50;

/**
 * An order in which pieces can be joined, one after the other, each pushed on along one direction: the mean of the
 * directions out of its faces. Where these differ by more than a pin may slant the piece must be flexed; of the orders
 * that begin with each piece the one with the fewest such steps is taken, the earliest of them.
 */
export function assemblyOrder(count: number, meetings: readonly Meeting[]): AssemblyStep[] {
  let best: { steps: AssemblyStep[]; flexed: number } | undefined;
  for (let first = 0; first < count; first++) {
    const steps = orderFrom(first, count, meetings);
    const flexed = steps.filter(({ isFlexed }) => isFlexed).length;
    if (!best || flexed < best.flexed) best = { steps, flexed };
  }
  return best?.steps ?? [];
}

function orderFrom(first: number, count: number, meetings: readonly Meeting[]): AssemblyStep[] {
  const placed = new Set([first]);
  const steps: AssemblyStep[] = [];
  while (placed.size < count) {
    const possible: AssemblyStep[] = [];
    for (let piece = 0; piece < count; piece++) {
      if (placed.has(piece)) continue;
      const step = stepFor(piece, placed, meetings);
      if (step) possible.push(step);
    }
    // What hangs together by no joint was never one: it is left apart.
    if (possible.length === 0) {
      const next = Array.from({ length: count }, (_, i) => i).find((i) => !placed.has(i))!;
      placed.add(next);
      continue;
    }
    const next = possible.find(({ isFlexed }) => !isFlexed) ?? possible[0];
    placed.add(next.piece);
    steps.push(next);
  }
  return steps;
}

function stepFor(
  piece: number,
  placed: ReadonlySet<number>,
  meetings: readonly Meeting[],
): AssemblyStep | undefined {
  const joints: number[] = [];
  const to = new Set<number>();
  const ways: Vec3[] = [];
  for (const [joint, { pieces, normal }] of meetings.entries()) {
    const [a, b] = pieces;
    if (a === b || (a !== piece && b !== piece)) continue;
    const other = a === piece ? b : a;
    if (!placed.has(other)) continue;
    joints.push(joint);
    to.add(other);
    ways.push(a === piece ? normal : scale(normal, -1));
  }
  if (joints.length === 0) return undefined;
  const direction = normalize(
    ways.reduce((sum, way) => add(sum, way)),
    ways[0],
  );
  const least = Math.min(...ways.map((way) => dot(way, direction)));
  return {
    piece,
    to: [...to].sort((a, b) => a - b),
    joints,
    direction,
    isFlexed: least < Math.cos((mostSlant * Math.PI) / 180),
  };
}
