import type { TriangleMesh } from "../geometry/mesh";
import { weld } from "./weld";

const headerBytes = 80;
const bytesPerTriangle = 50;

/**
 * A mesh as binary STL, millimetres: 80 bytes of header that state the name and the unit, the number of
 * triangles, then 50 bytes each (normal, three corners, two bytes unused), little-endian. The same mesh and name
 * give the same bytes.
 * @param state how the piece lies, for the header; never cut short
 * @throws RangeError when a triangle uses a missing vertex or a coordinate that is not finite.
 */
export function writeStl(mesh: TriangleMesh, name = "headpiece", state = ""): Uint8Array {
  const { positions, triangles } = mesh;
  const count = triangles.length / 3;
  const bytes = new Uint8Array(headerBytes + 4 + bytesPerTriangle * count);
  bytes.set(stlHeader(name, state));
  const view = new DataView(bytes.buffer);
  view.setUint32(headerBytes, count, true);
  let at = headerBytes + 4;
  for (let corner = 0; corner < triangles.length; corner += 3) {
    const a = 3 * triangles[corner];
    const b = 3 * triangles[corner + 1];
    const c = 3 * triangles[corner + 2];
    const ux = positions[b] - positions[a];
    const uy = positions[b + 1] - positions[a + 1];
    const uz = positions[b + 2] - positions[a + 2];
    const vx = positions[c] - positions[a];
    const vy = positions[c + 1] - positions[a + 1];
    const vz = positions[c + 2] - positions[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const length = Math.sqrt(nx * nx + ny * ny + nz * nz);
    // The sum of the three corners' differences is finite only if every coordinate is.
    if (!Number.isFinite(length)) {
      throw new RangeError(
        `Triangle ${corner / 3} has a missing vertex or a coordinate that is not a finite number.`,
      );
    }
    const k = length > 0 ? 1 / length : 0;
    view.setFloat32(at, nx * k + 0, true);
    view.setFloat32(at + 4, ny * k + 0, true);
    view.setFloat32(at + 8, nz * k + 0, true);
    at += 12;
    for (const vertex of [a, b, c]) {
      // Adding zero turns −0 into 0: one place, one pattern of bits.
      view.setFloat32(at, positions[vertex] + 0, true);
      view.setFloat32(at + 4, positions[vertex + 1] + 0, true);
      view.setFloat32(at + 8, positions[vertex + 2] + 0, true);
      at += 12;
    }
    at += 2;
  }
  return bytes;
}

/** The 80 bytes of header: name and unit in ASCII. It never begins with "solid", which marks STL written as text. */
function stlHeader(name: string, state: string): Uint8Array {
  const plain = name
    .normalize("NFKD")
    .replace(/[^\x20-\x7e]/g, "")
    .trim();
  const header = new Uint8Array(headerBytes).fill(0x20);
  const tail = `${state && `, ${state}`}, units millimetres, made with anadem`;
  const text = `STL of ${plain.slice(0, headerBytes - "STL of ".length - tail.length)}${tail}`;
  for (let i = 0; i < text.length; i++) header[i] = text.charCodeAt(i);
  return header;
}

/** The text of a binary STL's header, without padding. */
export const stlHeaderText = (bytes: Uint8Array): string =>
  String.fromCharCode(...bytes.subarray(0, headerBytes))
    .replace(/\0/g, " ")
    .trim();

/**
 * The corner coordinates of a binary STL, nine 32-bit floats a triangle (x, y, z of each corner), as written.
 * @throws RangeError when the bytes are not a whole binary STL.
 */
export function stlCorners(bytes: Uint8Array): Float32Array {
  if (bytes.length < headerBytes + 4) {
    throw new RangeError(`${bytes.length} bytes are no binary STL: it has at least ${headerBytes + 4}.`);
  }
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const count = view.getUint32(headerBytes, true);
  const expected = headerBytes + 4 + bytesPerTriangle * count;
  if (bytes.length !== expected) {
    throw new RangeError(
      `The STL states ${count} triangles, which take ${expected} bytes, but has ${bytes.length} bytes.` +
        (String.fromCharCode(...bytes.subarray(0, 5)) === "solid" ? " It may be STL written as text." : ""),
    );
  }
  const corners = new Float32Array(9 * count);
  for (let triangle = 0; triangle < count; triangle++) {
    const from = headerBytes + 4 + bytesPerTriangle * triangle + 12;
    for (let i = 0; i < 9; i++) corners[9 * triangle + i] = view.getFloat32(from + 4 * i, true);
  }
  return corners;
}

/**
 * A binary STL as a mesh. Corners with the same three 32-bit values become one vertex; −0 is the same as 0.
 * @throws RangeError when the bytes are not a whole binary STL.
 */
export const readStl = (bytes: Uint8Array): TriangleMesh => weld(stlCorners(bytes));
