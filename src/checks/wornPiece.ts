import type { Part } from "../design/part";
import type { PartMesh } from "../geometry/mesh";
import { type SurfaceSamples, surfaceSamples } from "../geometry/surfaceSamples";
import { TriangleTree } from "../geometry/triangleTree";
import type { Vec3 } from "../geometry/vector";
import type { FillSettings } from "../printSettings";
import type { Material } from "./material";

/** Distance between samples of a piece's surface, mm. */
export const sampleSpacing = 4;

/** What is known of a piece before it is checked. */
export interface PieceFacts {
  /** The finished solid, head frame, mm. */
  readonly mesh: PartMesh;
  /** The design's parts, to which `mesh.partOfTriangle` points. */
  readonly parts: readonly Part[];
  readonly material: Material;
  readonly print: FillSettings;
  /** Its direction that looks up when it is printed, a unit vector in the head frame; upright unless given. */
  readonly printUp?: Vec3;
  /** Printed mass, g. */
  readonly mass: number;
  /** Centre of mass, mm. */
  readonly centre: Vec3;
}

/** A piece to be checked: what several checks need of it is made once, at first need. */
export class WornPiece implements PieceFacts {
  readonly mesh: PartMesh;
  readonly parts: readonly Part[];
  readonly material: Material;
  readonly print: FillSettings;
  readonly printUp: Vec3;
  readonly mass: number;
  readonly centre: Vec3;
  readonly #surface: Surface;
  #partOfTriangle: Int32Array | undefined;

  constructor(facts: PieceFacts) {
    this.mesh = facts.mesh;
    this.parts = facts.parts;
    this.material = facts.material;
    this.print = facts.print;
    this.printUp = facts.printUp ?? [0, 0, 1];
    this.mass = facts.mass;
    this.centre = facts.centre;
    this.#surface = surfaceOf(facts.mesh);
  }

  /** Points that stand for the whole surface. */
  get samples(): SurfaceSamples {
    this.#surface.samples ??= surfaceSamples(this.mesh, sampleSpacing);
    return this.#surface.samples;
  }

  get tree(): TriangleTree {
    this.#surface.tree ??= new TriangleTree(this.mesh);
    return this.#surface.tree;
  }

  /** Index of the part that a triangle belongs to; of the hollow, the part that was hollowed there. */
  partOf(triangle: number): number {
    this.#partOfTriangle ??= partsWithHollow(this.mesh);
    return this.#partOfTriangle[triangle];
  }
}

/** What is made of a surface at first need. */
interface Surface {
  samples?: SurfaceSamples;
  tree?: TriangleTree;
}

/** Kept as long as the mesh is: a piece is asked for its arms before its mass is known, and is another piece then. */
const surfaces = new WeakMap<PartMesh, Surface>();

function surfaceOf(mesh: PartMesh): Surface {
  let surface = surfaces.get(mesh);
  if (!surface) {
    surface = {};
    surfaces.set(mesh, surface);
  }
  return surface;
}

/** The part of each triangle; those of the hollow take the part of the nearest triangle round them that has one. */
function partsWithHollow({ positions, triangles, partOfTriangle }: PartMesh): Int32Array {
  const parts = Int32Array.from(partOfTriangle);
  const ofVertex = new Int32Array(positions.length / 3).fill(-1);
  let unknown: number[] = [];
  for (let t = 0; t < parts.length; t++) {
    if (parts[t] < 0) unknown.push(t);
    else for (let corner = 0; corner < 3; corner++) ofVertex[triangles[3 * t + corner]] = parts[t];
  }
  while (unknown.length > 0) {
    const left: number[] = [];
    const found: number[] = [];
    for (const t of unknown) {
      let known = ofVertex[triangles[3 * t]];
      if (known < 0) known = ofVertex[triangles[3 * t + 1]];
      if (known < 0) known = ofVertex[triangles[3 * t + 2]];
      if (known < 0) left.push(t);
      else {
        parts[t] = known;
        found.push(t);
      }
    }
    // A surface with no part at all: nobody made it.
    if (found.length === 0) break;
    for (const t of found) {
      for (let corner = 0; corner < 3; corner++) {
        const vertex = triangles[3 * t + corner];
        if (ofVertex[vertex] < 0) ofVertex[vertex] = parts[t];
      }
    }
    unknown = left;
  }
  return parts;
}
