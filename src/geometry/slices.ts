import { oppositeHalves } from "./edgeTable";
import type { TriangleMesh } from "./mesh";

/**
 * Level slices of a closed mesh. A vertex that lies exactly at a height counts as just above it, so every triangle
 * gives one segment or none and all outlines close, whatever lies level with the cut.
 */

/** Areas (mm²) of level slices and lengths (mm) of their outlines, one a height. */
export interface SliceMeasures {
  readonly area: Float64Array;
  readonly perimeter: Float64Array;
}

/** One outline of a slice: x, y of its points in turn, closed from the last to the first. */
export type Loop = Float64Array;

/**
 * Area and length of outline of the slices of a closed mesh at ascending heights, without chaining them: the area is
 * the sum over oriented segments of the shoelace formula. Exact for the mesh; outlines inside others count as they are
 * oriented, so holes are taken off.
 * @throws RangeError for a mesh that is empty, open or not finite, or heights that do not ascend.
 */
export function sliceMeasures(mesh: TriangleMesh, at: ArrayLike<number>): SliceMeasures {
  const heights = Float64Array.from(at);
  const { under } = new HeightSpans(mesh, heights);
  const { positions: p, triangles } = mesh;
  const area = new Float64Array(heights.length);
  const perimeter = new Float64Array(heights.length);
  const openX = new Float64Array(heights.length);
  const openY = new Float64Array(heights.length);
  // Near the outlines, so that no digits are lost on a mesh far from the origin.
  const ox = p[3 * triangles[0]];
  const oy = p[3 * triangles[0] + 1];
  for (let t = 0; t < triangles.length; t += 3) {
    const underA = under[triangles[t]];
    const underB = under[triangles[t + 1]];
    const underC = under[triangles[t + 2]];
    const first = Math.min(underA, underB, underC);
    const end = Math.max(underA, underB, underC);
    if (first === end) continue;
    // Up to the middle vertex the same two edges are cut, from there on another and the longest.
    const middle = underA + underB + underC - first - end;
    const a = 3 * triangles[t];
    const b = 3 * triangles[t + 1];
    const c = 3 * triangles[t + 2];
    for (let from = first; from < end; ) {
      const to = from < middle ? middle : end;
      const isA = from < underA;
      const isB = from < underB;
      const isC = from < underC;
      // From the edge that goes down, from d to e, to the edge that goes up, from f to g: the solid lies to the left.
      const d = isA && !isB ? a : isB && !isC ? b : c;
      const e = d === a ? b : d === b ? c : a;
      const f = !isA && isB ? a : !isB && isC ? b : c;
      const g = f === a ? b : f === b ? c : a;
      // Always from the lower end, so that both triangles of an edge find the same point.
      const downX = p[d] - p[e];
      const downY = p[d + 1] - p[e + 1];
      const downZ = p[d + 2] - p[e + 2];
      const upX = p[g] - p[f];
      const upY = p[g + 1] - p[f + 1];
      const upZ = p[g + 2] - p[f + 2];
      for (let i = from; i < to; i++) {
        const s = (heights[i] - p[e + 2]) / downZ;
        const u = (heights[i] - p[f + 2]) / upZ;
        const x0 = p[e] + s * downX - ox;
        const y0 = p[e + 1] + s * downY - oy;
        const x1 = p[f] + u * upX - ox;
        const y1 = p[f + 1] + u * upY - oy;
        const dx = x1 - x0;
        const dy = y1 - y0;
        area[i] += (x0 * y1 - x1 * y0) / 2;
        perimeter[i] += Math.sqrt(dx * dx + dy * dy);
        openX[i] += dx;
        openY[i] += dy;
      }
      from = to;
    }
  }
  for (let i = 0; i < heights.length; i++) {
    if (Math.hypot(openX[i], openY[i]) > 1e-6 * perimeter[i] + 1e-9) throw openAt(heights[i]);
  }
  return { area, perimeter };
}

/**
 * Outlines of the slices of a closed mesh at ascending heights: counter-clockwise around the solid, clockwise around
 * holes. Triangles come in when the cut reaches their lowest vertex and go out at their highest (an active list), and
 * outlines are walked from neighbour to neighbour: in time that grows with the segments.
 * @throws RangeError for a mesh that is empty, open or not finite, or heights that do not ascend.
 */
export function sliceLoops(mesh: TriangleMesh, at: ArrayLike<number>): Loop[][] {
  const heights = Float64Array.from(at);
  const spans = new HeightSpans(mesh, heights);
  const neighbours = oppositeHalves(mesh);
  const walk = new OutlineWalk(mesh, neighbours);
  const count = mesh.triangles.length / 3;
  const ends = new Uint32Array(count);
  const starting = new Uint32Array(heights.length + 2);
  for (let t = 0; t < count; t++) {
    const first = spans.first(3 * t);
    ends[t] = spans.end(3 * t);
    if (first < ends[t]) starting[first + 2]++;
  }
  for (let i = 1; i < starting.length; i++) starting[i] += starting[i - 1];
  const byStart = new Uint32Array(starting[heights.length + 1]);
  for (let t = 0; t < count; t++) {
    const first = spans.first(3 * t);
    if (first < ends[t]) byStart[starting[first + 1]++] = t;
  }
  const active = new Uint32Array(byStart.length);
  let activeCount = 0;
  let next = 0;
  const slices: Loop[][] = [];
  for (let i = 0; i < heights.length; i++) {
    let kept = 0;
    for (let k = 0; k < activeCount; k++) {
      if (ends[active[k]] > i) active[kept++] = active[k];
    }
    activeCount = kept;
    while (next < starting[i + 1]) active[activeCount++] = byStart[next++];
    slices.push(walk.loops(heights[i], active, activeCount));
  }
  return slices;
}

