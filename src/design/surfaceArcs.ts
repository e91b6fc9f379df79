import { distance, type Vec3 } from "../geometry/vector";

/** What arcs are walked over: the grown head. */
interface Surface {
  pointAt(place: { readonly azimuth: number; readonly elevation: number }): Vec3;
}

/** Degrees of one stride up or down: its chord is shorter than the arc by less than a part in a hundred thousand. */
const stride = 0.5;

/** Lengths along the girth from the middle of the brow to each whole degree to the right, mm; 361 of them. */
export function girthLengths(surface: Surface): Float64Array {
  const lengths = new Float64Array(361);
  let before = surface.pointAt({ azimuth: 0, elevation: 0 });
  for (let degree = 1; degree <= 360; degree++) {
    const point = surface.pointAt({ azimuth: degree, elevation: 0 });
    lengths[degree] = lengths[degree - 1] + distance(before, point);
    before = point;
  }
  return lengths;
}

/** The azimuth to which a length along the girth leads, degrees; it goes on round, as often as it is long. */
export function azimuthAlong(lengths: Float64Array, length: number): number {
  const girth = lengths[360];
  const turns = Math.floor(length / girth);
  const rest = length - turns * girth;
  let [low, high] = [0, 360];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (lengths[middle] <= rest) low = middle;
    else high = middle;
  }
  return 360 * turns + low + (rest - lengths[low]) / (lengths[high] - lengths[low]);
}

/** The length along the girth from the middle of the brow to an azimuth, mm; negative to the left. */
export function lengthTo(lengths: Float64Array, azimuth: number): number {
  const turns = Math.floor(azimuth / 360);
  const rest = azimuth - 360 * turns;
  const low = Math.min(359, Math.floor(rest));
  return turns * lengths[360] + lengths[low] + (rest - low) * (lengths[low + 1] - lengths[low]);
}

/**
 * The elevation that lies a length further up along the surface from another, at one azimuth, degrees; negative lengths
 * lead down. It ends at the crown, and straight below it.
 */
export function elevationAlong(surface: Surface, azimuth: number, from: number, length: number): number {
  const step = stride * Math.sign(length);
  let walked = 0;
  let elevation = from;
  let here = surface.pointAt({ azimuth, elevation });
  while (walked < Math.abs(length) && Math.abs(elevation + step) <= 90) {
    const next = surface.pointAt({ azimuth, elevation: elevation + step });
    const strode = distance(here, next);
    const share = Math.min(1, (Math.abs(length) - walked) / strode);
    elevation += step * share;
    walked += strode;
    here = next;
  }
  return elevation;
}
