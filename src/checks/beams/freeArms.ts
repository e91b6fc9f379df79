import { distance, type Vec3 } from "../../geometry/vector";
import type { WornPiece } from "../wornPiece";
import type { Neck } from "./necks";
import { type HangingStretch, type Skeleton, seamPoint } from "./skeleton";
import { solidArm } from "./solidArms";
import type { LinePlace } from "./tubeLine";
import {
  type ArmLoads,
  type ArmSection,
  type ArmShape,
  armSection,
  designedUp,
  halfWidth,
  type LoadedArm,
  loadedArm,
  type PrintedAs,
} from "./worstSection";

/** An arm whose reach is less than this many half widths of its root is a stub, no beam. */
const leastReach = 2;

/**
 * Every arm of a piece, printed with `up` on top, the one with the least safety factor first. At each section between
 * root and tip the moment is the load times the straight distance to the farthest place of what hangs there, the worst
 * that any direction of the load gives (see `bendingStressPerNewton`).
 */
export function freeArms(
  skeleton: Skeleton,
  piece: WornPiece,
  loads: ArmLoads,
  up: Vec3 = designedUp,
): LoadedArm[] {
  return armsUnderLoad(armShapes(skeleton, piece), piece, loads, { up, fill: piece.print });
}

/** Arms under their loads, the one with the least safety factor first. */
export function armsUnderLoad(
  shapes: readonly ArmShape[],
  { material }: Pick<WornPiece, "material">,
  loads: ArmLoads,
  printed: PrintedAs,
): LoadedArm[] {
  return shapes
    .flatMap((shape) => loadedArm(shape, material, loads, printed) ?? [])
    .sort((a, b) => a.arm.factor - b.arm.factor);
}

/** Every arm of a piece as it is, however it is printed. */
export function armShapes(skeleton: Skeleton, piece: WornPiece): ArmShape[] {
  const arms: ArmShape[] = [];
  for (const stretches of armsOf(skeleton.hanging)) {
    const arm = tubeArm(skeleton, piece, stretches);
    if (arm) arms.push(arm);
  }
  for (const limb of skeleton.limbs) {
    const arm = limb && !limb.line && solidArm(skeleton, piece, limb);
    if (arm) arms.push(arm);
  }
  return arms;
}

/** Stretches of one tube, from the root outwards, each of which hangs on the one before. */
function armsOf(hanging: readonly HangingStretch[]): HangingStretch[][] {
  const sides = new Map<string, HangingStretch[]>();
  for (const stretch of hanging) {
    const key = `${stretch.limb.part} ${isForward(stretch) ? "to end" : "to start"}`;
    const list = sides.get(key);
    if (list) list.push(stretch);
    else sides.set(key, [stretch]);
  }
  const arms: HangingStretch[][] = [];
  for (const side of sides.values()) {
    const forward = isForward(side[0]);
    side.sort((a, b) => (forward ? a.from - b.from : b.from - a.from));
    side.forEach((stretch, i) => {
      if (i > 0 && hangsOn(stretch, side[i - 1])) arms[arms.length - 1].push(stretch);
      else arms.push([stretch]);
    });
  }
  return arms;
}

/** Whether all that hangs by one stretch hangs by another one too. */
function hangsOn(one: HangingStretch, other: HangingStretch): boolean {
  const within = (a: HangingStretch, b: HangingStretch) => a.start >= b.start && a.end <= b.end;
  if (one.isRest) return other.isRest && within(other, one);
  return other.isRest ? one.end <= other.start || one.start >= other.end : within(one, other);
}

/** Whether the free end lies towards the end of the path. */
const isForward = ({ limb, from, to }: HangingStretch): boolean =>
  limb.line !== undefined && limb.line.next(from) === to;

