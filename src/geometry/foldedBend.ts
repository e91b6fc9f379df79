import type { TriangleMesh } from "./mesh";
import { ringRun } from "./ringRun";
import { type PreparedTube, placeRings, type Rings } from "./rings";
import type { NearPairs } from "./selfOverlap";
import { ShrunkMesh } from "./shrunkMesh";
import { SkinLines } from "./skinLines";
import { seamShift, skin } from "./sweep";
import { SweptSections } from "./sweptSections";
import type { Cap } from "./tips";

/** A surface this deep within the solid is hidden, mm. */
const hiddenDepth = 0.01;
/** What is hidden without a ring in it may be left as it is up to this length, mm. */
const leastHidden = 0.5;
/** Where lines turn back by less than what counts as hidden: neighbours on a line nearer than this become one, mm. */
const shortEdge = 0.08;
/** Legs of a fold are too near one another up to this far beyond where their surfaces meet, radii. */
const foldRoom = 0.6;
/** Both ends of what is hidden may be kept apart from this distance on, mm. */
const leastApart = 0.3;

/** `rough`: nearer rings may help. `impossible`: they will not. */
export type Refusal = "rough" | "impossible";

/** A stretch of a tube between two shares of its path. */
export interface Stretch {
  readonly tube: PreparedTube;
  readonly from: number;
  readonly to: number;
  /** Whether it is to reach back into the stretch before it. */
  readonly plugged: boolean;
  /** Places of the whole path that are too near one another. */
  readonly near: NearPairs;
}

/**
 * The true solid of a stretch that folds over itself on the inside of its bends, as one closed mesh; or why that
 * cannot be. In a fold the lengthwise lines of the sweep run backward through the solid. Each is cut where it
 * dips under the surface and where it comes out again: two places on one crease, in a plane bend the same. What lies
 * between shrinks to one point there, so that the line goes straight on, and triangles without area vanish.
 */
export function withoutFolds(stretch: Stretch, tolerance: number, apart = false): TriangleMesh | Refusal {
  const { tube, from, to, plugged } = stretch;
  const placed = placeRings(tube, tolerance, from, to);
  const rings = plugged ? ringRun(placed, 0, placed.count - 1, true) : placed;
  const { start, end } = tube.profile;
  // A closed tube whose section comes back turned has no lines that close.
  if (rings.closed && seamShift(tube) !== 0) return "impossible";
  const mesh = skin(rings, tube.section, start, end, tolerance);
  const lines = new SkinLines(mesh, rings, tube.section, start, end, tolerance);
  const solid = new SweptSections(rings, tube.section, start, end);
  const shrunk = new ShrunkMesh(mesh);
  const folds: [number, number][] = [];
  const places = lines.places(tube.section.perimeter / lines.count);
  for (let line = 0; line < lines.count; line++) {
    const hidden = hiddenStretches(line, lines, places, solid);
    if (!hidden?.every(([a, b]) => shrink(line, a, b, lines, shrunk, start, end, apart))) return "impossible";
    for (const [a, b] of hidden) folds.push([shareAt(lines, rings, a), shareAt(lines, rings, b)]);
  }
  if (!areFolds(stretch, folds)) return "impossible";
  if (folds.length > 0) {
    for (let line = 0; line < lines.count; line++) shrunk.join(lines.ringVertices(line), shortEdge);
  }
  return shrunk.liesOn(solid) ? shrunk.finish() : "rough";
}

/** Share of the path at a place of a line; beyond 1 where a closed line is past its seam. */
function shareAt(lines: SkinLines, { shares, count, closed }: Rings, place: number): number {
  if (closed) {
    const turns = Math.floor(place / count);
    const i = Math.floor(place) % count;
    return (
      turns + shares[i] + (place - Math.floor(place)) * ((i + 1 < count ? shares[i + 1] : 1) - shares[i])
    );
  }
  const at = Math.max(0, Math.min(count - 1, place - lines.firstRing));
  const i = Math.min(count - 2, Math.floor(at));
  return shares[i] + (at - i) * (shares[i + 1] - shares[i]);
}

/**
 * Whether all places of a stretch that are too near one another lie across a fold. Where the path comes back to itself
 * otherwise, its surfaces cross, be it between two lines.
 */
