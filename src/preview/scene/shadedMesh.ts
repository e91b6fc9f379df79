/** A mesh ready to be drawn: vertices are split where the surface has an edge or passes to another part. */
export interface ShadedMesh {
  readonly positions: Float32Array;
  /** Four 16-bit numbers per vertex, the last unused: ±32767 is ±1. */
  readonly normals: Int16Array;
  /** The part of each vertex; absent where the mesh is of one part. */
  readonly parts?: Float32Array;
  readonly triangles: Uint32Array;
}

/** Edges sharper than this stay edges, degrees. Facets of the thinnest tubes stand below it. */
export const creaseAngle = 50;

/**
 * Smooth normals up to an angle, in one pass over the triangles: each corner joins the first group of its vertex whose
 * normal so far, weighted by area, is near enough and whose part is the same.
 *
 * @param triangles three vertex indices each; an index out of range throws a RangeError
 */
export function shadedMesh(
  positions: Float32Array,
  triangles: Uint32Array,
  partOfTriangle?: Int32Array,
  angle = creaseAngle,
): ShadedMesh {
  const vertices = Math.floor(positions.length / 3);
  const groups = new Groups(vertices);
  const limit = Math.cos((angle * Math.PI) / 180) ** 2;
  const index = new Uint32Array(triangles.length);
  for (let t = 0; t + 2 < triangles.length; t += 3) {
    const a = triangles[t];
    const b = triangles[t + 1];
    const c = triangles[t + 2];
    if (a >= vertices || b >= vertices || c >= vertices) {
      throw new RangeError(`triangle ${t / 3} names a vertex beyond ${vertices}`);
    }
    const ax = positions[3 * a];
    const ay = positions[3 * a + 1];
    const az = positions[3 * a + 2];
    const ux = positions[3 * b] - ax;
    const uy = positions[3 * b + 1] - ay;
    const uz = positions[3 * b + 2] - az;
    const vx = positions[3 * c] - ax;
    const vy = positions[3 * c + 1] - ay;
    const vz = positions[3 * c + 2] - az;
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const part = partOfTriangle ? partOfTriangle[t / 3] : 0;
    index[t] = groups.join(a, nx, ny, nz, part, limit);
    index[t + 1] = groups.join(b, nx, ny, nz, part, limit);
    index[t + 2] = groups.join(c, nx, ny, nz, part, limit);
  }
  return groups.mesh(positions, index, partOfTriangle !== undefined);
}

/** Groups of corners that share a vertex, a part and, nearly, a normal: each becomes one vertex of the drawn mesh. */
class Groups {
  #count = 0;
  /** Newest group of each vertex; −1 for none. */
  readonly #newest: Int32Array;
  #room: Room;

  constructor(vertices: number) {
    this.#newest = new Int32Array(vertices).fill(-1);
    this.#room = roomFor(2 * vertices + 64);
  }

  join(vertex: number, nx: number, ny: number, nz: number, part: number, limit: number): number {
    const { before, parts, sums } = this.#room;
    const square = nx * nx + ny * ny + nz * nz;
    for (let group = this.#newest[vertex]; group >= 0; group = before[group]) {
      if (parts[group] !== part) continue;
      const at = 3 * group;
      const sx = sums[at];
      const sy = sums[at + 1];
      const sz = sums[at + 2];
      const along = nx * sx + ny * sy + nz * sz;
      const length = sx * sx + sy * sy + sz * sz;
      // A sliver without area has no say and joins whatever is there.
      if (square < 1e-20 || length < 1e-20 || (along > 0 && along * along >= limit * square * length)) {
        sums[at] = sx + nx;
        sums[at + 1] = sy + ny;
        sums[at + 2] = sz + nz;
        return group;
      }
    }
    return this.#open(vertex, nx, ny, nz, part);
  }

  mesh(positions: Float32Array, triangles: Uint32Array, hasParts: boolean): ShadedMesh {
    const count = this.#count;
    const { vertices, parts, sums } = this.#room;
    const placed = new Float32Array(3 * count);
    const normals = new Int16Array(4 * count);
    for (let group = 0; group < count; group++) {
      const from = 3 * vertices[group];
      const to = 3 * group;
      placed[to] = positions[from];
      placed[to + 1] = positions[from + 1];
      placed[to + 2] = positions[from + 2];
      const x = sums[to];
      const y = sums[to + 1];
      const z = sums[to + 2];
      const scale = 32767 / (Math.sqrt(x * x + y * y + z * z) || 1);
      normals[4 * group] = x * scale;
      normals[4 * group + 1] = y * scale;
      normals[4 * group + 2] = z * scale;
    }
    return { positions: placed, normals, triangles, ...(hasParts && { parts: parts.slice(0, count) }) };
  }

  #open(vertex: number, nx: number, ny: number, nz: number, part: number): number {
    const group = this.#count++;
    if (group >= this.#room.size) this.#room = larger(this.#room);
    const { before, vertices, parts, sums } = this.#room;
    before[group] = this.#newest[vertex];
    this.#newest[vertex] = group;
    vertices[group] = vertex;
    parts[group] = part;
    sums[3 * group] = nx;
    sums[3 * group + 1] = ny;
    sums[3 * group + 2] = nz;
    return group;
  }
}

/** Space to work in, by group. */
interface Room {
  readonly size: number;
  /** The group of the same vertex before this one; −1 ends the list. */
  readonly before: Int32Array;
  readonly vertices: Int32Array;
  readonly parts: Float32Array;
  /** Sum of the normals, weighted by area. */
  readonly sums: Float32Array;
}

/** Fresh space costs more than the work in it: one of up to this many groups is kept from call to call. */
const mostKept = 500_000;

let kept: Room = makeRoom(0);

function roomFor(size: number): Room {
  if (size <= kept.size) return kept;
  const made = makeRoom(size);
  if (size <= mostKept) kept = made;
  return made;
}

function makeRoom(size: number): Room {
  return {
    size,
    before: new Int32Array(size),
    vertices: new Int32Array(size),
    parts: new Float32Array(size),
    sums: new Float32Array(3 * size),
  };
}

function larger(room: Room): Room {
  const made = makeRoom(2 * room.size);
  made.before.set(room.before);
  made.vertices.set(room.vertices);
  made.parts.set(room.parts);
  made.sums.set(room.sums);
  if (made.size <= mostKept) kept = made;
  return made;
}