const openAt = (height: number): RangeError =>
  new RangeError(`The mesh is open at height ${height} mm: it must be closed to be sliced.`);

/** Which of the ascending heights cut each triangle. */
class HeightSpans {
  readonly #triangles: Uint32Array;
  /** For each vertex, how many heights lie at it or below: those are numbered less than this. */
  readonly under: Uint32Array;

  constructor({ positions, triangles }: TriangleMesh, heights: Float64Array) {
    if (triangles.length === 0) throw new RangeError("The mesh has no triangles: there is nothing to slice.");
    for (let i = 0; i < heights.length; i++) {
      if (!Number.isFinite(heights[i]) || (i > 0 && heights[i] <= heights[i - 1])) {
        throw new RangeError(
          `Height ${i} is ${heights[i]} mm: the heights of slices must be finite and ascend.`,
        );
      }
    }
    this.#triangles = triangles;
    const under = new Uint32Array(positions.length / 3);
    this.under = under;
    for (let v = 0; v < under.length; v++) {
      const x = positions[3 * v];
      const y = positions[3 * v + 1];
      const z = positions[3 * v + 2];
      if (!Number.isFinite(x + y + z)) {
        throw new RangeError(`Vertex ${v} of the mesh lies at (${x}, ${y}, ${z}): it must be finite.`);
      }
      let low = 0;
      let high = heights.length;
      while (low < high) {
        const middle = (low + high) >> 1;
        if (heights[middle] <= z) low = middle + 1;
        else high = middle;
      }
      under[v] = low;
    }
  }

  /** First height that cuts the triangle whose corners begin at `t`: the first over its lowest vertex. */
  first(t: number): number {
    const u = this.under;
    return Math.min(u[this.#triangles[t]], u[this.#triangles[t + 1]], u[this.#triangles[t + 2]]);
  }

  /** One past the last: those at its highest vertex cut it. */
  end(t: number): number {
    const u = this.under;
    return Math.max(u[this.#triangles[t]], u[this.#triangles[t + 1]], u[this.#triangles[t + 2]]);
  }
}

/** Walks the outlines of one slice after another. */
class OutlineWalk {
  readonly #p: Float32Array;
  readonly #triangles: Uint32Array;
  readonly #neighbours: Int32Array;
  /** Number of the last slice in which each triangle was walked. */
  readonly #walked: Uint32Array;
  #slice = 0;
  #points = new Float64Array(4096);

  constructor({ positions, triangles }: TriangleMesh, neighbours: Int32Array) {
    this.#p = positions;
    this.#triangles = triangles;
    this.#neighbours = neighbours;
    this.#walked = new Uint32Array(triangles.length / 3);
  }

  /** Outlines at a height, over the triangles that it cuts. */
  loops(height: number, cut: Uint32Array, count: number): Loop[] {
    this.#slice++;
    const loops: Loop[] = [];
    for (let k = 0; k < count; k++) {
      if (this.#walked[cut[k]] !== this.#slice) loops.push(this.#loop(height, cut[k]));
    }
    return loops;
  }

  #loop(height: number, from: number): Loop {
    const p = this.#p;
    const corners = this.#triangles;
    let points = this.#points;
    let length = 0;
    let triangle = from;
    let side = this.#wayIn(height, from);
    do {
      this.#walked[triangle] = this.#slice;
      const t = 3 * triangle;
      // In over the edge that goes down; out over the one of the other two that goes up.
      const next = side === 2 ? 0 : side + 1;
      const last = side === 0 ? 2 : side - 1;
      const isLastOver = p[3 * corners[t + last] + 2] >= height;
      const out = isLastOver ? next : last;
      const low = 3 * corners[t + out];
      const high = 3 * corners[t + (isLastOver ? last : side)];
      const share = (height - p[low + 2]) / (p[high + 2] - p[low + 2]);
      if (length + 2 > points.length) points = this.#grow();
      points[length++] = p[low] + share * (p[high] - p[low]);
      points[length++] = p[low + 1] + share * (p[high + 1] - p[low + 1]);
      const across = this.#neighbours[t + out];
      if (across < 0) throw openAt(height);
      triangle = (across / 3) | 0;
      side = across - 3 * triangle;
    } while (this.#walked[triangle] !== this.#slice);
    if (triangle !== from) throw openAt(height);
    return points.slice(0, length);
  }

  /** The side of a triangle that goes down through a height that cuts it. */
  #wayIn(height: number, triangle: number): number {
    const t = 3 * triangle;
    const isA = this.#p[3 * this.#triangles[t] + 2] >= height;
    const isB = this.#p[3 * this.#triangles[t + 1] + 2] >= height;
    const isC = this.#p[3 * this.#triangles[t + 2] + 2] >= height;
    return isA && !isB ? 0 : isB && !isC ? 1 : 2;
  }

  #grow(): Float64Array<ArrayBuffer> {
    const larger = new Float64Array(2 * this.#points.length);
    larger.set(this.#points);
    this.#points = larger;
    return larger;
  }
}
