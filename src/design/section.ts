import { geometries } from "@jscad/modeling";
import type { Geom2 } from "@jscad/modeling/src/geometries/types";
import type { SectionData } from "../geometry/tubeShape";
import type { Vec2 } from "../geometry/vector";
import { number, shown } from "./check";
import { designError } from "./error";

/**
 * The outline that is swept: `"circle"`, a list of `[x, y]` around it, or a `geom2` of @jscad/modeling of one
 * outline. Its size is in radii of the tube, and without a radius in mm. +Y is away from the head on a band.
 */
export type Section = "circle" | readonly Vec2[] | Geom2;

/** An outline as plain data, counter-clockwise. */
export function toSection(section: Section | undefined, name: string): SectionData {
  if (section === undefined || section === "circle") return { kind: "circle" };
  const points = Array.isArray(section) ? (section as readonly Vec2[]) : outlineOf(section as Geom2, name);
  if (points.length < 3) {
    throw designError({
      id: "too-few-points",
      text: `the section of "${name}" has ${points.length} points`,
      suggestion: "give at least three points around the outline",
    });
  }
  const checked = points.map(
    (point, i): Vec2 => [
      number(point?.[0], `x of section point ${i + 1} of "${name}"`, { least: -1000, most: 1000 }),
      number(point?.[1], `y of section point ${i + 1} of "${name}"`, { least: -1000, most: 1000 }),
    ],
  );
  const area = signedArea(checked);
  if (Math.abs(area) < 1e-6) {
    throw designError({
      id: "no-area",
      text: `the section of "${name}" has no area`,
      suggestion: "give points around an outline, not along a line",
    });
  }
  return { kind: "outline", points: area < 0 ? checked.reverse() : checked };
}

function outlineOf(section: Geom2, name: string): Vec2[] {
  if (!geometries.geom2.isA(section)) {
    throw designError({
      id: "not-a-section",
      text: `the section of "${name}" is ${shown(section)}`,
      suggestion: 'give "circle", a list of [x, y], or a geom2 of @jscad/modeling',
    });
  }
  const outlines = geometries.geom2.toOutlines(section);
  if (outlines.length !== 1) {
    throw designError({
      id: "section-of-several-outlines",
      text: `the section of "${name}" has ${outlines.length} outlines`,
      suggestion: "give a geom2 of one outline; for an empty core use hollow",
    });
  }
  return outlines[0].map(([x, y]): Vec2 => [x, y]);
}

const signedArea = (points: readonly Vec2[]): number =>
  points.reduce((sum, [x, y], i) => {
    const [nextX, nextY] = points[(i + 1) % points.length];
    return sum + (x * nextY - nextX * y) / 2;
  }, 0);
