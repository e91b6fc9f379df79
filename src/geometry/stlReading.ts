import { GrowingFloats } from "./growingArrays";
import type { TriangleMesh } from "./mesh";
import { meshFileError, mostTriangles, tooManyTriangles } from "./meshFileError";
import { TextScanner } from "./textScanner";
import { weldVertices } from "./weldVertices";

const headerBytes = 80;
const bytesPerTriangle = 50;
const exportAgain = "Export it again as binary STL, or copy the whole file.";

/** Bytes that a binary STL of as many triangles has as these state; NaN when they are too few to state it. */
export function statedStlBytes(bytes: Uint8Array): number {
  if (bytes.length < headerBytes + 4) return Number.NaN;
  return headerBytes + 4 + bytesPerTriangle * statedTriangles(bytes);
}

const statedTriangles = (bytes: Uint8Array): number =>
  new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength).getUint32(headerBytes, true);

/**
 * A binary STL (80 bytes of header, the number of triangles, 50 bytes each, little-endian) as a mesh, in its own units
 * and frame. Corners with the same three 32-bit values become one vertex. Normals are not read: the corners tell them.
 * @throws MessageError when the bytes are no whole binary STL or a coordinate is not a finite number.
 */
export function readBinaryStl(bytes: Uint8Array, file: string): TriangleMesh {
  const stated = statedStlBytes(bytes);
  if (Number.isNaN(stated)) {
    throw meshFileError(
      "mesh-cut-off",
      file,
      `The STL "${file}" has ${bytes.length} bytes; the shortest binary STL has ${headerBytes + 4}.`,
      exportAgain,
    );
  }
  const count = statedTriangles(bytes);
  if (count > mostTriangles && bytes.length >= stated) throw tooManyTriangles(file, count);
  if (bytes.length !== stated) {
    const cutOff = bytes.length < stated;
    throw meshFileError(
      cutOff ? "mesh-cut-off" : "mesh-wrong-count",
      file,
      `The STL "${file}" states ${count} triangles (byte ${headerBytes}), which take ${stated} bytes, but has ${bytes.length} bytes${cutOff ? ": it is cut off or no STL" : ""}.`,
      exportAgain,
    );
  }
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const corners = new Float32Array(9 * count);
  for (let triangle = 0; triangle < count; triangle++) {
    const from = headerBytes + 4 + bytesPerTriangle * triangle + 12;
    for (let i = 0; i < 9; i++) {
      const value = view.getFloat32(from + 4 * i, true);
      if (!Number.isFinite(value)) {
        throw meshFileError(
          "mesh-not-finite",
          file,
          `Triangle ${triangle + 1} of "${file}" (byte ${from + 4 * i}) has a coordinate that is ${value}, not a finite number.`,
          "Remove that triangle, or export the mesh again.",
        );
      }
      corners[9 * triangle + i] = value;
    }
  }
  const { positions, vertexOf } = weldVertices(corners);
  return { positions, triangles: vertexOf };
}

/**
 * An STL written as text (solid, facet normal, outer loop, three vertices, endloop, endfacet, endsolid; one solid or
 * more) as a mesh, in its own units and frame. Corners that are the same as 32-bit numbers become one vertex.
 * @throws MessageError at the line where the text is something else, or ends too early.
 */
export function readAsciiStl(bytes: Uint8Array, file: string): TriangleMesh {
  const words = new TextScanner(bytes);
  const corners = new GrowingFloats();
  const expected = (what: string, found: string | undefined) =>
    meshFileError(
      found === undefined ? "mesh-cut-off" : "mesh-wrong-word",
      file,
      found === undefined
        ? `The STL "${file}" ends at line ${words.line} where ${what} is due: it is cut off.`
        : `Line ${words.line} of "${file}" has ${found} where ${what} is due.`,
      exportAgain,
      { line: words.line },
    );
  const expect = (word: string): void => {
    if (!words.next()) throw expected(`"${word}"`, undefined);
    if (!words.is(word)) throw expected(`"${word}"`, words.shown());
  };
  const coordinate = (): number => {
    if (!words.next()) throw expected("a coordinate", undefined);
    const value = Math.fround(words.number());
    if (Number.isFinite(value)) return value;
    throw meshFileError(
      "mesh-not-finite",
      file,
      `Line ${words.line} of "${file}" has ${words.shown()} where a coordinate is due, not a finite number.`,
      "Coordinates are written with a decimal point and without a unit, for example 12.5 or 1.25e1.",
      { line: words.line },
    );
  };
  let inSolid = false;
  while (words.next()) {
    if (!inSolid) {
      if (!words.is("solid")) throw expected('"solid"', words.shown());
      words.skipLine();
      inSolid = true;
    } else if (words.is("endsolid")) {
      words.skipLine();
      inSolid = false;
    } else if (words.is("facet")) {
      expect("normal");
      // The corners tell the normal; some writers leave it as nan.
      for (let i = 0; i < 3; i++) if (!words.next()) throw expected("a normal", undefined);
      expect("outer");
      expect("loop");
      for (let corner = 0; corner < 3; corner++) {
        expect("vertex");
        corners.push(coordinate(), coordinate(), coordinate());
      }
      expect("endloop");
      expect("endfacet");
      if (corners.length > 9 * mostTriangles) throw tooManyTriangles(file, Infinity, { line: words.line });
    } else throw expected('"facet" or "endsolid"', words.shown());
  }
  if (inSolid) throw expected('"facet" or "endsolid"', undefined);
  const { positions, vertexOf } = weldVertices(corners.finish());
  return { positions, triangles: vertexOf };
}
