import { createHash } from "node:crypto";
import type { TriangleMesh } from "../../../src/geometry/mesh";
import type { Body } from "../../../src/geometry/solid/body";
import type { SolidInput } from "../../../src/geometry/solid/solidBuilder";
import type { Vec3 } from "../../../src/geometry/vector";

/** Meshes and inputs that the tests of this folder share. */

/** A ball of latitudes and longitudes, scaled so that the mesh has the true ball's volume. */
export function ball(centre: Vec3, radius: number, columns = 96): TriangleMesh {
  const rows = columns / 2;
  const positions: number[] = [];
  const triangles: number[] = [];
  const push = (polar: number, turn: number) =>
    positions.push(Math.sin(polar) * Math.cos(turn), Math.sin(polar) * Math.sin(turn), Math.cos(polar));
  for (let row = 1; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      push((Math.PI * row) / rows, (2 * Math.PI * column) / columns);
    }
  }
  const top = push(0, 0) / 3 - 1;
  const bottom = push(Math.PI, 0) / 3 - 1;
  const at = (row: number, column: number) => (row - 1) * columns + (column % columns);
  for (let column = 0; column < columns; column++) {
    triangles.push(top, at(1, column), at(1, column + 1));
    triangles.push(bottom, at(rows - 1, column + 1), at(rows - 1, column));
    for (let row = 1; row < rows - 1; row++) {
      triangles.push(at(row, column), at(row + 1, column), at(row + 1, column + 1));
      triangles.push(at(row, column), at(row + 1, column + 1), at(row, column + 1));
    }
  }
  const unit = { positions: Float32Array.from(positions), triangles: Uint32Array.from(triangles) };
  const grown = radius * Math.cbrt((4 / 3) * Math.PI * (1 / signedVolume(unit)));
  return moved(unit, ([x, y, z]) => [centre[0] + grown * x, centre[1] + grown * y, centre[2] + grown * z]);
}

/** A box between two corners. */
export function box(least: Vec3, most: Vec3): TriangleMesh {
  const positions = Float32Array.from(
    Array.from({ length: 8 }, (_, i) =>
      [0, 1, 2].map((axis) => ((i >> axis) & 1 ? most : least)[axis]),
    ).flat(),
  );
  const faces = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ];
  return {
    positions,
    triangles: Uint32Array.from(faces.flatMap(([a, b, c, d]) => [a, b, c, a, c, d])),
  };
}

export const cube = (centre: Vec3, edge: number): TriangleMesh =>
  box(centre.map((x) => x - edge / 2) as unknown as Vec3, centre.map((x) => x + edge / 2) as unknown as Vec3);

export function moved(mesh: TriangleMesh, move: (p: Vec3) => Vec3): TriangleMesh {
  const positions = new Float32Array(mesh.positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    positions.set(move([mesh.positions[i], mesh.positions[i + 1], mesh.positions[i + 2]]), i);
  }
  return { positions, triangles: mesh.triangles };
}

/** The same surface facing the other way. */
export const insideOut = ({ positions, triangles }: TriangleMesh): TriangleMesh => ({
  positions,
  triangles: triangles.slice().reverse(),
});

/** Several shells in one mesh. */
export function together(...meshes: readonly TriangleMesh[]): TriangleMesh {
  const positions: number[] = [];
  const triangles: number[] = [];
  for (const mesh of meshes) {
    const before = positions.length / 3;
    positions.push(...mesh.positions);
    triangles.push(...Array.from(mesh.triangles, (vertex) => vertex + before));
  }
  return { positions: Float32Array.from(positions), triangles: Uint32Array.from(triangles) };
}

/** Enclosed volume by the divergence theorem, written here anew: not the code under test. */
export function signedVolume({ positions: p, triangles: t }: TriangleMesh): number {
  let six = 0;
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [3 * t[i], 3 * t[i + 1], 3 * t[i + 2]];
    six +=
      p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]) -
      p[a + 1] * (p[b] * p[c + 2] - p[b + 2] * p[c]) +
      p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c]);
  }
  return six / 6;
}

const contentOf = (...meshes: readonly TriangleMesh[]): string => {
  const hash = createHash("sha1");
  for (const { positions, triangles } of meshes) hash.update(positions).update(triangles);
  return hash.digest("base64");
};

export const bodyOf = (name: string, mesh: TriangleMesh, remove: readonly TriangleMesh[] = []): Body => ({
  key: `${name} ${contentOf(mesh, ...remove)}`,
  name,
  add: [{ kind: "mesh", mesh }],
  remove: remove.map((one) => ({ kind: "mesh", mesh: one })),
});

/** What a builder takes, of bodies `a`, `b`, `c` … in this order. */
export const inputOf = (meshes: readonly TriangleMesh[], more: Partial<SolidInput> = {}): SolidInput => ({
  bodies: meshes.map((mesh, i) => bodyOf(String.fromCharCode(97 + i), mesh)),
  cuts: [],
  crumbVolume: 1,
  ...more,
});
