import type { Part } from "../design/part";
import { sectionReach } from "../geometry/section";
import type { TubeShape } from "../geometry/tubeShape";
import { distance } from "../geometry/vector";
import { MessageError } from "../message";

/** Farthest from the middle of the head that a part may reach, mm: no headpiece comes near. */
const farthest = 5_000;
/** Farthest that a section may reach from its path, mm. */
const widest = 1_000;
/** Greatest length of a tube in its thickest radius: longer ones take more triangles than a part can have. */
const longest = 20_000;

/**
 * Refuses parts whose surface would take more memory than there is, before anything is swept. Throws a `MessageError` at
 * the line of the first one.
 */
export function refuseOversized(parts: readonly Part[]): void {
  for (const part of parts) refusePart(part);
}

function refusePart(part: Part): void {
  const body = part.kind === "cut" ? part.body : part;
  if (body.kind === "solid") {
    const far = body.mesh.positions.find(isFar);
    if (far !== undefined) throw tooFar(part, far);
    return;
  }
  const { points } = body.shape.path;
  for (const point of points) {
    const far = point.find(isFar);
    if (far !== undefined) throw tooFar(part, far);
  }
  const thickest = Math.max(...body.shape.radius.radii, ...tipRadii(body.shape));
  const wide = thickest * sectionReach(body.shape.section);
  if (!(wide <= widest)) {
    throw refused(
      part,
      "too-wide",
      `"${part.name}" reaches ${Math.round(wide)} mm from its path`,
      `keep within ${widest} mm: a section is in radii of its tube, and without a radius in mm`,
    );
  }
  const long = points.reduce((sum, point, i) => sum + (i > 0 ? distance(point, points[i - 1]) : 0), 0);
  if (long <= longest * thickest) return;
  throw refused(
    part,
    "too-thin",
    `"${part.name}" is ${Math.round(long)} mm long and only ${thickest} mm in radius`,
    `give a radius of at least ${(long / longest).toPrecision(2)} mm, or a shorter path`,
  );
}

const isFar = (coordinate: number): boolean => !(Math.abs(coordinate) <= farthest);

const tipRadii = ({ startTip, endTip }: TubeShape): number[] =>
  [startTip, endTip].flatMap((tip) => ("radius" in tip ? [tip.radius] : []));

const tooFar = (part: Part, coordinate: number) =>
  refused(
    part,
    "too-far",
    `"${part.name}" has a coordinate of ${coordinate} mm`,
    `keep within ${farthest} mm of the head; lengths are in mm`,
  );

const refused = (part: Part, id: string, text: string, suggestion: string) =>
  new MessageError([{ id, severity: "error", text, suggestion, part: part.name, ...part.origin }]);
