import type { Ray } from "./cameraRig";
import { valueAt } from "./fieldValues";
import type { HeadModel } from "./headModel";
import type { Piece } from "./piece";
import type { Cut } from "./rayIndex";
import { along, type Vector } from "./vector";

/** What a ray meets first. */
export interface Pointed {
  /** −1 for none, for the head and for what the head left. */
  readonly part: number;
  /** The value that the colours show there, mm. */
  readonly value?: number;
}

export const nothingPointed: Pointed = { part: -1 };

/** The part that a ray meets first, and the value there while values are shown. */
export function pointedBy(ray: Ray, piece: Piece, head: HeadModel, cut?: Cut): Pointed {
  let part = -1;
  let distance = Infinity;
  let value: number | undefined;
  const values = piece.shownValues;
  for (const { surface, part: whole } of piece.shown()) {
    const hit = surface.rays.first(ray.origin, ray.direction, cut, distance);
    if (!hit) continue;
    distance = hit.distance;
    part = whole ?? surface.partOf(hit.triangle) ?? -1;
    value =
      values &&
      valueAt(
        values,
        surface.positions,
        surface.triangles,
        hit.triangle,
        along(ray.origin, ray.direction, distance),
      );
  }
  const isHidden = head.isShown && head.surface?.rays.first(ray.origin, ray.direction, cut, distance);
  if (isHidden) return nothingPointed;
  // What takes away is seen through: it is met only where nothing else is.
  if (distance === Infinity) {
    for (const { surface, part: whole } of piece.shownCuts()) {
      const hit = surface.rays.first(ray.origin, ray.direction, cut, distance);
      if (!hit) continue;
      distance = hit.distance;
      part = whole;
    }
  }
  return value === undefined ? { part } : { part, value };
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
