import type { Vec2 } from "../geometry/vector";
import { number, options, text } from "./check";
import { designError } from "./error";
import { Path } from "./path";
import { type Tube, tubeOf } from "./tube";

/** How a band is made: round with a `radius`, or a flat strap with `width` and `thickness`, mm. */
export interface BandOptions {
  /** Radius of a round band. */
  radius?: number;
  /** Width of a strap, across its line. */
  width?: number;
  /** Thickness of a strap, off the head; 3 unless given. */
  thickness?: number;
}

/** How far a strap reaches into the head, mm: the hollowing takes it away, so that its seat follows the head. */
const strapReach = 3;

/**
 * A band that sits on the head along a line of it: what the rest of a piece stands on.
 * @example band("ring", head.girthLine.raised(12), { radius: 6 })
 * @example band("circlet", head.girthLine.raised(8), { width: 22, thickness: 3.2 })
 */
export function band(name: string, line: Path, shape: BandOptions): Tube {
  text(name, "the name of the band");
  options(shape, `band "${name}"`, ["radius", "width", "thickness"]);
  if (!(line instanceof Path)) {
    throw designError({
      id: "not-a-path",
      text: `band "${name}" needs the line that it lies along`,
      suggestion: "give head.girthLine, head.girthLine.raised(12), or a path made with alongHead",
    });
  }
  if (shape.radius !== undefined) {
    if (shape.width !== undefined || shape.thickness !== undefined) {
      throw designError({
        id: "two-sections",
        text: `band "${name}" has a radius and also a width or a thickness`,
        suggestion: "give radius for a round band, or width and thickness for a strap",
      });
    }
    return tubeOf(name, line, { radius: shape.radius });
  }
  const width = number(shape.width, `width of band "${name}"`, { above: 0, most: 500 });
  const thickness = number(shape.thickness ?? 3, `thickness of band "${name}"`, { above: 0, most: 100 });
  const flat = line.closed ? line : line.part(0, 1);
  const ends = line.closed ? {} : { tip: "flat" as const };
  return tubeOf(name, flat, { section: strap(width, thickness), radius: 1, facing: "out", ...ends });
}

/** A strap seen along its line: rounded away from the head, square towards it. */
function strap(width: number, thickness: number): Vec2[] {
  const half = width / 2;
  const corner = Math.min(thickness, half) * 0.6;
  const arc = (x: number, y: number, from: number): Vec2[] =>
    Array.from({ length: 5 }, (_, i) => {
      const angle = from + (Math.PI / 2) * (i / 4);
      return [x + corner * Math.cos(angle), y + corner * Math.sin(angle)];
    });
  return [
    [-half, -strapReach],
    [half, -strapReach],
    ...arc(half - corner, thickness - corner, 0),
    ...arc(corner - half, thickness - corner, Math.PI / 2),
  ];
}
