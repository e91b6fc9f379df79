import { BufferAttribute, BufferGeometry } from "three";
import type { PartMesh, TriangleMesh } from "../../geometry/mesh";
import type { MeshBuffers } from "../protocol";
import { type Box, boxOf } from "./bounds";
import { drawnValues } from "./fieldValues";
import { RayIndex } from "./rayIndex";
import { shadedMesh } from "./shadedMesh";

/** A surface on the graphics processor, and what is needed to point at it. */
export class Surface {
  readonly geometry = new BufferGeometry();
  /** As it came: x, y, z of each vertex. */
  readonly positions: Float32Array;
  readonly triangles: Uint32Array;
  readonly partOfTriangle: Int32Array | undefined;
  readonly rays: RayIndex;
  #box: Box | undefined;

  private constructor(mesh: TriangleMesh & { readonly partOfTriangle?: Int32Array }) {
    this.positions = mesh.positions;
    this.triangles = mesh.triangles;
    this.partOfTriangle = mesh.partOfTriangle;
    this.rays = new RayIndex(this.positions, this.triangles);
    const shaded = shadedMesh(this.positions, this.triangles, this.partOfTriangle);
    this.geometry.setAttribute("position", new BufferAttribute(shaded.positions, 3));
    this.geometry.setAttribute("normal", new BufferAttribute(shaded.normals, 4, true));
    if (shaded.parts) this.geometry.setAttribute("part", new BufferAttribute(shaded.parts, 1));
    this.geometry.setIndex(new BufferAttribute(shaded.triangles, 1));
  }

  /** The surface of one part. Throws a RangeError where the buffers are no mesh. */
  static ofOne({ positions, triangles }: MeshBuffers): Surface {
    return new Surface({ positions: new Float32Array(positions), triangles: new Uint32Array(triangles) });
  }

  /** A surface of many parts. */
  static ofParts(mesh: PartMesh): Surface {
    return new Surface(mesh);
  }

  /** Puts a value at each vertex: hundredths of a mm. As many as there are vertices. */
  setValues(values: Int16Array): void {
    const drawn = this.geometry.getIndex()?.array ?? [];
    const count = this.geometry.getAttribute("position").count;
    const pairs = drawnValues(values, this.triangles, drawn, count);
    this.geometry.setAttribute("value", new BufferAttribute(pairs, 2));
  }

  get box(): Box | undefined {
    this.#box ??= boxOf([this.positions]);
    return this.#box;
  }

  /** The part that a triangle is of, −1 for what the head left; undefined where the whole surface is of one. */
  partOf(triangle: number): number | undefined {
    return this.partOfTriangle?.[triangle];
  }

  /** Frees what lies on the graphics processor; drawn again, it is put there again. */
  dispose(): void {
    this.geometry.dispose();
  }
}
