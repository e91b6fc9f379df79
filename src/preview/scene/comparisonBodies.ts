import { Scene, type ShaderMaterial } from "three";
import { comparisonManner } from "../differenceColours";
import type { ComparisonMessage, MeshBuffers } from "../protocol";
import type { Box } from "./bounds";
import type { Materials } from "./materials";
import { partlessMesh } from "./partlessMesh";
import { Surface } from "./surface";

/** How much of its strength a comparison with an older piece keeps. */
const outdatedStrength = 0.45;

/** A surface in a scene of its own, of which each pass paints what it needs. */
interface Body {
  readonly surface: Surface;
  readonly scene: Scene;
}

type Meshes = Pick<ComparisonMessage, "old" | "added" | "removed">;

/** The piece as it was in a commit, and what was added and removed since; all in the head frame. */
export class ComparisonBodies {
  readonly #materials: Materials;
  #old: Body | undefined;
  #added: Body | undefined;
  #removed: Body | undefined;
  #share = 1;
  #isShown = false;
  #isOutdated = false;

  constructor(materials: Materials) {
    this.#materials = materials;
  }

  /** Takes in the surfaces, or forgets them. Throws a RangeError where the buffers are no meshes. */
  take(meshes: Meshes | undefined): void {
    this.dispose();
    if (!meshes) return;
    this.#old = this.#body(meshes.old, this.#materials.draft);
    this.#added = this.#body(meshes.added, this.#materials.added);
    this.#removed = this.#body(meshes.removed, this.#materials.removed);
  }

  /** Which of the two pieces is seen, 0 the old one to 1 that of now, and whether they are looked at together at all. */
  arrange(share: number, isShown: boolean): void {
    this.#share = share;
    this.#isShown = isShown;
    this.#setStrength();
  }

  set isOutdated(isOutdated: boolean) {
    this.#isOutdated = isOutdated;
    this.#setStrength();
  }

  /** A piece is there to be compared with, and is looked at. */
  get isShown(): boolean {
    return this.#isShown && this.#old !== undefined;
  }

  /** The old piece, where it stands as matter in place of that of now. */
  get matter(): Scene | undefined {
    return this.isShown && comparisonManner(this.#share).isOldMatter ? this.#old?.scene : undefined;
  }

  /** The old piece, where it is a ghost about that of now. */
  get ghost(): Scene | undefined {
    const { isOldMatter, ghost } = comparisonManner(this.#share);
    return this.isShown && !isOldMatter && ghost > 0 ? this.#old?.scene : undefined;
  }

  /** The piece of now is a ghost about the old one. */
  get isNewGhost(): boolean {
    const { isOldMatter, ghost } = comparisonManner(this.#share);
    return this.isShown && isOldMatter && ghost > 0;
  }

  /** What differs, with its materials; nothing at the ends of the slider. */
  differences(): readonly { readonly scene: Scene; readonly depth: ShaderMaterial }[] {
    if (!this.isShown || comparisonManner(this.#share).differences <= 0) return [];
    const { differenceDepth } = this.#materials;
    return [this.#added, this.#removed].flatMap((body) =>
      body ? [{ scene: body.scene, depth: differenceDepth }] : [],
    );
  }

  /** The surfaces that are shown. */
  surfaces(): Surface[] {
    return this.isShown && this.#old ? [this.#old.surface] : [];
  }

  boxes(): Box[] {
    return this.surfaces().flatMap(({ box }) => box ?? []);
  }

  /** Frees what lies on the graphics processor; drawn again, it is put there again. */
  release(): void {
    for (const body of [this.#old, this.#added, this.#removed]) body?.surface.dispose();
  }

  dispose(): void {
    this.release();
    this.#old = undefined;
    this.#added = undefined;
    this.#removed = undefined;
  }

  #setStrength(): void {
    const { differences, ghost } = comparisonManner(this.#share);
    const strength = this.#isOutdated ? outdatedStrength : 1;
    const { added, removed, otherPiece } = this.#materials;
    added.uniforms.strength.value = strength * differences;
    removed.uniforms.strength.value = strength * differences;
    otherPiece.uniforms.strength.value = ghost;
  }

  #body(buffers: MeshBuffers, material: ShaderMaterial): Body | undefined {
    if (buffers.triangles.byteLength === 0) return undefined;
    const surface = Surface.ofOne(buffers);
    const scene = new Scene();
    scene.matrixWorldAutoUpdate = false;
    const mesh = partlessMesh(surface.geometry, material);
    scene.add(mesh);
    return { surface, scene };
  }
}
