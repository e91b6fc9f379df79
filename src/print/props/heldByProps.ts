import type { PropLimits } from "./propLimits";
import type { PropNeck } from "./strut";

/**
 * Whether necks hold a place of the piece: whether it lies no farther from the rim of one than half a bridge. mm, in the
 * necks' frame.
 */
export function heldByProps(
  necks: readonly PropNeck[],
  { reach }: Pick<PropLimits, "reach">,
): (x: number, y: number, z: number) => boolean {
  const side = Math.max(1, ...necks.map(({ diameter }) => reach + diameter / 2));
  const cells = new Map<string, PropNeck[]>();
  for (const neck of necks) {
    const [i, j] = [Math.floor(neck.at[0] / side), Math.floor(neck.at[1] / side)];
    for (let di = -1; di <= 1; di++) {
      for (let dj = -1; dj <= 1; dj++) {
        const key = `${i + di},${j + dj}`;
        const list = cells.get(key);
        if (list) list.push(neck);
        else cells.set(key, [neck]);
      }
    }
  }
  return (x, y, z) => {
    const near = cells.get(`${Math.floor(x / side)},${Math.floor(y / side)}`);
    return (
      near?.some(
        ({ at, diameter }) => Math.hypot(at[0] - x, at[1] - y, at[2] - z) <= reach + diameter / 2 + onEdge,
      ) ?? false
    );
  };
}

/** What 32-bit numbers and a slanted surface under a cell take, mm. */
const onEdge = 0.1;
