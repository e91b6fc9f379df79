import { ExtentBlocks } from "./extentBlocks";
import { type PassageMap, turnOf } from "./passageMap";

/** Cells round a cell, nearest first, up to a radius. */
interface Spiral {
  readonly du: Int16Array;
  readonly dv: Int16Array;
  /** In cells. */
  readonly away: Float32Array;
}

/** Farther than so many cells away the nearest way out is only looked for in a few directions. */
const spiralRadius = 90;
/** Directions in which a way out is looked for. */
const ways = Array.from({ length: 16 }, (_, k): readonly [number, number] => [
  Math.cos((k * Math.PI) / 8),
  Math.sin((k * Math.PI) / 8),
]);
let spiralCache: Spiral | undefined;

function spiral(): Spiral {
  if (spiralCache) return spiralCache;
  const cells: (readonly [number, number, number])[] = [];
  for (let v = -spiralRadius; v <= spiralRadius; v++) {
    for (let u = -spiralRadius; u <= spiralRadius; u++) {
      const away = Math.hypot(u, v);
      if (away <= spiralRadius) cells.push([away, u, v]);
    }
  }
  cells.sort((a, b) => a[0] - b[0] || a[2] - b[2] || a[1] - b[1]);
  spiralCache = {
    away: Float32Array.from(cells, ([away]) => away),
    du: Int16Array.from(cells, ([, u]) => u),
    dv: Int16Array.from(cells, ([, , v]) => v),
  };
  return spiralCache;
}

/** Room beyond this is not told apart, mm. */
export const mostRoom = 12;

/** A place on the map across a motion, mm. */
export interface Foot {
  u: number;
  v: number;
}

/**
 * Asks a passage map how much room points have on their way, or how much they lack. All distances are across the
 * motion, to centres of cells: exact to about 0.7 cell.
 */
export class PassageClearance {
  readonly map: PassageMap;
  readonly #turn: number;
  readonly #leastV: number;
  readonly #blocks: ExtentBlocks;
  /** Where the last blocked point got out, or the last free one is nearest to the surface. */
  readonly foot: Foot = { u: 0, v: 0 };
  #hasFoot = false;

  constructor(map: PassageMap) {
    this.map = map;
    this.#turn = turnOf(map.motion);
    this.#leastV = map.motion.kind === "hinge" ? 0 : -Infinity;
    this.#blocks = new ExtentBlocks(map, Math.ceil(mostRoom / map.cell) + 1);
  }

  /** Whether the surface stops a point on its way, judged at the nearest cell's centre. */
  isStopped(u: number, v: number, w: number): boolean {
    const { map } = this;
    return this.#stopsAt(Math.round((u - map.u0) / map.cell), Math.round((v - map.v0) / map.cell), w);
  }

  /** Whether the surface stops a point and the four a cell beside it: it lacks about a cell or more. */
  isDeep(u: number, v: number, w: number): boolean {
    const { map } = this;
    const column = Math.round((u - map.u0) / map.cell);
    const row = Math.round((v - map.v0) / map.cell);
    return (
      this.#stopsAt(column, row, w) &&
      this.#stopsAt(column - 1, row, w) &&
      this.#stopsAt(column + 1, row, w) &&
      this.#stopsAt(column, row - 1, w) &&
      this.#stopsAt(column, row + 1, w)
    );
  }

  /**
   * Room across the motion (mm, at most `most`), or, negative, how far the point is from the nearest way out. Only what
   * lies below `most` is found exactly: a blocked point for which a way out is known within −`most` gives `most`.
   */
  at(u: number, v: number, w: number, most: number): number {
    const { map } = this;
    const column = Math.round((u - map.u0) / map.cell);
    const row = Math.round((v - map.v0) / map.cell);
    if (this.#stopsAt(column, row, w)) return this.#lacking(u, v, w, column, row, most);
    return most <= 0 ? most : this.#room(u, v, w, column, row, most);
  }

  /** Whether a point gets by with some room (mm) to spare. */
  hasRoom(u: number, v: number, w: number, room: number): boolean {
    return !this.isStopped(u, v, w) && this.at(u, v, w, room) >= room;
  }

  #stopsAt(column: number, row: number, w: number): boolean {
    const { columns, rows, high, low } = this.map;
    if (!(column >= 0 && column < columns && row >= 0 && row < rows)) return false;
    const at = row * columns + column;
    if (low === undefined) return w < high[at];
    const end = w + this.#turn;
    return (w < high[at] && end > low[at]) || end > low[at] + 2 * Math.PI;
  }

