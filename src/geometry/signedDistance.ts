import { oppositeHalves } from "./edgeTable";
import { faceNormals } from "./faceNormals";
import type { TriangleMesh } from "./mesh";
import { emptyPlace, type NearestPlace, TriangleTree } from "./triangleTree";

/** On which part of its triangle a nearest place lies. */
const onBorder = 1e-9;

/**
 * Distance to a mesh with a sign: negative inside. The sign is that of the nearest face, edge or corner, with the mean
 * normal of the faces there, corners weighted by angle (Bærentzen & Aanæs 2005, *Signed distance computation using the
 * angle weighted pseudonormal*, IEEE TVCG 11(3)): exact for a closed mesh; for an open one right near the surface.
 */
export class SignedDistance {
  readonly mesh: TriangleMesh;
  readonly #place = emptyPlace();
  #treeCache: TriangleTree | undefined;
  #faces: Float64Array | undefined;
  #vertices: Float64Array | undefined;
  #opposite: Int32Array | undefined;

  constructor(mesh: TriangleMesh) {
    this.mesh = mesh;
  }

  get tree(): TriangleTree {
    this.#treeCache ??= new TriangleTree(this.mesh);
    return this.#treeCache;
  }

  /** Unit normals of the faces, x, y, z in turn; zero for one without area. */
  get faceNormals(): Float64Array {
    this.#faces ??= faceNormals(this.mesh);
    return this.#faces;
  }

  /** Unit normals of the vertices, weighted by angle, x, y, z in turn. */
  get vertexNormals(): Float64Array {
    this.#vertices ??= vertexNormals(this.mesh, this.faceNormals);
    return this.#vertices;
  }

  /** The nearest place; its distance negative inside. Infinity where there is none within `most` mm. */
  nearest(x: number, y: number, z: number, into: NearestPlace, most = Infinity, guess = -1): NearestPlace {
    this.tree.nearest(x, y, z, into, most, guess);
    if (into.triangle >= 0 && this.#side(x, y, z, into) < 0) into.distance = -into.distance;
    return into;
  }

  /** Distance, negative inside; Infinity where the mesh is farther than `most` mm. */
  at(x: number, y: number, z: number, most = Infinity): number {
    return this.nearest(x, y, z, this.#place, most).distance;
  }

  #side(x: number, y: number, z: number, { triangle, weights, x: px, y: py, z: pz }: NearestPlace): number {
    const { triangles } = this.mesh;
    const zero = [weights[0] <= onBorder, weights[1] <= onBorder, weights[2] <= onBorder];
    const zeros = Number(zero[0]) + Number(zero[1]) + Number(zero[2]);
    const along = (normals: Float64Array, at: number) =>
      (x - px) * normals[at] + (y - py) * normals[at + 1] + (z - pz) * normals[at + 2];
    if (zeros === 0) return along(this.faceNormals, 3 * triangle);
    if (zeros === 2) {
      const corner = zero[0] ? (zero[1] ? 2 : 1) : 0;
      return along(this.vertexNormals, 3 * triangles[3 * triangle + corner]);
    }
    const opposite = zero[0] ? 0 : zero[1] ? 1 : 2;
    this.#opposite ??= oppositeHalves(this.mesh);
    const across = this.#opposite[3 * triangle + ((opposite + 1) % 3)];
    const own = along(this.faceNormals, 3 * triangle);
    return across < 0 ? own : own + along(this.faceNormals, 3 * ((across / 3) | 0));
  }
}

function vertexNormals({ positions: p, triangles: t }: TriangleMesh, faces: Float64Array): Float64Array {
  const normals = new Float64Array(p.length);
  for (let i = 0; i < t.length; i += 3) {
    for (let corner = 0; corner < 3; corner++) {
      const a = 3 * t[i + corner];
      const b = 3 * t[i + ((corner + 1) % 3)];
      const c = 3 * t[i + ((corner + 2) % 3)];
      const u = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
      const v = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
      const lengths = Math.hypot(u[0], u[1], u[2]) * Math.hypot(v[0], v[1], v[2]);
      if (!(lengths > 0)) continue;
      const cosine = (u[0] * v[0] + u[1] * v[1] + u[2] * v[2]) / lengths;
      const angle = Math.acos(Math.min(1, Math.max(-1, cosine)));
      for (let axis = 0; axis < 3; axis++) normals[a + axis] += angle * faces[i + axis];
    }
  }
  for (let i = 0; i < normals.length; i += 3) {
    const length = Math.hypot(normals[i], normals[i + 1], normals[i + 2]);
    if (length > 0) for (let axis = 0; axis < 3; axis++) normals[i + axis] /= length;
  }
  return normals;
}
