import type { TriangleMesh } from "./mesh";
import type { Section } from "./section";

/** Collects rings of one section, strips between them and faces over them into a mesh. */
export class MeshBuilder {
  private positions: Float32Array;
  private triangles: Uint32Array;
  private vertexCount = 0;
  private indexCount = 0;
  private readonly sectionX: Float64Array;
  private readonly sectionY: Float64Array;
  private readonly size: number;

  /** `rings`: how many are expected (more are possible). */
  constructor(section: Section, rings: number) {
    this.size = section.points.length;
    this.sectionX = Float64Array.from(section.points, (p) => p[0]);
    this.sectionY = Float64Array.from(section.points, (p) => p[1]);
    this.positions = new Float32Array((rings * this.size + 2) * 3);
    this.triangles = new Uint32Array((rings + 1) * this.size * 6);
  }

  /** Adds the section about centre `index`, shifted along the tangent; gives the index of its first vertex. */
  ring(
    centres: Float64Array,
    tangents: Float64Array,
    x: Float64Array,
    y: Float64Array,
    index: number,
    offset: number,
    radius: number,
  ): number {
    const first = this.vertexCount;
    this.reserve(this.size, 0);
    const a = index * 3;
    const cx = centres[a] + offset * tangents[a];
    const cy = centres[a + 1] + offset * tangents[a + 1];
    const cz = centres[a + 2] + offset * tangents[a + 2];
    const [xx, xy, xz] = [x[a] * radius, x[a + 1] * radius, x[a + 2] * radius];
    const [yx, yy, yz] = [y[a] * radius, y[a + 1] * radius, y[a + 2] * radius];
    const p = this.positions;
    let at = first * 3;
    for (let i = 0; i < this.size; i++) {
      const u = this.sectionX[i];
      const v = this.sectionY[i];
      p[at++] = cx + u * xx + v * yx;
      p[at++] = cy + u * xy + v * yy;
      p[at++] = cz + u * xz + v * yz;
    }
    this.vertexCount += this.size;
    return first;
  }

  /** Adds the centre `index`, shifted along the tangent, as one vertex. */
  point(centres: Float64Array, tangents: Float64Array, index: number, offset: number): number {
    this.reserve(1, 0);
    for (let axis = 0; axis < 3; axis++) {
      this.positions[this.vertexCount * 3 + axis] =
        centres[index * 3 + axis] + offset * tangents[index * 3 + axis];
    }
    return this.vertexCount++;
  }

  /**
   * Two triangles between each pair of points of two rings; point i of the first meets point i + shift. With
   * `alternate` every other diagonal runs the other way, so that those of a twisted face do not all cut in.
   */
  strip(from: number, to: number, shift: number, alternate?: 0 | 1): void {
    const n = this.size;
    this.reserve(0, n * 6);
    const t = this.triangles;
    let at = this.indexCount;
    for (let i = 0; i < n; i++) {
      const j = i + 1 === n ? 0 : i + 1;
      const a = from + i;
      const b = from + j;
      const c = to + ((i + shift) % n);
      const d = to + ((j + shift) % n);
      const other = alternate !== undefined && ((i + alternate) & 1) === 1;
      t[at++] = a;
      t[at++] = b;
      t[at++] = other ? c : d;
      t[at++] = other ? b : a;
      t[at++] = d;
      t[at++] = c;
    }
    this.indexCount = at;
  }

  /** A fan between a ring and a pole; `ahead`: the pole lies in the direction of the path. */
  fan(ring: number, pole: number, ahead: boolean): void {
    const n = this.size;
    this.reserve(0, n * 3);
    for (let i = 0; i < n; i++) {
      const [a, b] = [ring + i, ring + ((i + 1) % n)];
      this.triangle(ahead ? a : b, ahead ? b : a, pole);
    }
  }

  /** Given triangles over a ring; `ahead`: they look in the direction of the path. */
  face(ring: number, cap: readonly number[], ahead: boolean): void {
    this.reserve(0, cap.length);
    for (let i = 0; i < cap.length; i += 3) {
      const [a, b, c] = [ring + cap[i], ring + cap[i + 1], ring + cap[i + 2]];
      this.triangle(a, ahead ? b : c, ahead ? c : b);
    }
  }

  finish(): TriangleMesh {
    return {
      positions: this.positions.slice(0, this.vertexCount * 3),
      triangles: this.triangles.slice(0, this.indexCount),
    };
  }

  private triangle(a: number, b: number, c: number): void {
    this.triangles[this.indexCount++] = a;
    this.triangles[this.indexCount++] = b;
    this.triangles[this.indexCount++] = c;
  }

  private reserve(vertices: number, indices: number): void {
    if ((this.vertexCount + vertices) * 3 > this.positions.length) {
      const larger = new Float32Array(Math.max(this.positions.length * 2, (this.vertexCount + vertices) * 3));
      larger.set(this.positions);
      this.positions = larger;
    }
    if (this.indexCount + indices > this.triangles.length) {
      const larger = new Uint32Array(Math.max(this.triangles.length * 2, this.indexCount + indices));
      larger.set(this.triangles);
      this.triangles = larger;
    }
  }
}
