import type { SignedDistance } from "../../geometry/signedDistance";
import { emptyPlace } from "../../geometry/triangleTree";

/** Nearer than this the way to the surface is too short to have a direction, mm. */
const near = 0.5;
/** Normals of a face and its vertex are those of one smooth surface up to 25° between them: cosine. */
const smooth = 0.906;

/** Feels for a surface from a point: how far, and which way is out. Written over by each question. */
export class Feeler {
  /** mm, negative inside; Infinity when the surface is farther than was asked. */
  gap = Infinity;
  /** Unit vector out of the surface, with the normals of the vertices blended, so that facets do not show. */
  nx = 0;
  ny = 0;
  nz = 1;
  /** The nearest triangle: a guess for the next point nearby; −1 when nothing was found. */
  triangle = -1;
  readonly #surface: SignedDistance;
  readonly #place = emptyPlace();

  constructor(surface: SignedDistance) {
    this.#surface = surface;
  }

  feel(x: number, y: number, z: number, most: number, guess: number): boolean {
    const place = this.#surface.nearest(x, y, z, this.#place, most, guess);
    this.triangle = place.triangle;
    this.gap = place.distance;
    if (place.triangle < 0) return false;
    if (Math.abs(place.distance) > near) {
      const k = 1 / place.distance;
      this.nx = (x - place.x) * k;
      this.ny = (y - place.y) * k;
      this.nz = (z - place.z) * k;
      return true;
    }
    const { vertexNormals, faceNormals, mesh } = this.#surface;
    const face = 3 * place.triangle;
    const normal = [0, 0, 0];
    for (let corner = 0; corner < 3; corner++) {
      const at = 3 * mesh.triangles[face + corner];
      let cosine = 0;
      for (let axis = 0; axis < 3; axis++) cosine += vertexNormals[at + axis] * faceNormals[face + axis];
      // A vertex on an edge or a fold says nothing of the face.
      const from = cosine > smooth ? vertexNormals : faceNormals;
      const start = cosine > smooth ? at : face;
      for (let axis = 0; axis < 3; axis++) normal[axis] += place.weights[corner] * from[start + axis];
    }
    const size = Math.hypot(normal[0], normal[1], normal[2]);
    // Straight up where the triangle has no area.
    this.nx = size > 0 ? normal[0] / size : 0;
    this.ny = size > 0 ? normal[1] / size : 0;
    this.nz = size > 0 ? normal[2] / size : 1;
    return true;
  }
}
