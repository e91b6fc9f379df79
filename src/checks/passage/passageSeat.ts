import { pickedPoints } from "../../geometry/pickedPoints";
import type { SignedDistance } from "../../geometry/signedDistance";
import { emptyPlace, type NearestPlace } from "../../geometry/triangleTree";
import type { Vec3 } from "../../geometry/vector";
import type { WornHead } from "../wornHead";
import { greatestAround } from "./cellsAround";
import type { PassageMap } from "./passageMap";
import { alongMotion, slideTowards } from "./passageMotion";
import { slideClearance } from "./passageSlides";

/** A piece's surface as it sits, made ready to be taken off. */
export interface SeatedPoints {
  /** x, y, z in turn, mm; what enters the bare head lies on its skin instead. */
  readonly bare: Float32Array;
  /** The same for the head with its hair pressed flat. */
  readonly pressed: Float32Array;
  /** How deep the piece enters the bare head at its seat, mm. */
  readonly enters: number;
  readonly entersAt: Vec3 | undefined;
}

/** Up and to the four sides: tilt and azimuth. */
const roundAbout = [
  [0, 0],
  [90, 0],
  [90, 180],
  [90, 90],
  [90, -90],
] as const;

/** What enters the head is laid this far off its skin, mm, so that rounding does not put it inside again. */
const offSkin = 0.01;

/**
 * Points of a piece as they sit, those inside the head moved on to its skin: what enters at the seat already is no
 * matter of the way there. A point is taken to be inside only where the head stands all round it, so that the sign of
 * the distance to an open mesh does no harm.
 */
export function seatedPoints(positions: Float32Array, head: WornHead): SeatedPoints {
  const isSame = head.pressed === head.bare;
  const bare = positions.slice();
  const pressed = isSame ? bare : positions.slice();
  const hair = Math.min(head.room.hair, head.room.hairPressed);
  const place = emptyPlace();
  let enters = 0;
  let entersAt: Vec3 | undefined;
  let [guess, pressedGuess] = [-1, -1];
  for (const sample of amidHead(positions, head.bare)) {
    const i = 3 * sample;
    const x = positions[i];
    const y = positions[i + 1];
    const z = positions[i + 2];
    head.bare.nearest(x, y, z, place, Infinity, guess);
    guess = place.triangle;
    const { distance } = place;
    layOnSkin(x, y, z, place, bare, i);
    if (-distance > enters) {
      enters = -distance;
      entersAt = [x, y, z];
    }
    // The head with its hair is nowhere larger by more than the hair, but for the meshes' own chords.
    if (isSame || distance > hair + 0.5) continue;
    head.pressed.nearest(x, y, z, place, Infinity, pressedGuess);
    pressedGuess = place.triangle;
    layOnSkin(x, y, z, place, pressed, i);
  }
  return { bare, pressed, enters, entersAt };
}

function layOnSkin(
  x: number,
  y: number,
  z: number,
  place: NearestPlace,
  into: Float32Array,
  at: number,
): void {
  if (!(place.distance < 0) || place.triangle < 0) return;
  const out = 1 + offSkin / -place.distance;
  into[at] = x + (place.x - x) * out;
  into[at + 1] = y + (place.y - y) * out;
  into[at + 2] = z + (place.z - z) * out;
}

/** Samples that see the head above them and to all sides, to within a cell of the maps. */
function amidHead(positions: Float32Array, head: SignedDistance): Uint32Array {
  let samples = new Uint32Array(positions.length / 3);
  for (let i = 0; i < samples.length; i++) samples[i] = i;
  let points = positions;
  for (const [tilt, azimuth] of roundAbout) {
    const { map } = slideClearance(head, tilt, azimuth);
    const { columns, rows, cell, u0, v0 } = map;
    const around = highAround(map);
    const seen = alongMotion(points, slideTowards(tilt, azimuth), new Float32Array(points.length));
    let kept = 0;
    for (let k = 0; k < samples.length; k++) {
      const column = Math.round((seen[3 * k] - u0) / cell) + 1;
      const row = Math.round((seen[3 * k + 1] - v0) / cell) + 1;
      if (!(column >= 0 && column < columns + 2 && row >= 0 && row < rows + 2)) continue;
      if (seen[3 * k + 2] - cell < around[row * (columns + 2) + column]) samples[kept++] = samples[k];
    }
    samples = samples.subarray(0, kept);
    points = pickedPoints(positions, samples);
  }
  return samples;
}

/** Kept as long as the map is: a head is worn by one piece after another. */
const known = new WeakMap<PassageMap, Float32Array>();

/** Greatest `high` of each cell and the eight round it; one cell more on every side of the map. */
function highAround(map: PassageMap): Float32Array {
  let around = known.get(map);
  if (around) return around;
  const { columns, rows, high } = map;
  const widened = new Float32Array((columns + 2) * (rows + 2)).fill(-Infinity);
  for (let row = 0; row < rows; row++) {
    widened.set(high.subarray(row * columns, (row + 1) * columns), (row + 1) * (columns + 2) + 1);
  }
  around = greatestAround(widened, columns + 2, rows + 2);
  known.set(map, around);
  return around;
}
