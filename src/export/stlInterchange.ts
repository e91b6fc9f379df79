import { geometries } from "@jscad/modeling";
import type { Geom3 } from "@jscad/modeling/src/geometries/types";
import { serialize } from "@jscad/stl-serializer";
import type { TriangleMesh } from "../geometry/mesh";

/** A mesh as a solid of @jscad/modeling, a polygon a triangle, mm. */
export function toGeom3({ positions, triangles }: TriangleMesh): Geom3 {
  const at = (vertex: number): [number, number, number] => [
    positions[3 * vertex],
    positions[3 * vertex + 1],
    positions[3 * vertex + 2],
  ];
  const polygons = [];
  for (let corner = 0; corner < triangles.length; corner += 3) {
    polygons.push(
      geometries.poly3.create([at(triangles[corner]), at(triangles[corner + 1]), at(triangles[corner + 2])]),
    );
  }
  return geometries.geom3.create(polygons);
}

/**
 * The mesh as binary STL by way of @jscad/stl-serializer: a second writer, to check the first one against. It snaps
 * vertices to a grid of about a thousandth of a millimetre and drops what that flattens, so that small triangles
 * may be lost and edges pinched.
 */
export function serializeStl(mesh: TriangleMesh): Uint8Array {
  const blocks = serialize({ binary: true }, toGeom3(mesh));
  const bytes = new Uint8Array(blocks.reduce((sum, block) => sum + block.byteLength, 0));
  let at = 0;
  for (const block of blocks) {
    bytes.set(new Uint8Array(block), at);
    at += block.byteLength;
  }
  return bytes;
}
