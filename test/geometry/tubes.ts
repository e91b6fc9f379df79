import type { TriangleMesh } from "../../src/geometry/mesh";
import type { TubeShape } from "../../src/geometry/tubeShape";
import type { Vec3 } from "../../src/geometry/vector";

/** Shapes and checks that the tests of this folder share. */

export const seed = 20240611;

/** A tube with flat ends, radius 5 and a round section along a 120 mm line, save for what is given. */
export function tube(given: Partial<TubeShape> = {}): TubeShape {
  return {
    path: {
      kind: "through",
      points: [
        [0, 0, 0],
        [0, 0, 120],
      ],
      closed: false,
    },
    radius: { shares: [0], radii: [5] },
    section: { kind: "circle" },
    twist: 0,
    startTip: { kind: "flat" },
    endTip: { kind: "flat" },
    ...given,
  };
}

/** `count` points of the curve `f` over [0, 1), or [0, 1] if it is open. */
export function sampled(count: number, f: (t: number) => Vec3, open = false): Vec3[] {
  return Array.from({ length: count }, (_, i) => f(i / (open ? count - 1 : count)));
}

export const circlePoints = (count: number, radius: number): Vec3[] =>
  sampled(count, (t) => [radius * Math.cos(2 * Math.PI * t), radius * Math.sin(2 * Math.PI * t), 0]);

/** The torus knot (2, 3): a trefoil. */
export const trefoilAt =
  (radius: number, small: number) =>
  (t: number): Vec3 => {
    const angle = 2 * Math.PI * t;
    const out = radius + small * Math.cos(3 * angle);
    return [out * Math.cos(2 * angle), out * Math.sin(2 * angle), small * Math.sin(3 * angle)];
  };

/** Eight points half around a head, rising. */
export const aroundHead: Vec3[] = [
  [90, 0, 40],
  [60, 60, 50],
  [0, 95, 60],
  [-60, 70, 70],
  [-90, 0, 90],
  [-70, -60, 100],
  [0, -90, 120],
  [40, -60, 140],
];

/** Two straight legs joined by a half circle. */
export function hairpin(radius: number, leg: number): Vec3[] {
  const points: Vec3[] = [];
  for (let i = 0; i <= 6; i++) points.push([-radius, (leg * i) / 6, 0]);
  for (let i = 1; i < 12; i++) {
    const t = (Math.PI * i) / 12;
    points.push([-radius * Math.cos(t), leg + radius * Math.sin(t), 0]);
  }
  for (let i = 6; i >= 0; i--) points.push([radius, (leg * i) / 6, 0]);
  return points;
}

/** What is wrong with a mesh, or undefined: every edge in exactly two triangles, once in each direction; all finite. */
export function meshFault({ positions, triangles }: TriangleMesh): string | undefined {
  if (!positions.every(Number.isFinite)) return "a coordinate is not finite";
  const count = positions.length / 3;
  const directed = new Set<number>();
  for (let i = 0; i < triangles.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      const a = triangles[i + k];
      const b = triangles[i + ((k + 1) % 3)];
      if (a >= count || b >= count) return `triangle ${i / 3} names a vertex that is not there`;
      if (a === b) return `triangle ${i / 3} names a vertex twice`;
      const key = a * count + b;
      if (directed.has(key)) return `the edge ${a}-${b} is used twice in one direction`;
      directed.add(key);
    }
  }
  for (const key of directed) {
    const [a, b] = [Math.floor(key / count), key % count];
    if (!directed.has(b * count + a)) return `the edge ${a}-${b} has one triangle only`;
  }
  return undefined;
}

/** The point turned about two axes, so that nothing lies along the axes of a voxel grid. */
export function turned([x, y, z]: Vec3): Vec3 {
  const [c, s] = [Math.cos(0.5), Math.sin(0.5)];
  const [x1, y1] = [c * x - s * y, s * x + c * y];
  const [y2, z2] = [c * y1 - s * z, s * y1 + c * z];
  const [d, e] = [Math.cos(0.3), Math.sin(0.3)];
  return [d * x1 - e * z2, y2, e * x1 + d * z2];
}