function tubeArm(
  skeleton: Skeleton,
  piece: WornPiece,
  outward: readonly HangingStretch[],
): ArmShape | undefined {
  const { limb } = outward[0];
  const line = limb.line!;
  const forward = isForward(outward[0]);
  const isSeated = (sample: number) => skeleton.seated[limb.first + sample] === 1;
  let { place: root, holder } = rootPlace(skeleton, outward[0], forward);
  if (isSeated(line.nearest(...root.point))) {
    // The head bears it as far as it lies on it.
    const leaves = outward.find(({ to }) => !isSeated(to));
    if (!leaves) return undefined;
    root = line.sample(leaves.to);
    holder = undefined;
  }
  const end = line.positions[outward[outward.length - 1].to];
  const sections: ArmSection[] = [];
  let reach = 0;
  const look = (place: LinePlace, stretch: HangingStretch): void => {
    const tip = farthestOf(skeleton, stretch, place.point);
    if (!tip) return;
    reach = Math.max(reach, distance(tip, place.point));
    const section = armSection(place, line.moments, tip, (radius) => line.cavityAt(radius));
    if (section) sections.push(section);
  };
  look(root, outward.find(({ to }) => forward === line.positions[to] > root.position) ?? outward[0]);
  const beyondRoot = (position: number) =>
    line.closed || (forward ? position > root.position : position < root.position);
  outward.forEach((stretch, i) => {
    const samples = i > 0 && outward[i - 1].to === stretch.from ? [stretch.to] : [stretch.from, stretch.to];
    for (const sample of samples) {
      if (isSeated(sample) || !beyondRoot(line.positions[sample])) continue;
      look(line.sample(sample), stretch);
    }
  });
  if (sections.length === 0 || reach < leastReach * halfWidth(line.moments, root.radius)) return undefined;
  const way = (position: number): number => {
    const plain = Math.abs(position - root.position);
    return line.closed ? Math.min(plain, line.length - plain) : plain;
  };
  const arm: ArmShape = {
    part: piece.parts[limb.part].name,
    index: limb.part,
    rootAt: root.point,
    length: way(end),
    fromRoot: (place) => way(place.position),
    sections,
  };
  if (holder === undefined) return arm;
  const half = halfWidth(line.moments, root.radius);
  const neck: Neck = {
    first: limb.part,
    second: holder,
    width: 2 * half,
    area: line.moments.area * root.radius ** 2,
    at: root.point,
    halfWidths: [half, undefined],
  };
  return { ...arm, root: neck };
}

/** The farthest place of what hangs by a stretch. */
function farthestOf(
  skeleton: Skeleton,
  { start, end, isRest }: HangingStretch,
  from: Vec3,
): Vec3 | undefined {
  const { order, component, alive, points, farPoints } = skeleton;
  let best = -1;
  let tip: Vec3 | undefined;
  const ask = (list: Float64Array, i: number): void => {
    const d = (list[i] - from[0]) ** 2 + (list[i + 1] - from[1]) ** 2 + (list[i + 2] - from[2]) ** 2;
    if (d <= best) return;
    best = d;
    tip = [list[i], list[i + 1], list[i + 2]];
  };
  const ranges = isRest ? [component[0], start, end, component[1]] : [start, end];
  for (let k = 0; k < ranges.length; k += 2) {
    for (let i = ranges[k]; i < ranges[k + 1]; i++) {
      const node = order[i];
      if (!alive[node]) continue;
      const far = farPoints.get(node);
      if (!far) ask(points, 3 * node);
      else for (let at = 0; at < far.length; at += 3) ask(far, at);
    }
  }
  return tip;
}

/**
 * Where an arm's centre line leaves what holds it: where it comes out of the last tube that it is in. Where it only
 * touches what holds it, or that is no tube, the middle of where the surfaces meet, no deeper than its own radius.
 */
function rootPlace(
  skeleton: Skeleton,
  { limb, from, to }: HangingStretch,
  forward: boolean,
): { place: LinePlace; holder?: number } {
  const line = limb.line!;
  const start = line.positions[from];
  const sign = forward ? 1 : -1;
  const radius = line.radii[from] * line.reach;
  const { seams, firstNode, secondNode, limbs, entriesOf } = skeleton;
  // Bodies in whose surface it is last, and how far.
  const holders = new Set<number>();
  const meets = (visit: (part: number, into: number, entry: number, node: number) => void): void => {
    for (const entry of entriesOf[limb.part]) {
      const isFirst = seams.first[entry] === limb.part;
      const node = (isFirst ? firstNode : secondNode)[entry] - limb.first;
      const into = sign * (start - line.positions[node]);
      if (into >= -1e-9) visit(isFirst ? seams.second[entry] : seams.first[entry], into, entry, node);
    }
  };
  const step = Math.abs(line.positions[to] - start);
  meets((part, into) => into <= 1.5 * step && holders.add(part));
  let [least, most] = [Infinity, -Infinity];
  meets((part, into, entry, node) => {
    if (!holders.has(part) || into > 4 * radius + 5) return;
    const position = sign * line.positionOf(node, seamPoint(skeleton, entry));
    least = Math.min(least, position);
    most = Math.max(most, position);
  });
  if (most < least) return { place: line.sample(from) };
  const [holder] = holders;
  const tubes = [...holders].flatMap((part) => limbs[part]?.line ?? []);
  const isHeld = (along: number): boolean => {
    const { point } = line.at(sign * along);
    return tubes.some((tube) => tube.contains(point));
  };
  const deepest = Math.max(least, most - 2 * radius) - radius / 8;
  let outside = most + radius / 8;
  for (let inside = most; inside > deepest; inside -= radius / 8) {
    if (!isHeld(inside)) {
      outside = inside;
      continue;
    }
    let low = inside;
    for (let round = 0; round < 24; round++) {
      const middle = (low + outside) / 2;
      if (isHeld(middle)) low = middle;
      else outside = middle;
    }
    return { place: line.at(sign * outside), holder };
  }
  return { place: line.at(sign * (most - Math.min((most - least) / 2, radius))), holder };
}
