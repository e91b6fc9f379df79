import { GrowingFloats, GrowingIndices } from "./growingArrays";
import type { TriangleMesh } from "./mesh";
import { meshFileError, mostTriangles, tooManyTriangles } from "./meshFileError";
import { signedArea, triangulate } from "./polygon";
import { TextScanner } from "./textScanner";
import type { Vec2 } from "./vector";
import { weldVertices } from "./weldVertices";

/** Faces with more corners are cut from their middle: ear clipping takes steps by the cube of the corners. */
const mostCornersForEars = 32;

/**
 * The vertices and faces of an OBJ as a mesh, in its own units and frame. Faces may have any number of corners and be
 * concave; corners may be v, v/vt, v//vn or v/vt/vn, counted from the first vertex or, negative, back from the last.
 * Groups, materials, lines and everything else is left out. Vertices that are the same as 32-bit numbers become one.
 * @throws MessageError at the line of a vertex that has no place or a face that has no such corner.
 */
export function readObj(bytes: Uint8Array, file: string): TriangleMesh {
  const words = new TextScanner(bytes);
  const vertices = new GrowingFloats();
  const triangles = new GrowingIndices();
  const face: number[] = [];
  const wrong = (id: string, text: string, suggestion: string) =>
    meshFileError(id, file, `Line ${words.line} of "${file}" ${text}.`, suggestion, { line: words.line });
  const coordinate = (): number => {
    const there = words.nextOnLine();
    const value = there ? Math.fround(words.number()) : Number.NaN;
    if (Number.isFinite(value)) return value;
    throw wrong(
      "mesh-not-finite",
      there
        ? `has ${words.shown()} where a coordinate is due, not a finite number`
        : "has a vertex with fewer than three coordinates",
      "A vertex is written as v x y z, with decimal points and without a unit.",
    );
  };
  while (words.next()) {
    if (words.is("v")) {
      vertices.push(coordinate(), coordinate(), coordinate());
    } else if (words.is("f")) {
      face.length = 0;
      while (words.nextOnLine()) {
        const index = words.indexBeforeSlash();
        const count = vertices.length / 3;
        if (Number.isNaN(index)) {
          throw wrong(
            "mesh-wrong-face",
            `has a face with the corner ${words.shown()}, which is no vertex number`,
            "A face is written as f 1 2 3, f 1/1 2/2 3/3 or f 1//1 2//2 3//3.",
          );
        }
        const vertex = index < 0 ? count + index : index - 1;
        if (index === 0 || vertex < 0 || vertex >= count) {
          throw wrong(
            "mesh-missing-vertex",
            `has a face with vertex ${index}, but ${count === 0 ? "no vertices stand" : `vertices 1 to ${count} stand`} before it`,
            "The file is cut together wrongly: export the mesh again.",
          );
        }
        face.push(vertex);
      }
      if (face.length < 3) {
        throw wrong(
          "mesh-wrong-face",
          `has a face with ${face.length} corner${face.length === 1 ? "" : "s"}`,
          "A face has three corners or more.",
        );
      }
      addFace(face, vertices, triangles);
      if (triangles.length > 3 * mostTriangles) throw tooManyTriangles(file, Infinity, { line: words.line });
    }
    words.skipLine();
  }
  if (triangles.length === 0) {
    throw meshFileError(
      "mesh-empty",
      file,
      `The OBJ "${file}" has ${vertices.length / 3} vertices and no face.`,
      "Export a mesh with faces, not a cloud of points.",
    );
  }
  const { positions, vertexOf } = weldVertices(vertices.finish());
  const corners = triangles.finish();
  for (let i = 0; i < corners.length; i++) corners[i] = vertexOf[corners[i]];
  return { positions, triangles: corners };
}

/** Cuts a face into triangles that lie within it. */
function addFace(face: readonly number[], vertices: GrowingFloats, triangles: GrowingIndices): void {
  if (face.length === 3) {
    triangles.push(face[0], face[1], face[2]);
    return;
  }
  if (face.length > mostCornersForEars) {
    const middle = [0, 1, 2].map(
      (axis) => face.reduce((sum, vertex) => sum + vertices.at(3 * vertex + axis), 0) / face.length,
    );
    const hub = vertices.length / 3;
    vertices.push(middle[0], middle[1], middle[2]);
    for (let i = 0; i < face.length; i++) triangles.push(hub, face[i], face[(i + 1) % face.length]);
    return;
  }
  const flat = flattened(face, vertices);
  const ears = flat === undefined ? [] : triangulate(flat);
  // A face without area, or one that crosses itself, has no ears to find: a fan has its outline at least.
  if (ears.length === 3 * (face.length - 2) && ears.every((i) => i !== undefined)) {
    for (let i = 0; i < ears.length; i += 3)
      triangles.push(face[ears[i]], face[ears[i + 1]], face[ears[i + 2]]);
  } else {
    for (let i = 2; i < face.length; i++) triangles.push(face[0], face[i - 1], face[i]);
  }
}

/** The corners of a face in the plane across its mean normal (Newell's), counter-clockwise; none for a face without area. */
function flattened(face: readonly number[], vertices: GrowingFloats): Vec2[] | undefined {
  const normal = [0, 0, 0];
  const origin = [0, 1, 2].map((axis) => vertices.at(3 * face[0] + axis));
  const at = (corner: number, axis: number): number =>
    vertices.at(3 * face[corner % face.length] + axis) - origin[axis];
  for (let i = 0; i < face.length; i++) {
    for (let axis = 0; axis < 3; axis++) {
      const [u, v] = [(axis + 1) % 3, (axis + 2) % 3];
      normal[axis] += (at(i, u) - at(i + 1, u)) * (at(i, v) + at(i + 1, v));
    }
  }
  // Seen along the axis nearest to the normal.
  const size = normal.map(Math.abs);
  const along = size[0] >= size[1] && size[0] >= size[2] ? 0 : size[1] >= size[2] ? 1 : 2;
  const sign = normal[along] < 0 ? -1 : 1;
  const [u, v] = [(along + 1) % 3, (along + 2) % 3];
  const points = face.map((_, i): Vec2 => [at(i, u), sign * at(i, v)]);
  return signedArea(points) > 0 ? points : undefined;
}
