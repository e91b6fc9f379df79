import type { Vec3 } from "../../geometry/vector";
import type { WornHead } from "../wornHead";
import type { SeatedPoints } from "./passageSeat";

/** Some of a piece's points, with which ways are looked for. */
export interface SearchPoints {
  /** Which of the piece's samples they are. */
  readonly samples: readonly number[];
  /** x, y, z in turn, mm, as they sit on the bare head, and on the one with its hair pressed. */
  readonly bare: Float32Array;
  readonly pressed: Float32Array;
}

/** Distance between the points that a search asks, mm. */
const searchSpacing = 4;

/** Of each small cube the point that is nearest to the head's centre. */
export function searchPoints(seated: SeatedPoints, head: WornHead): SearchPoints {
  const samples = innermost(seated.bare, headCentre(head));
  const bare = gathered(seated.bare, samples);
  return {
    samples,
    bare,
    pressed: seated.pressed === seated.bare ? bare : gathered(seated.pressed, samples),
  };
}

/** Middle of the head's length, at the height of the girth, mm. */
export function headCentre({ landmarks: { brow, back } }: WornHead): Vec3 {
  return [0, (brow[1] + back[1]) / 2, (brow[2] + back[2]) / 2];
}

/** One point of each small cube: the one nearest to the head's centre. */
function innermost(positions: Float32Array, [cx, cy, cz]: Vec3): number[] {
  const best = new Map<number, number>();
  const away = (i: number): number =>
    Math.hypot(positions[3 * i] - cx, positions[3 * i + 1] - cy, positions[3 * i + 2] - cz);
  for (let i = 0; i < positions.length / 3; i++) {
    const column = Math.floor(positions[3 * i] / searchSpacing) + 500;
    const row = Math.floor(positions[3 * i + 1] / searchSpacing) + 500;
    const level = Math.floor(positions[3 * i + 2] / searchSpacing) + 500;
    const key = (level * 1000 + row) * 1000 + column;
    const known = best.get(key);
    if (known === undefined || away(i) < away(known)) best.set(key, i);
  }
  return [...best.values()];
}

function gathered(positions: Float32Array, samples: readonly number[]): Float32Array {
  const answer = new Float32Array(3 * samples.length);
  samples.forEach((sample, k) => {
    answer.set(positions.subarray(3 * sample, 3 * sample + 3), 3 * k);
  });
  return answer;
}
