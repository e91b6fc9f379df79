/** Thick segments (capsules with two radii) in a hash grid, for finding those near a point. */

/** Numbers per segment: start x, y, z, its radius, end x, y, z, its radius (mm), and 1 if it stands free, else 0. */
export const segmentStride = 9;
export const standsFree = 8;

export class CapsuleGrid {
  private readonly data: number[] = [];
  private readonly cells = new Map<number, number[]>();
  /** The query that last met each segment. */
  private readonly stamps: number[] = [];
  private stamp = 0;

  /** `cell`: edge of a cell, mm; best near the usual diameter. */
  constructor(private readonly cell: number) {}

  get count(): number {
    return this.data.length / segmentStride;
  }

  /** The numbers of all segments, `segmentStride` each. */
  get segments(): readonly number[] {
    return this.data;
  }

  /** Adds a thick polyline: x, y, z of each point in turn, its radii, and which points stand free. */
  addLine(
    points: ArrayLike<number>,
    radii: ArrayLike<number>,
    closed: boolean,
    free: (point: number) => boolean,
  ): void {
    const count = radii.length;
    for (let i = 0; i < (closed ? count : count - 1); i++) {
      const [a, b] = [i * 3, ((i + 1) % count) * 3];
      const [ra, rb] = [radii[i], radii[(i + 1) % count]];
      const index = this.count;
      this.data.push(
        points[a],
        points[a + 1],
        points[a + 2],
        ra,
        points[b],
        points[b + 1],
        points[b + 2],
        rb,
        free(i) ? 1 : 0,
      );
      const r = Math.max(ra, rb);
      const c = this.cell;
      const low = (k: number) => Math.floor((Math.min(points[a + k], points[b + k]) - r) / c);
      const high = (k: number) => Math.floor((Math.max(points[a + k], points[b + k]) + r) / c);
      const [x1, y0, y1, z0, z1] = [high(0), low(1), high(1), low(2), high(2)];
      for (let x = low(0); x <= x1; x++) {
        for (let y = y0; y <= y1; y++) {
          for (let z = z0; z <= z1; z++) {
            const key = cellKey(x, y, z);
            const list = this.cells.get(key);
            if (list) list.push(index);
            else this.cells.set(key, [index]);
          }
        }
      }
      this.stamps.push(0);
    }
  }

  /**
   * Adds to `found` the segments whose surface may lie within `reach` of a point, each once, and to `distances` the least
   * that each may be away, mm.
   */
  near(x: number, y: number, z: number, reach: number, found: number[], distances?: number[]): void {
    const c = this.cell;
    const stamp = ++this.stamp;
    const [x1, y0, y1] = [
      Math.floor((x + reach) / c),
      Math.floor((y - reach) / c),
      Math.floor((y + reach) / c),
    ];
    const [z0, z1] = [Math.floor((z - reach) / c), Math.floor((z + reach) / c)];
    for (let i = Math.floor((x - reach) / c); i <= x1; i++) {
      for (let j = y0; j <= y1; j++) {
        for (let k = z0; k <= z1; k++) {
          const list = this.cells.get(cellKey(i, j, k));
          if (!list) continue;
          for (const index of list) {
            if (this.stamps[index] === stamp) continue;
            this.stamps[index] = stamp;
            const distance = this.surfaceDistance(index, x, y, z);
            if (distance >= reach) continue;
            found.push(index);
            distances?.push(distance);
          }
        }
      }
    }
  }

  private surfaceDistance(index: number, x: number, y: number, z: number): number {
    const d = this.data;
    const a = index * segmentStride;
    const t = segmentShare(d[a], d[a + 1], d[a + 2], d[a + 4], d[a + 5], d[a + 6], x, y, z);
    const px = x - d[a] - t * (d[a + 4] - d[a]);
    const py = y - d[a + 1] - t * (d[a + 5] - d[a + 1]);
    const pz = z - d[a + 2] - t * (d[a + 6] - d[a + 2]);
    return Math.sqrt(px * px + py * py + pz * pz) - Math.max(d[a + 3], d[a + 7]);
  }
}

const cellKey = (x: number, y: number, z: number): number =>
  ((x & 0xffff) * 0x10000 + (y & 0xffff)) * 0x10000 + (z & 0xffff);

/** Share along the segment a-b of its point nearest to p, 0 to 1. */
export function segmentShare(
  ax: number,
  ay: number,
  az: number,
  bx: number,
  by: number,
  bz: number,
  px: number,
  py: number,
  pz: number,
): number {
  const dx = bx - ax;
  const dy = by - ay;
  const dz = bz - az;
  const square = dx * dx + dy * dy + dz * dz;
  if (square === 0) return 0;
  const t = ((px - ax) * dx + (py - ay) * dy + (pz - az) * dz) / square;
  return Math.min(1, Math.max(0, t));
}
