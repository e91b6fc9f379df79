import type { TriangleMesh } from "../geometry/mesh";

/** What a tape and calipers read off a head's mesh, mm. */
export interface MeshMeasures {
  /** Perimeter of the convex hull of the level section, at its greatest above the ears. */
  readonly girth: number;
  /** Greatest front-to-back extent of a level section above the ears. */
  readonly length: number;
  /** Greatest side-to-side extent of a level section above the ears. */
  readonly breadth: number;
  /** From the tragions' level (z = 0) to the top. */
  readonly crownHeight: number;
  /** How far below the top the greatest girth lies. */
  readonly girthBelowCrown: number;
}

/** A level section of a mesh: its convex hull's perimeter and its extents, mm. */
export interface LevelSection {
  readonly girth: number;
  readonly length: number;
  readonly breadth: number;
  /** y of the front and the back of the section. */
  readonly front: number;
  readonly back: number;
}

/** Perimeter of the convex hull of points (Andrew's monotone chain, 1979). */
export const hullPerimeter = (points: readonly (readonly [number, number])[]): number => {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const chain = (list: readonly (readonly [number, number])[]): number => {
    const hull: (readonly [number, number])[] = [];
    for (const p of list) {
      while (hull.length > 1) {
        const a = hull[hull.length - 2];
        const b = hull[hull.length - 1];
        if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0) break;
        hull.pop();
      }
      hull.push(p);
    }
    let sum = 0;
    for (let i = 1; i < hull.length; i++) {
      sum += Math.hypot(hull[i][0] - hull[i - 1][0], hull[i][1] - hull[i - 1][1]);
    }
    return sum;
  };
  return chain(sorted) + chain(sorted.reverse());
};

/** Points in which the mesh's edges cross a level. */
const crossings = (mesh: TriangleMesh, z: number): [number, number][] => {
  const { positions: p, triangles } = mesh;
  const points: [number, number][] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    for (let k = 0; k < 3; k++) {
      const a = 3 * triangles[t + k];
      const b = 3 * triangles[t + ((k + 1) % 3)];
      const za = p[a + 2] - z;
      const zb = p[b + 2] - z;
      // Each inner edge is seen twice, once in each direction: take it once.
      if (za >= 0 === zb >= 0 || za < zb) continue;
      const s = za / (za - zb);
      points.push([p[a] + s * (p[b] - p[a]), p[a + 1] + s * (p[b + 1] - p[a + 1])]);
    }
  }
  return points;
};

/** Measures the level section of a closed mesh at height `z`; undefined where the level misses the mesh. */
export const measureLevel = (mesh: TriangleMesh, z: number): LevelSection | undefined => {
  const points = crossings(mesh, z);
  if (points.length < 3) return undefined;
  let left = Infinity;
  let right = -Infinity;
  let back = Infinity;
  let front = -Infinity;
  for (const [x, y] of points) {
    left = Math.min(left, x);
    right = Math.max(right, x);
    back = Math.min(back, y);
    front = Math.max(front, y);
  }
  return { girth: hullPerimeter(points), length: front - back, breadth: right - left, front, back };
};

/**
 * Measures a head's mesh in the head frame (tragions at z = 0): girth, length and breadth each at the level where
 * it is greatest, among levels from `lowest` mm below the top upwards, `step` mm apart; the best girth level is
 * then refined.
 */
export const measureMesh = (mesh: TriangleMesh, lowest = 100, step = 2): MeshMeasures => {
  let top = -Infinity;
  for (let i = 2; i < mesh.positions.length; i += 3) top = Math.max(top, mesh.positions[i]);
  let girth = 0;
  let length = 0;
  let breadth = 0;
  let level = 0;
  const look = (z: number): void => {
    const section = measureLevel(mesh, z);
    if (!section) return;
    length = Math.max(length, section.length);
    breadth = Math.max(breadth, section.breadth);
    if (section.girth > girth) {
      girth = section.girth;
      level = z;
    }
  };
  for (let depth = lowest; depth >= 0.5 * lowest; depth -= step) look(top - depth);
  for (let fine = step / 2; fine > 0.02; fine /= 2) {
    const around = level;
    look(around - fine);
    look(around + fine);
  }
  return { girth, length, breadth, crownHeight: top, girthBelowCrown: top - level };
};
