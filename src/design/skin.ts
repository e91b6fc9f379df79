import { curveOf } from "../geometry/curveCache";
import { sectionTurn } from "../geometry/frames";
import { SectionFrames } from "../geometry/sectionFrames";
import { tubeProfile } from "../geometry/tips";
import type { TubeShape } from "../geometry/tubeShape";
import { dot, type Vec2, type Vec3 } from "../geometry/vector";

/**
 * How far a tube's surface lies from its path at a share of the length, mm, in a direction across the path: its
 * radius there, or where the farthest edge of its outline is met.
 */
export function skinDistance(shape: TubeShape, share: number, direction: Vec3): number {
  const curve = curveOf(shape.path);
  const radius = tubeProfile(shape, curve.length).radiusAt(share * curve.length);
  if (shape.section.kind === "circle") return radius;
  const turn = sectionTurn(curve, shape.twist, shape.upAtPoints, shape.path.points.length);
  const { x, y } = new SectionFrames(curve, turn).at(share);
  return radius * reachOf(shape.section.points, [dot(direction, x), dot(direction, y)]);
}

/** How far an outline reaches from [0, 0] in a direction: the farthest crossing of the ray with its edges. */
function reachOf(outline: readonly Vec2[], [dx, dy]: Vec2): number {
  let reach = 0;
  outline.forEach(([ax, ay], i) => {
    const [bx, by] = outline[(i + 1) % outline.length];
    // Signed distances of the edge's ends from the ray's line.
    const [a, b] = [dx * ay - dy * ax, dx * by - dy * bx];
    if (a === b || a * b > 0) return;
    const k = a / (a - b);
    reach = Math.max(reach, dx * (ax + k * (bx - ax)) + dy * (ay + k * (by - ay)));
  });
  return reach;
}
