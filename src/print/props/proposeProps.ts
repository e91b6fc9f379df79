import type { Support } from "../support/support";
import { defaultPropLimits, type PropLimits } from "./propLimits";
import type { PropRequest } from "./propRequest";

/** A place that is held up, plate's frame. */
interface HeldPlace {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly run: number;
}

/** Cells of the grid that finds neighbours, to each side of the origin. */
const halfGrid = 1 << 20;
/** Of the places that could hold one, so many are asked. */
const everyNth = 3;

/** What is held up from so near below needs no prop: no strut fits, and a support as low does not fail, mm. */
const leastRun = 8;
/** A neck near to a lowest place holds it too where it is no higher than this, mm: two usual layers. */
const sameHeight = 0.4;

/**
 * Places for necks that hold all that columns of support at risk hold: one at every lowest place, where the piece begins
 * in the air, and others so that nothing held is farther from a neck's rim than half a bridge (greedy set cover, Chvátal
 * 1979).
 * @param gap room between a support and what it holds, mm
 * @param taken whether a place is held or given up already
 */
export function proposeProps(
  support: Support,
  gap: number,
  limits: PropLimits = defaultPropLimits,
  taken: (x: number, y: number, z: number) => boolean = () => false,
): PropRequest[] {
  const requests: PropRequest[] = [];
  support.columns.forEach(({ risk }, group) => {
    if (!risk) return;
    const held = placesOf(support, group, gap).filter(({ x, y, z }) => !taken(x, y, z));
    for (const { x, y, z } of coverOf(held, support, limits.reach + limits.neck / 2)) {
      requests.push({ name: `proposed ${requests.length + 1}`, at: [x, y, z - 0.05], isProposed: true });
    }
  });
  return requests;
}

function placesOf({ runs }: Support, group: number, gap: number): HeldPlace[] {
  const places: HeldPlace[] = [];
  for (let i = 0; i < runs.count; i++) {
    if (runs.group[i] !== group || runs.top[i] - runs.bottom[i] < leastRun) continue;
    places.push({
      x: runs.origin[0] + (runs.column[i] + 0.5) * runs.cell,
      y: runs.origin[1] + (runs.row[i] + 0.5) * runs.cell,
      z: runs.top[i] + gap,
      run: i,
    });
  }
  return places.sort((a, b) => a.z - b.z || a.run - b.run);
}

/** Few of the places, the lowest among them, such that each is within `reach` of one. */
function coverOf(places: readonly HeldPlace[], { runs }: Support, reach: number): HeldPlace[] {
  const grid = new Map<number, number[]>();
  const keyOf = (x: number, y: number) =>
    (Math.floor(x / reach) + halfGrid) * 2 * halfGrid + Math.floor(y / reach) + halfGrid;
  places.forEach(({ x, y }, i) => {
    const key = keyOf(x, y);
    const list = grid.get(key);
    if (list) list.push(i);
    else grid.set(key, [i]);
  });
  const near = (of: HeldPlace, within: number): number[] => {
    const found: number[] = [];
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        for (const i of grid.get(keyOf(of.x + dx * reach, of.y + dy * reach)) ?? []) {
          const { x, y, z } = places[i];
          if (Math.hypot(x - of.x, y - of.y, z - of.z) <= within) found.push(i);
        }
      }
    }
    return found;
  };
  const isCovered = new Uint8Array(places.length);
  const chosen: HeldPlace[] = [];
  const choose = (place: HeldPlace) => {
    chosen.push(place);
    for (const i of near(place, reach)) isCovered[i] = 1;
  };
  const beside = 1.6 * runs.cell;
  for (const place of places) {
    const isLowest = near(place, Math.min(reach, 4 * runs.cell)).every((i) => {
      const other = places[i];
      const isBeside = Math.abs(other.x - place.x) < beside && Math.abs(other.y - place.y) < beside;
      return other === place || !isBeside || other.z > place.z + 1e-3;
    });
    const isHeld = chosen.some(
      ({ x, y, z }) =>
        Math.abs(z - place.z) < sameHeight && Math.hypot(x - place.x, y - place.y, z - place.z) <= reach,
    );
    if (isLowest && !isHeld) choose(place);
  }
  for (let i = 0; i < places.length; i++) {
    if (isCovered[i]) continue;
    let best = places[i];
    let most = 0;
    for (const [n, k] of near(places[i], reach).entries()) {
      if (n % everyNth > 0 && k !== i) continue;
      let count = 0;
      for (const j of near(places[k], reach)) if (!isCovered[j]) count++;
      if (count > most) [best, most] = [places[k], count];
    }
    choose(best);
  }
  return chosen;
}
