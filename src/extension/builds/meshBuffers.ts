import type { MeshArrays } from "../../build/service/protocol";
import type { MeshBuffers } from "../../preview/protocol";

/**
 * The bytes of an array and nothing else. Arrays that come from another process are often windows on a larger buffer,
 * which would travel whole.
 */
export function trimmed(array: Float32Array | Uint32Array | Int32Array): ArrayBuffer {
  const { buffer, byteOffset, byteLength } = array;
  if (buffer instanceof ArrayBuffer && byteOffset === 0 && byteLength === buffer.byteLength) return buffer;
  return buffer.slice(byteOffset, byteOffset + byteLength) as ArrayBuffer;
}

export const meshBuffers = ({ positions, triangles }: MeshArrays): MeshBuffers => ({
  positions: trimmed(positions),
  triangles: trimmed(triangles),
});
