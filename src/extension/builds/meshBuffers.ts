import type { MeshArrays } from "../../build/service/protocol";
import type { MeshBuffers } from "../../preview/protocol";

/**
 * The bytes of an array and nothing else. Arrays that come from another process are often windows on a larger buffer,
 * which would travel whole.
 */
export function trimmed(
  array: Float64Array | Float32Array | Uint32Array | Int32Array | Int16Array,
): ArrayBuffer {
  const { buffer, byteOffset, byteLength } = array;
  if (buffer instanceof ArrayBuffer && byteOffset === 0 && byteLength === buffer.byteLength) return buffer;
  return buffer.slice(byteOffset, byteOffset + byteLength) as ArrayBuffer;
}

/** The same bytes, in a buffer that holds little beside them. A window that nearly fills its buffer is not copied. */
export const compact = (bytes: Uint8Array): Uint8Array =>
  bytes.buffer.byteLength < 1.1 * bytes.byteLength ? bytes : bytes.slice();

export const meshBuffers = ({ positions, triangles }: MeshArrays): MeshBuffers => ({
  positions: trimmed(positions),
  triangles: trimmed(triangles),
});

/** Gaps at the vertices of a solid, as they travel. */
export const gapBuffer = (gaps: Int16Array): ArrayBuffer => trimmed(gaps);
