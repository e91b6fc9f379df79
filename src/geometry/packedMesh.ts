import type { PartMesh } from "./mesh";

/**
 * A mesh with its parts as few bytes, to be looked at in another process: about two fifths of the arrays. Places lie
 * on a grid of 65,536 steps along each side of the box, so that a piece of 300 mm is right to 0.003 mm.
 *
 * Numbers are little-endian. First come the words `magic`, vertices, triangles and runs of parts, then six 32-bit
 * floats: the box's least corner and its sides. Then x, y, z of each vertex, 16 bits each; the indices of each
 * triangle, 16 bits where they are enough and else 32; each run's length and part, 32 bits each. Each begins at a
 * multiple of 4.
 */
const magic = 0x314d5041;
const headBytes = 40;
const steps = 0xffff;

/** Where things lie in a packed mesh, by what its head says. */
function layout(vertices: number, triangles: number, runs: number) {
  const isShort = vertices <= 0x10000;
  const trianglesAt = headBytes + upTo4(6 * vertices);
  const runsAt = trianglesAt + upTo4((isShort ? 6 : 12) * triangles);
  return { isShort, trianglesAt, runsAt, length: runsAt + 8 * runs };
}

const upTo4 = (bytes: number): number => (bytes + 3) & ~3;

/** Packs a mesh. Vertices that are not finite are not allowed for. */
export function packMesh({ positions, triangles, partOfTriangle }: PartMesh): Uint8Array {
  const vertices = positions.length / 3;
  const runs = runsOf(partOfTriangle);
  const { isShort, trianglesAt, runsAt, length } = layout(vertices, partOfTriangle.length, runs.length / 2);
  const buffer = new ArrayBuffer(length);
  new Uint32Array(buffer, 0, 4).set([magic, vertices, partOfTriangle.length, runs.length / 2]);
  const { least, sides } = boxOf(positions);
  new Float32Array(buffer, 16, 6).set([...least, ...sides]);
  const places = new Uint16Array(buffer, headBytes, positions.length);
  const scale = sides.map((side) => (side > 0 ? steps / side : 0));
  for (let i = 0; i < positions.length; i += 3) {
    places[i] = (positions[i] - least[0]) * scale[0] + 0.5;
    places[i + 1] = (positions[i + 1] - least[1]) * scale[1] + 0.5;
    places[i + 2] = (positions[i + 2] - least[2]) * scale[2] + 0.5;
  }
  new (isShort ? Uint16Array : Uint32Array)(buffer, trianglesAt, triangles.length).set(triangles);
  new Int32Array(buffer, runsAt, runs.length).set(runs);
  return new Uint8Array(buffer);
}

/** Whether bytes are a packed mesh as far as their head and length tell. */
export function isPackedMesh(bytes: Uint8Array): boolean {
  if (bytes.byteLength < headBytes) return false;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const [vertices, triangles, runs] = [4, 8, 12].map((at) => view.getUint32(at, true));
  return view.getUint32(0, true) === magic && layout(vertices, triangles, runs).length === bytes.byteLength;
}

/**
 * The mesh in packed bytes.
 * @throws RangeError where they are none, or name parts for other triangles than there are
 */
export function unpackMesh(bytes: Uint8Array): PartMesh {
  if (!isPackedMesh(bytes)) throw new RangeError(`${bytes.byteLength} bytes that are no packed mesh`);
  // What came through a wire may begin anywhere.
  const buffer = bytes.slice().buffer;
  const [, vertices, count, runCount] = new Uint32Array(buffer, 0, 4);
  const { isShort, trianglesAt, runsAt } = layout(vertices, count, runCount);
  const box = new Float32Array(buffer, 16, 6);
  const places = new Uint16Array(buffer, headBytes, 3 * vertices);
  const positions = new Float32Array(3 * vertices);
  for (let i = 0; i < positions.length; i += 3) {
    positions[i] = box[0] + (places[i] * box[3]) / steps;
    positions[i + 1] = box[1] + (places[i + 1] * box[4]) / steps;
    positions[i + 2] = box[2] + (places[i + 2] * box[5]) / steps;
  }
  const triangles = new Uint32Array(
    new (isShort ? Uint16Array : Uint32Array)(buffer, trianglesAt, 3 * count),
  );
  const partOfTriangle = new Int32Array(count);
  const runs = new Int32Array(buffer, runsAt, 2 * runCount);
  let at = 0;
  for (let run = 0; run < runs.length; run += 2) {
    partOfTriangle.fill(runs[run + 1], at, at + runs[run]);
    at += runs[run];
  }
  if (at !== count) throw new RangeError(`a packed mesh names a part for ${at} of ${count} triangles`);
  return { positions, triangles, partOfTriangle };
}

/** Length and part of each run of triangles of one part. */
function runsOf(partOfTriangle: Int32Array): number[] {
  const runs: number[] = [];
  for (let start = 0, t = 1; t <= partOfTriangle.length; t++) {
    if (t < partOfTriangle.length && partOfTriangle[t] === partOfTriangle[start]) continue;
    runs.push(t - start, partOfTriangle[start]);
    start = t;
  }
  return runs;
}

function boxOf(positions: Float32Array): { least: number[]; sides: number[] } {
  if (positions.length === 0) return { least: [0, 0, 0], sides: [0, 0, 0] };
  const least = [...positions.subarray(0, 3)];
  const most = [...least];
  for (let i = 0; i < positions.length; i++) {
    const axis = i % 3;
    if (positions[i] < least[axis]) least[axis] = positions[i];
    if (positions[i] > most[axis]) most[axis] = positions[i];
  }
  return { least, sides: most.map((value, axis) => value - least[axis]) };
}
