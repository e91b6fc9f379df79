import { pickedPoints } from "../../geometry/pickedPoints";
import type { Vec3 } from "../../geometry/vector";
import type { WornHead } from "../wornHead";
import type { SeatedPoints } from "./passageSeat";

/** Some of a piece's points, with which ways are looked for. */
export interface SearchPoints {
  /** Which of the piece's samples they are. */
  readonly samples: Uint32Array;
  /** x, y, z in turn, mm, as they sit on the bare head, and on the one with its hair pressed. */
  readonly bare: Float32Array;
  readonly pressed: Float32Array;
}

/** Distance between the points that a search asks, mm. */
const searchSpacing = 4;
/** Cubes to either side of the origin. */
const mostCubes = 500;

/** Of each small cube the point that is nearest to the head's centre. */
export function searchPoints(seated: SeatedPoints, head: WornHead): SearchPoints {
  const samples = innermost(seated.bare, headCentre(head));
  const bare = pickedPoints(seated.bare, samples);
  return {
    samples,
    bare,
    pressed: seated.pressed === seated.bare ? bare : pickedPoints(seated.pressed, samples),
  };
}

/** Middle of the head's length, at the height of the girth, mm. */
export function headCentre({ landmarks: { brow, back } }: WornHead): Vec3 {
  return [0, (brow[1] + back[1]) / 2, (brow[2] + back[2]) / 2];
}

/** One point of each small cube: the one nearest to the head's centre. */
function innermost(positions: Float32Array, [cx, cy, cz]: Vec3): Uint32Array {
  const count = positions.length / 3;
  const samples = new Uint32Array(count);
  // Squared, mm².
  const away = new Float64Array(count);
  const placeOf = new Map<number, number>();
  for (let i = 0; i < count; i++) {
    const x = positions[3 * i];
    const y = positions[3 * i + 1];
    const z = positions[3 * i + 2];
    const own = (x - cx) ** 2 + (y - cy) ** 2 + (z - cz) ** 2;
    const key =
      ((Math.floor(z / searchSpacing) + mostCubes) * 2 * mostCubes +
        (Math.floor(y / searchSpacing) + mostCubes)) *
        2 *
        mostCubes +
      (Math.floor(x / searchSpacing) + mostCubes);
    let place = placeOf.get(key);
    if (place === undefined) {
      place = placeOf.size;
      placeOf.set(key, place);
    } else if (!(own < away[place])) continue;
    samples[place] = i;
    away[place] = own;
  }
  return samples.slice(0, placeOf.size);
}
