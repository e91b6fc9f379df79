import { centroid, crossingEdges, perimeter, signedArea, triangulate } from "./polygon";
import { refusal } from "./refusal";
import type { SectionData } from "./tubeShape";
import type { Vec2 } from "./vector";

/** A swept section as a polygon, counter-clockwise, in units of the radius. */
export interface Section {
  readonly points: readonly Vec2[];
  /** Enclosed area, in radii². */
  readonly area: number;
  /** True length around, in radii (of the circle itself, not of its polygon). */
  readonly perimeter: number;
  readonly centroid: Vec2;
  /** Distance of the farthest point from the path, in radii. */
  readonly reach: number;
  /** Length of the longest edge of the polygon, in radii. */
  readonly longestEdge: number;
  readonly round: boolean;
  /** Triangles over the polygon's points that close an end; absent: a fan about the path. */
  readonly cap?: readonly number[];
}

/**
 * Vertex radius of a regular n-gon that has the area of the circle of radius 1: sqrt(2π / (n sin(2π/n))). An inscribed
 * polygon would lose volume.
 */
export const trueAreaFactor = (n: number): number =>
  Math.sqrt((2 * Math.PI) / (n * Math.sin((2 * Math.PI) / n)));

/** Greatest distance between the unit circle and the regular n-gon of its area, outside or inside. */
export const circleDeviation = (n: number): number => {
  const factor = trueAreaFactor(n);
  return Math.max(factor - 1, 1 - factor * Math.cos(Math.PI / n));
};

const fewestSegments = 8;
const mostSegments = 4096;

/** Segments of a circle of `radius` whose true-area polygon stays within `tolerance` of it, mm; an even number. */
export function circleSegments(radius: number, tolerance: number): number {
  // Deviation is near π²/(3n²); start a little below and count up.
  let n = Math.max(fewestSegments, 2 * Math.floor((Math.PI * Math.sqrt(radius / (3 * tolerance))) / 2) - 2);
  while (n < mostSegments && radius * circleDeviation(n) > tolerance) n += 2;
  return n;
}

/**
 * The polygon to sweep. A circle gets as many segments as its greatest radius needs; an outline is kept as given, save
 * that doubled points go and a clockwise one is turned round. Throws a MessageError for an outline that has fewer than
 * three points, no area or crosses itself.
 */
export function sectionPolygon(data: SectionData, greatestRadius: number, tolerance: number): Section {
  if (data.kind === "circle") return circle(circleSegments(greatestRadius, tolerance));
  const given = data.points;
  given.forEach((point, i) => {
    if (point.length !== 2 || !point.every(Number.isFinite)) {
      throw refusal(
        "outline-point-not-finite",
        `point ${i + 1} of the section's outline is [${point.join(", ")}]`,
        "give two finite coordinates",
      );
    }
  });
  const apart = (a: Vec2, b: Vec2) => Math.hypot(a[0] - b[0], a[1] - b[1]) > 1e-9;
  const points = given.filter((p, i) => apart(p, given[(i + given.length - 1) % given.length]));
  if (points.length < 3) {
    throw refusal(
      "outline-too-few-points",
      `the section's outline has ${points.length} distinct points`,
      "give at least three that differ",
    );
  }
  const crossing = crossingEdges(points);
  if (crossing) {
    const [i, j] = crossing.map((k) => `[${points[k].join(", ")}]`);
    throw refusal(
      "outline-crosses-itself",
      `the section's outline crosses or touches itself: the edge from ${i} meets the edge from ${j}`,
      "give the points in order around the outline, so that no two edges meet",
    );
  }
  const area = signedArea(points);
  if (Math.abs(area) < 1e-9) {
    throw refusal(
      "outline-without-area",
      `the section's outline has the area ${area}`,
      "give an outline with area",
    );
  }
  if (area < 0) points.reverse();
  const n = points.length;
  const star = points.every((p, i) => p[0] * points[(i + 1) % n][1] - p[1] * points[(i + 1) % n][0] > 1e-6);
  return {
    points,
    area: Math.abs(area),
    perimeter: perimeter(points),
    centroid: centroid(points),
    reach: farthest(points),
    longestEdge: longestEdge(points),
    round: false,
    ...(star ? {} : { cap: triangulate(points) }),
  };
}

/** Distance of a section's farthest point from the path, in radii. */
export const sectionReach = (data: SectionData): number =>
  data.kind === "circle" ? 1 : farthest(data.points);

const farthest = (points: readonly Vec2[]): number => Math.max(...points.map(([x, y]) => Math.hypot(x, y)));

function longestEdge(points: readonly Vec2[]): number {
  const n = points.length;
  return points.reduce((most, p, i) => {
    const q = points[(i + 1) % n];
    return Math.max(most, Math.hypot(q[0] - p[0], q[1] - p[1]));
  }, 0);
}

/** The section with its edges split so that none is longer than `longest`, in radii. */
export function splitEdges(section: Section, longest: number): Section {
  const n = section.points.length;
  const points: Vec2[] = [];
  for (let i = 0; i < n; i++) {
    const [a, b] = [section.points[i], section.points[(i + 1) % n]];
    const pieces = Math.max(1, Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) / longest - 1e-9));
    for (let k = 0; k < pieces; k++) {
      points.push([a[0] + ((b[0] - a[0]) * k) / pieces, a[1] + ((b[1] - a[1]) * k) / pieces]);
    }
  }
  if (points.length === n) return section;
  return {
    ...section,
    points,
    longestEdge: longestEdge(points),
    ...(section.cap ? { cap: triangulate(points) } : {}),
  };
}

const circles = new Map<number, Section>();

function circle(n: number): Section {
  const known = circles.get(n);
  if (known) return known;
  const factor = trueAreaFactor(n);
  const points: Vec2[] = [];
  for (let i = 0; i < n; i++) {
    const angle = (2 * Math.PI * i) / n;
    points.push([factor * Math.cos(angle), factor * Math.sin(angle)]);
  }
  const made: Section = {
    points,
    area: Math.PI,
    perimeter: 2 * Math.PI,
    centroid: [0, 0],
    reach: factor,
    longestEdge: 2 * factor * Math.sin(Math.PI / n),
    round: true,
  };
  circles.set(n, made);
  return made;
}
