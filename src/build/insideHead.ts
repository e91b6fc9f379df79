import type { Part } from "../design/part";
import { Curve } from "../geometry/curve";
import type { GrownHead } from "../head/grownHead";

/** Whether a part lies wholly inside the grown head: the middle of a tube, or every corner of a solid. */
export function liesInside(part: Part, head: GrownHead): boolean {
  const body = part.kind === "cut" ? part.body : part;
  if (body.kind === "tube") {
    const curve = new Curve(body.shape.path);
    const steps = 64;
    return Array.from({ length: steps + 1 }, (_, i) => curve.pointAt(i / steps)).every(
      (point) => head.signedDistance(point) < 0,
    );
  }
  const { positions } = body.mesh;
  for (let i = 0; i < positions.length; i += 3) {
    if (head.signedDistance([positions[i], positions[i + 1], positions[i + 2]]) >= 0) return false;
  }
  return true;
}