function areFolds({ tube, from, to, near }: Stretch, folds: readonly [number, number][]): boolean {
  const { count, rows } = near;
  const { curve, profile } = tube;
  for (let k = 0; k < rows.length; k += 3) {
    const [a, b] = [rows[k] / (count - 1), rows[k + 2] / (count - 1)];
    if (a < from || a > to || rows[k + 1] / (count - 1) > to) continue;
    const last = Math.min(b, to);
    const room = (foldRoom * profile.radiusAt(a * curve.length)) / curve.length;
    const isAcross = ([dips, rises]: readonly [number, number]) =>
      (dips <= a + room && rises >= last - room) || (dips <= last + room && rises >= a + 1 - room);
    if (!folds.some(isAcross)) return false;
  }
  return true;
}

/** Stretches of a line, by place, that lie within the solid; undefined if an end of the line does. */
function hiddenStretches(
  line: number,
  lines: SkinLines,
  places: Float64Array,
  solid: SweptSections,
): [number, number][] | undefined {
  const total = places.length;
  const hidden = new Uint8Array(total);
  for (let k = 0; k < total; k++) hidden[k] = isHidden(lines, solid, line, places[k]) ? 1 : 0;
  // A closed line is walked from a place that is seen.
  const start = lines.closed ? hidden.indexOf(0) : 0;
  if (start < 0 || (!lines.closed && (hidden[0] === 1 || hidden[total - 1] === 1))) return undefined;
  const placeAt = (k: number) => places[(start + k) % total] + (start + k >= total ? lines.nodes : 0);
  const found: [number, number][] = [];
  for (let k = 1; k < total; k++) {
    if (hidden[(start + k) % total] === 0) continue;
    const first = k;
    while (k + 1 < total && hidden[(start + k + 1) % total] === 1) k++;
    found.push([
      surfacing(lines, solid, line, placeAt(first - 1), placeAt(first)),
      surfacing(lines, solid, line, placeAt(k + 1), placeAt(k)),
    ]);
  }
  return found;
}

/** Where a line that is seen at one place and hidden at another comes to the surface. */
function surfacing(
  lines: SkinLines,
  solid: SweptSections,
  line: number,
  seen: number,
  hidden: number,
): number {
  let [a, b] = [seen, hidden];
  for (let round = 0; round < 12; round++) {
    const middle = (a + b) / 2;
    if (isHidden(lines, solid, line, middle)) b = middle;
    else a = middle;
  }
  return a;
}

/** Makes one point of what a line hides between places a and b; false if that cannot be. */
function shrink(
  line: number,
  a: number,
  b: number,
  lines: SkinLines,
  mesh: ShrunkMesh,
  start: Cap,
  end: Cap,
  apart: boolean,
): boolean {
  const [dips, rises] = [new Float64Array(3), new Float64Array(3)];
  lines.point(line, a, dips);
  lines.point(line, b, rises);
  const [first, last] = [Math.ceil(a), Math.floor(b)];
  const gap = Math.hypot(dips[0] - rises[0], dips[1] - rises[1], dips[2] - rises[2]);
  if (last < first) return gap < leastHidden;
  const vertices: number[] = [];
  for (let node = first; node <= last; node++) vertices.push(lines.vertex(line, node));
  if (apart && gap > leastApart && vertices.length > 1) {
    // Between two surfaces that do not meet in one crease the line runs over a third one.
    const half = vertices.length >> 1;
    mesh.shrink(vertices.slice(0, half), dips);
    mesh.shrink(vertices.slice(half), rises);
    return true;
  }
  // Over a flat end corners lie together: the other end of what is hidden tells better where the crease runs.
  const share =
    start.kind === "flat" && a < lines.firstRing ? 1 : end.kind === "flat" && b > lines.lastRing ? 0 : 0.5;
  mesh.shrink(
    vertices,
    dips.map((value, k) => value + share * (rises[k] - value)),
  );
  return true;
}

/** Whether the place of a line lies within the solid of the other intervals. */
function isHidden(lines: SkinLines, solid: SweptSections, line: number, place: number): boolean {
  lines.point(line, place, here);
  const node = Math.floor(place);
  const after = lines.intervalAfter(node);
  const before = node === place ? lines.intervalAfter(node - 1) : after;
  // A cap touches the interval that it closes; over the seam of a closed tube the first comes after the last.
  const to = after === -1 ? 0 : after;
  const from = before === solid.intervals ? before - 1 : before;
  return solid.depth(here, from, Math.max(from, to), to) > hiddenDepth;
}
const here = new Float64Array(3);
