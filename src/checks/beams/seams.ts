import type { PartMesh } from "../../geometry/mesh";

/**
 * Where surfaces of two parts meet in a finished solid. Each entry is a vertex that triangles of two parts share; a
 * vertex where three parts meet has several entries. What is buried has no seam: a seam runs where it comes out.
 */
export interface Seams {
  readonly count: number;
  readonly vertices: Uint32Array;
  /** The two parts of each, the lesser first. */
  readonly first: Int32Array;
  readonly second: Int32Array;
  /** 1 where a third part meets the seam at that vertex. */
  readonly crowded: Uint8Array;
  /** 1 where the hollow or a cut meets it. */
  readonly cutOff: Uint8Array;
}

/** The seams of a piece; triangles of the hollow and of cuts that belong to no part join nothing. */
export function seamsOf({ positions, triangles, partOfTriangle }: PartMesh): Seams {
  const vertexCount = positions.length / 3;
  const one = new Int32Array(vertexCount).fill(-1);
  const other = new Int32Array(vertexCount).fill(-1);
  const bare = new Uint8Array(vertexCount);
  const third: number[] = [];
  for (let t = 0; t < partOfTriangle.length; t++) {
    const part = partOfTriangle[t];
    for (let corner = 3 * t; corner < 3 * t + 3; corner++) {
      const v = triangles[corner];
      if (part < 0) bare[v] = 1;
      else if (one[v] < 0) one[v] = part;
      else if (one[v] !== part) {
        if (other[v] < 0) other[v] = part;
        else if (other[v] !== part) third.push(v, part);
      }
    }
  }
  const entries: number[] = [];
  const isCrowded = new Set<number>();
  for (let v = 0; v < vertexCount; v++) {
    if (other[v] >= 0) entries.push(v, Math.min(one[v], other[v]), Math.max(one[v], other[v]));
  }
  for (let i = 0; i < third.length; i += 2) {
    const [v, part] = [third[i], third[i + 1]];
    isCrowded.add(v);
    for (const known of [one[v], other[v]]) entries.push(v, Math.min(known, part), Math.max(known, part));
  }
  const count = entries.length / 3;
  const seams = {
    count,
    vertices: new Uint32Array(count),
    first: new Int32Array(count),
    second: new Int32Array(count),
    crowded: new Uint8Array(count),
    cutOff: new Uint8Array(count),
  };
  for (let i = 0; i < count; i++) {
    seams.vertices[i] = entries[3 * i];
    seams.first[i] = entries[3 * i + 1];
    seams.second[i] = entries[3 * i + 2];
    seams.cutOff[i] = bare[entries[3 * i]];
    seams.crowded[i] = isCrowded.has(entries[3 * i]) ? 1 : 0;
  }
  return seams;
}