  #lacking(u: number, v: number, w: number, column: number, row: number, most: number): number {
    const { cell, u0, v0 } = this.map;
    if (most < 0 && this.#getsOutWithin(u, v, w, -most)) return most;
    const { du, dv, away } = spiral();
    for (let i = 1; i < away.length; i++) {
      const footV = v0 + (row + dv[i]) * cell;
      if (footV < this.#leastV || this.#stopsAt(column + du[i], row + dv[i], w)) continue;
      this.foot.u = u0 + (column + du[i]) * cell;
      this.foot.v = footV;
      this.#hasFoot = true;
      return Math.min(most, -Math.hypot(this.foot.u - u, footV - v));
    }
    return Math.min(most, -this.#farOut(u, v, w));
  }

  /** Whether a stopped point gets out within a distance where the last one did, or straight in one of 16 ways. */
  #getsOutWithin(u: number, v: number, w: number, distance: number): boolean {
    const { foot } = this;
    const { cell, u0, v0 } = this.map;
    if (
      this.#hasFoot &&
      Math.hypot(foot.u - u, foot.v - v) <= distance &&
      !this.isStopped(foot.u, foot.v, w)
    ) {
      return true;
    }
    // The nearest cell's centre lies up to 0.71 cell beside.
    const straight = distance - 0.71 * cell;
    if (straight <= 0) return false;
    for (const [c, s] of ways) {
      const column = Math.round((u + c * straight - u0) / cell);
      const row = Math.round((v + s * straight - v0) / cell);
      if (v0 + row * cell < this.#leastV || this.#stopsAt(column, row, w)) continue;
      foot.u = u0 + column * cell;
      foot.v = v0 + row * cell;
      this.#hasFoot = true;
      return true;
    }
    return false;
  }

  /** Way out of a stopped point farther than the spiral: the shortest straight one of 16. */
  #farOut(u: number, v: number, w: number): number {
    const { cell, columns, rows } = this.map;
    const most = Math.hypot(columns, rows) + 1;
    let out = spiralRadius - 1;
    for (; out < most; out++) {
      if (this.#getsOutWithin(u, v, w, out * cell)) break;
    }
    return out * cell;
  }

  #room(u: number, v: number, w: number, column: number, row: number, most: number): number {
    const { cell, u0, v0, columns, rows } = this.map;
    const reach = most / cell + 1;
    if (this.#blocks.isClear(column, row, w, w + this.#turn, reach)) return most;
    const { du, dv, away } = spiral();
    let least = most;
    for (let i = 1; i < away.length && away[i] < reach; i++) {
      const c = column + du[i];
      const r = row + dv[i];
      if (c < 0 || c >= columns || r < 0 || r >= rows || !this.#stopsAt(c, r, w)) continue;
      const found = Math.hypot(u0 + c * cell - u, v0 + r * cell - v);
      if (found < least) {
        least = found;
        this.foot.u = u0 + c * cell;
        this.foot.v = v0 + r * cell;
      }
      // Centres of cells lie up to 0.71 cell off the spiral's own distances.
      if (away[i] * cell > least + 0.71 * cell) break;
    }
    return least;
  }

  /** Least room of points (u, v, w in turn), negative where they are stopped; at most `mostRoom`. */
  least(points: Float32Array, floor = -Infinity, order?: Uint32Array): number {
    let least = mostRoom;
    const count = points.length / 3;
    for (let k = 0; k < count; k++) {
      const i = 3 * (order ? order[k] : k);
      const own = this.at(points[i], points[i + 1], points[i + 2], least);
      if (own < least) {
        least = own;
        // What stops one direction is likely to stop the next one too: it is asked first there.
        if (order && own < 0 && k > 0) {
          const first = order[0];
          order[0] = order[k];
          order[k] = first;
        }
        if (least < floor) return least;
      }
    }
    return least;
  }
}
