import type { DesignResult, Part, TubePart } from "../design/part";
import { type RestingTube, settle } from "../geometry/resting";
import type { TubeShape } from "../geometry/tubeShape";
import type { GrownHead } from "../head/grownHead";
import type { Message } from "../message";

/** Tubes that still lie this much deeper in one another than asked are told of, mm. */
const overlapTold = 0.5;

type RestingPart = TubePart & Required<Pick<TubePart, "resting">>;

/**
 * The design with its resting tubes where they come to rest on the head and over one another. The heaps settle in the
 * order in which they first appear.
 */
export function settleResting(result: DesignResult, head: GrownHead, messages: Message[]): DesignResult {
  const settled = new Map<string, TubePart>();
  for (const heap of heapsOf(result.parts)) {
    const obstacles = obstaclesOf(heap, result.parts, settled);
    const tubes = [...obstacles.map(fixedTube), ...heap.map(restingTube)];
    const { paths, overlaps } = settle(tubes, (point) => head.nearest(point));
    for (const [i, part] of heap.entries()) {
      const shape = laidShape(part.shape, paths[obstacles.length + i], head);
      settled.set(part.name, { ...part, shape });
      const overlap = overlaps[obstacles.length + i];
      if (overlap > overlapTold) messages.push(stillInOthers(part, overlap));
    }
  }
  return { ...result, parts: result.parts.map((part) => settled.get(part.name) ?? part) };
}

function heapsOf(parts: readonly Part[]): RestingPart[][] {
  const heaps = new Map<string, RestingPart[]>();
  for (const part of parts) {
    if (part.kind !== "tube" || !part.resting) continue;
    const { heap } = part.resting;
    heaps.set(heap, [...(heaps.get(heap) ?? []), part as RestingPart]);
  }
  return [...heaps.values()];
}

/** The tubes that a heap is told to lie over, where they are by now. */
function obstaclesOf(
  heap: readonly RestingPart[],
  parts: readonly Part[],
  settled: ReadonlyMap<string, TubePart>,
): TubePart[] {
  const names = new Set(heap.flatMap((part) => part.resting.over ?? []));
  return parts.flatMap((part) =>
    part.kind === "tube" && names.has(part.name) ? [settled.get(part.name) ?? part] : [],
  );
}

/** Finer ends rest as if they were this thick, mm of radius: laying goes by steps of the radius. */
const leastResting = 0.1;

const restingRadius = ({ shares, radii }: TubeShape["radius"]): TubeShape["radius"] => ({
  shares,
  radii: radii.map((radius) => Math.max(radius, leastResting)),
});

const restingTube = ({ shape, resting }: RestingPart): RestingTube => ({
  path: shape.path,
  radius: restingRadius(shape.radius),
  sink: resting.sink,
  pinned: resting.pinned,
});

const fixedTube = ({ shape }: TubePart): RestingTube => ({
  path: shape.path,
  radius: restingRadius(shape.radius),
  sink: 0,
  pinned: "both",
  fixed: true,
});

/** A tube on its new path; a strap keeps its face to the head. */
function laidShape(shape: TubeShape, path: TubeShape["path"], head: GrownHead): TubeShape {
  return {
    ...shape,
    path,
    ...(shape.upAtPoints && { upAtPoints: path.points.map((point) => head.nearest(point).normal) }),
  };
}

const stillInOthers = (part: TubePart, overlap: number): Message => ({
  id: "not-at-rest",
  severity: "warning",
  text: `"${part.name}" does not come to rest: it lies ${overlap.toFixed(1)} mm deeper in its neighbours than it should`,
  suggestion: "give it more room, fewer tubes, or ends that are not pinned",
  part: part.name,
  ...part.origin,
});
