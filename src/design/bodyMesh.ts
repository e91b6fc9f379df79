import { geometries, modifiers } from "@jscad/modeling";
import type { Geom3 } from "@jscad/modeling/src/geometries/types";
import { meshVolume } from "../geometry/measure";
import type { TriangleMesh } from "../geometry/mesh";
import { number, shown } from "./check";
import { designError } from "./error";

// The declarations of @jscad/modeling name this function as a default export that it is not.
const generalize = modifiers.generalize as unknown as (
  how: { snap: boolean; simplify: boolean; triangulate: boolean },
  body: Geom3,
) => Geom3;

/**
 * The closed triangle mesh of a geom3. Booleans of @jscad/modeling leave corners in the middle of edges: those are
 * mended where they can be. An error where it is no geom3, is empty, stays open, or is inside out.
 */
export function meshOf(body: Geom3, name: string): TriangleMesh {
  if (!geometries.geom3.isA(body)) {
    throw designError({
      id: "not-a-body",
      text: `the body of "${name}" is ${shown(body)}`,
      suggestion: "give a geom3 of @jscad/modeling, such as primitives.sphere({ radius: 6 })",
    });
  }
  let mesh = trianglesOf(body, name);
  let open = openEdges(mesh);
  if (open > 0) {
    mesh = trianglesOf(generalize({ snap: true, simplify: true, triangulate: true }, body), name);
    open = openEdges(mesh);
  }
  if (mesh.triangles.length === 0) {
    throw designError({
      id: "empty-body",
      text: `the body of "${name}" is empty`,
      suggestion: "check the sizes and the booleans that it is made with",
    });
  }
  if (open > 0) {
    throw designError({
      id: "open-body",
      text: `the body of "${name}" is not closed: ${open} of its edges are not shared by just two faces`,
      suggestion: "leave out its booleans: give each of its bodies to solid or cut by itself",
    });
  }
  if (meshVolume(mesh) < 0) return { ...mesh, triangles: mesh.triangles.slice().reverse() };
  return mesh;
}

/** The polygons of a geom3 as fans of triangles, corners that agree as 32-bit numbers made one. */
function trianglesOf(body: Geom3, name: string): TriangleMesh {
  const corners = new Map<string, number>();
  const positions: number[] = [];
  const triangles: number[] = [];
  const cornerOf = (vertex: readonly number[]) => {
    const rounded = [Math.fround(vertex[0]), Math.fround(vertex[1]), Math.fround(vertex[2])];
    const key = rounded.join(" ");
    const known = corners.get(key);
    if (known !== undefined) return known;
    const index = positions.length / 3;
    for (const [axis, value] of rounded.entries()) {
      number(value, `${"xyz"[axis]} of a corner of "${name}"`, { least: -10_000, most: 10_000 });
      positions.push(value);
    }
    corners.set(key, index);
    return index;
  };
  for (const { vertices } of geometries.geom3.toPolygons(body)) {
    const [first, ...rest] = vertices.map(cornerOf);
    for (let i = 0; i + 1 < rest.length; i++) {
      const [a, b, c] = [first, rest[i], rest[i + 1]];
      if (a !== b && b !== c && c !== a) triangles.push(a, b, c);
    }
  }
  return { positions: new Float32Array(positions), triangles: new Uint32Array(triangles) };
}

/** How many edges are not run through once in each direction. */
function openEdges({ triangles, positions }: TriangleMesh): number {
  const corners = positions.length / 3;
  const runs = new Map<number, number>();
  for (let i = 0; i < triangles.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      const [from, to] = [triangles[i + k], triangles[i + ((k + 1) % 3)]];
      const key = from * corners + to;
      runs.set(key, (runs.get(key) ?? 0) + 1);
    }
  }
  let open = 0;
  for (const [key, times] of runs) {
    const [from, to] = [Math.floor(key / corners), key % corners];
    if (times !== 1 || runs.get(to * corners + from) !== 1) open++;
  }
  return open;
}
