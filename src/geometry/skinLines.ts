import type { TriangleMesh } from "./mesh";
import type { Rings } from "./rings";
import type { Section } from "./section";
import { type Cap, domeRings, leastRadius } from "./tips";

/**
 * The lengthwise lines of a skin (see `skin`): line j runs through corner j of every ring, from the pole of the start
 * cap over its dome to the pole of the end cap. A place on a line is a node number with a fraction.
 */
export class SkinLines {
  /** How many lines there are: one for each corner of the section. */
  readonly count: number;
  readonly closed: boolean;
  /** Nodes of each line; a closed line goes on from the last one to the first. */
  readonly nodes: number;
  /** Node of the first and of the last ring. */
  readonly firstRing: number;
  readonly lastRing: number;
  private readonly startPole: boolean;
  private readonly endPole: boolean;
  private readonly vertices: number;
  private readonly lead: number;

  constructor(
    private readonly mesh: TriangleMesh,
    private readonly rings: Rings,
    section: Section,
    start: Cap,
    end: Cap,
    tolerance: number,
  ) {
    this.count = section.points.length;
    this.closed = rings.closed;
    this.vertices = mesh.positions.length / 3;
    const hasPole = (cap: Cap, ring: number) =>
      !this.closed && !(cap.kind === "flat" && section.cap && rings.radii[ring] >= leastRadius);
    this.startPole = hasPole(start, 0);
    this.endPole = hasPole(end, rings.count - 1);
    const poles = (this.startPole ? 1 : 0) + (this.endPole ? 1 : 0);
    this.nodes = (this.vertices - poles) / this.count + poles;
    this.lead = this.startPole ? 1 : 0;
    this.firstRing = this.closed ? 0 : this.lead + loopsBefore(rings, start, tolerance);
    this.lastRing = this.firstRing + rings.count - 1;
  }

  /** The vertex of a node; closed lines wrap it. */
  vertex(line: number, node: number): number {
    if (this.closed) return (node % this.nodes) * this.count + line;
    if (this.startPole && node === 0) return this.vertices - (this.endPole ? 2 : 1);
    if (this.endPole && node === this.nodes - 1) return this.vertices - 1;
    return (node - this.lead) * this.count + line;
  }

  /** The vertices of a line at the rings, from the first to the last. */
  ringVertices(line: number): number[] {
    const first = Math.max(this.firstRing, this.lead);
    const last = Math.min(this.lastRing, this.nodes - (this.endPole ? 2 : 1));
    return Array.from({ length: last - first + 1 }, (_, k) => this.vertex(line, first + k));
  }

  /** The point at a place of a line, into `into`. */
  point(line: number, place: number, into: Float64Array): void {
    const p = this.mesh.positions;
    const node = Math.floor(place);
    const f = place - node;
    const a = this.vertex(line, node) * 3;
    const b = f === 0 ? a : this.vertex(line, node + 1) * 3;
    for (let k = 0; k < 3; k++) into[k] = p[a + k] * (1 - f) + p[b + k] * f;
  }

  /** The interval between rings after a node: -1 on the start cap, one more than the last on the end cap. */
  intervalAfter(node: number): number {
    if (this.closed) return (node + this.nodes) % this.nodes;
    return Math.max(-1, Math.min(this.rings.count - 1, node - this.firstRing));
  }

  /** Places on every line, from its start to its end, that lie no farther apart than corners of the section do. */
  places(edge: number): Float64Array {
    const { rings } = this;
    const places: number[] = [];
    const [from, to] = [new Float64Array(3), new Float64Array(3)];
    const spans = this.closed ? this.nodes : this.nodes - 1;
    for (let node = 0; node < spans; node++) {
      this.point(0, node, from);
      this.point(0, node + 1, to);
      const i = Math.max(0, Math.min(rings.count - 1, this.intervalAfter(node)));
      const width = edge * Math.max(rings.radii[i], rings.radii[(i + 1) % rings.count], leastRadius);
      const far = Math.hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2]);
      const pieces = Math.max(1, Math.ceil(far / width));
      for (let k = 0; k < pieces; k++) places.push(node + k / pieces);
    }
    if (!this.closed) places.push(spans);
    return Float64Array.from(places);
  }
}

/** Rings of the start dome that a skin has before its first ring; -1 where the first ring is a point. */
function loopsBefore(rings: Rings, start: Cap, tolerance: number): number {
  if (rings.radii[0] < leastRadius) return -1;
  if (start.kind === "flat" || start.radius < leastRadius) return 0;
  return domeRings(rings.radii[0], start.radius, tolerance).radii.length;
}
