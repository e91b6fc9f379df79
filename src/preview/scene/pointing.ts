import type { Ray } from "./cameraRig";
import type { HeadModel } from "./headModel";
import type { Piece } from "./piece";
import type { Cut } from "./rayIndex";
import type { Vector } from "./vector";

/** The part that a ray meets first; −1 for none, for the head and for what the head left. */
export function partOn(ray: Ray, piece: Piece, head: HeadModel, cut?: Cut): number {
  let part = -1;
  let distance = Infinity;
  for (const { surface, part: whole } of piece.shown()) {
    const hit = surface.rays.first(ray.origin, ray.direction, cut, distance);
    if (!hit) continue;
    distance = hit.distance;
    part = whole ?? surface.partOf(hit.triangle) ?? -1;
  }
  const isHidden = head.isShown && head.surface?.rays.first(ray.origin, ray.direction, cut, distance);
  if (isHidden) return -1;
  // What takes away is seen through: it is met only where nothing else is.
  if (distance === Infinity) {
    for (const { surface, part: whole } of piece.shownCuts()) {
      const hit = surface.rays.first(ray.origin, ray.direction, cut, distance);
      if (!hit) continue;
      distance = hit.distance;
      part = whole;
    }
  }
  return part;
}

/** Slack within which a point counts as on the surface it was taken from, mm. */
const slack = 1;

/** Whether something stands before a point, seen along a ray to it. */
export function isBehind(point: Vector, ray: Ray, piece: Piece, head: HeadModel, cut?: Cut): boolean {
  const { origin, direction } = ray;
  const distance = Math.hypot(point[0] - origin[0], point[1] - origin[1], point[2] - origin[2]) - slack;
  if (head.isShown && head.surface?.rays.first(origin, direction, cut, distance)) return true;
  return piece.shown().some(({ surface }) => surface.rays.first(origin, direction, cut, distance));
}
