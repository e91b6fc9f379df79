import type { Vec3 } from "../geometry/vector";
import type { Place } from "../message";
import { number, options, text } from "./check";
import { designError, placeOfCall } from "./error";
import type { Prop as PropData } from "./part";
import { type PointLike, toPoint } from "./point";

/** How a prop is made; what is left out is as the plan proposes. */
export interface PropOptions {
  /** Diameter of the neck where it breaks off, mm. */
  neck?: number;
  /** Diameter of the strut where it is thinnest below the neck, mm. */
  thickness?: number;
  /** Diameter of the foot on the plate, mm. */
  foot?: number;
}

/** A printed strut that holds the piece up while it is printed, and is broken off. */
export class Prop implements PropData {
  readonly kind = "prop";
  readonly name: string;
  readonly at: Vec3;
  readonly neck?: number;
  readonly thickness?: number;
  readonly foot?: number;
  readonly origin?: Place;

  constructor(name: string, at: Vec3, sizes: PropOptions, origin?: Place) {
    this.name = name;
    this.at = at;
    const { neck, thickness, foot } = sizes;
    if (neck !== undefined) this.neck = neck;
    if (thickness !== undefined) this.thickness = thickness;
    if (foot !== undefined) this.foot = foot;
    if (origin) this.origin = origin;
  }
}

/**
 * A printed strut under a place of the piece, from the plate to a thin neck that breaks off. It is no part of what is
 * worn. Where it stands is known when the print is planned: it goes down from the surface under the place.
 * @example prop("under the horn", horn.at(0.9))
 * @example prop("under the stem", stem.at(1), { neck: 1.5, thickness: 4, foot: 14 })
 */
export function prop(name: string, place: PointLike, sizes: PropOptions = {}): Prop {
  text(name, "the name of the prop");
  const { position } = toPoint(place, `the place of prop "${name}"`);
  options(sizes, `prop "${name}"`, ["neck", "thickness", "foot"]);
  const size = (key: keyof PropOptions, least: number, most: number) => {
    const value = sizes[key];
    return value === undefined ? {} : { [key]: number(value, `${key} of prop "${name}"`, { least, most }) };
  };
  const checked: PropOptions = {
    ...size("neck", 0.4, 10),
    ...size("thickness", 1, 50),
    ...size("foot", 2, 200),
  };
  ascending(name, checked, "neck", "thickness");
  ascending(name, checked, "thickness", "foot");
  ascending(name, checked, "neck", "foot");
  return new Prop(name, position, checked, placeOfCall());
}

/** A prop widens downwards, so that it prints. */
function ascending(name: string, sizes: PropOptions, upper: keyof PropOptions, lower: keyof PropOptions) {
  const [above, below] = [sizes[upper], sizes[lower]];
  if (above === undefined || below === undefined || above <= below) return;
  throw designError({
    id: "prop-narrows",
    text: `${upper} of prop "${name}" is ${above}, wider than its ${lower} of ${below}`,
    suggestion: `give a ${upper} of at most ${below}, or a wider ${lower}: a prop widens towards the plate`,
  });
}
