import { type Material, Mesh, Scene, type ShaderMaterial } from "three";
import { unpackMesh } from "../../geometry/packedMesh";
import type { DraftMessage, FieldMessage, PartFacts, SolidMessage } from "../protocol";
import { type Box, boxRound } from "./bounds";
import { type FieldValues, fieldValues } from "./fieldValues";
import type { Materials } from "./materials";
import { Surface } from "./surface";

/** A part as the draft shows it. */
interface PartMesh {
  readonly mesh: Mesh;
  readonly surface: Surface;
  part: number;
}

/**
 * The piece as it was last sent: its parts, and the solid made of them. Both stay on the graphics processor, and only
 * one is shown, so that a draft after a solid shows at once.
 */
export class Piece {
  /** What is matter. */
  readonly matter = new Scene();
  /** What the draft's cuts take away. */
  readonly cuts = new Scene();
  readonly #materials: Materials;
  /** Shapes by key; parts of one shape share it. */
  #surfaces = new Map<string, Surface>();
  #parts: PartMesh[] = [];
  #solid: { readonly mesh: Mesh; readonly surface: Surface } | undefined;
  #draftVersion = -1;
  #solidVersion = -1;
  #kinds: readonly PartFacts["kind"][] = [];
  #field: FieldValues | undefined;
  #isFieldShown = false;
  #isOverhangShown = false;
  /** The solid has the values already. */
  #isFieldLaid = false;

  constructor(materials: Materials) {
    this.#materials = materials;
    for (const scene of [this.matter, this.cuts]) scene.matrixWorldAutoUpdate = false;
  }

  get isSolid(): boolean {
    return this.#solid !== undefined && this.#solidVersion >= this.#draftVersion;
  }

  get isEmpty(): boolean {
    return this.#solid === undefined && this.#parts.length === 0;
  }

  /**
   * Takes in a draft; tells whether it is now what is shown. Throws an Error, after the rest is in place, where a part
   * has a key that never came with a mesh.
   */
  takeDraft({ version, parts }: DraftMessage): boolean {
    const surfaces = new Map<string, Surface>();
    const made: PartMesh[] = [];
    const missing: number[] = [];
    for (const { part, key, mesh } of parts) {
      const surface = surfaces.get(key) ?? this.#surfaces.get(key) ?? (mesh && Surface.ofOne(mesh));
      if (!surface) {
        missing.push(part);
        continue;
      }
      surfaces.set(key, surface);
      made.push({ mesh: partMesh(surface, this.#materials.draft, part), surface, part });
    }
    for (const [key, surface] of this.#surfaces) if (!surfaces.has(key)) surface.dispose();
    this.#surfaces = surfaces;
    this.#parts = made;
    this.#draftVersion = Math.max(version, this.#draftVersion);
    this.#arrange();
    if (missing.length > 0)
      throw new Error(`the draft names shapes that never came, of parts ${missing.join(", ")}`);
    return !this.isSolid;
  }

  /** Takes in a solid; tells whether it is shown: one that is older than the draft is dropped. */
  takeSolid({ version, packed }: SolidMessage): boolean {
    if (version < this.#draftVersion || version < this.#solidVersion) return false;
    const surface = Surface.ofParts(unpackMesh(packed));
    this.#solid?.surface.dispose();
    this.#solid = { mesh: still(new Mesh(surface.geometry, this.#materials.solid)), surface };
    this.#solidVersion = version;
    this.#isFieldLaid = false;
    this.#arrange();
    return true;
  }

  /** Takes in the values of a solid, which may still be on its way; tells whether the picture is another by it. */
  takeField(field: FieldMessage): boolean {
    if (field.version < this.#solidVersion || field.version < (this.#field?.version ?? -1)) return false;
    this.#field = fieldValues(field);
    this.#isFieldLaid = false;
    this.#arrange();
    return this.#isFieldShown && this.hasField;
  }

  /** Whether the solid has the colours of its values, as soon as it has values. */
  set isFieldShown(isShown: boolean) {
    if (isShown === this.#isFieldShown) return;
    this.#isFieldShown = isShown;
    this.#arrange();
  }

  /** Whether what leans out has its colours; those of values are not shown then. */
  set isOverhangShown(isShown: boolean) {
    if (isShown === this.#isOverhangShown) return;
    this.#isOverhangShown = isShown;
    this.#arrange();
  }

  /** Of which version what is shown is; −1 while there is nothing. */
  get version(): number {
    return this.isSolid ? this.#solidVersion : this.#draftVersion;
  }

  /** What is shown has values: as many as vertices, of the same version. */
  get hasField(): boolean {
    const field = this.#field;
    return (
      this.isSolid &&
      field?.version === this.#solidVersion &&
      3 * field.values.length === this.#solid?.surface.positions.length
    );
  }

  /** The values that the colours show. */
  get shownValues(): Int16Array | undefined {
    return this.#isFieldShown && !this.#isOverhangShown && this.hasField ? this.#field?.values : undefined;
  }

  /** Tells whether the picture is another by it. */
  setKinds(kinds: readonly PartFacts["kind"][]): boolean {
    const isSame = kinds.length === this.#kinds.length && kinds.every((kind, i) => kind === this.#kinds[i]);
    this.#kinds = kinds;
    if (isSame) return false;
    this.#arrange();
    return !this.isSolid;
  }

  /** The surfaces that are shown; cuts of a draft are left out. `part` is undefined for the solid. */
  shown(): { readonly surface: Surface; readonly part: number | undefined }[] {
    if (this.#solid && this.isSolid) return [{ surface: this.#solid.surface, part: undefined }];
    return this.#parts.filter(({ part }) => !this.#isCut(part));
  }

  /** The cuts of a draft that is shown. */
  shownCuts(): { readonly surface: Surface; readonly part: number }[] {
    return this.isSolid ? [] : this.#parts.filter(({ part }) => this.#isCut(part));
  }

  /** The surface that shows a part best: of the solid where it has any of it. */
  surfacesOf(): { readonly solid?: Surface; readonly parts: ReadonlyMap<number, Surface> } {
    return {
      ...(this.#solid && this.isSolid && { solid: this.#solid.surface }),
      parts: new Map(this.#parts.map(({ part, surface }) => [part, surface])),
    };
  }

  /** Hides all parts of a draft but these, for a pass that is about them alone; undefined shows all. */
  showOnly(parts: readonly number[] | undefined): void {
    for (const { mesh, part } of this.#parts) mesh.visible = parts?.includes(part) ?? true;
  }

  /** The box of what is shown; undefined while there is nothing. */
  box(): Box | undefined {
    return boxRound(this.shown().flatMap(({ surface }) => surface.box ?? []));
  }

  /** Frees what lies on the graphics processor; what is still shown is put there again when it is drawn. */
  release(): void {
    this.#solid?.surface.dispose();
    for (const surface of this.#surfaces.values()) surface.dispose();
  }

  dispose(): void {
    this.release();
    this.#surfaces.clear();
    this.#parts = [];
    this.matter.clear();
    this.cuts.clear();
  }

  #isCut(part: number): boolean {
    return this.#kinds[part] === "cut";
  }

  #arrange(): void {
    this.matter.clear();
    this.cuts.clear();
    // The hidden ones keep their buffers: geometries are freed only by their own dispose.
    if (this.#solid && this.isSolid) {
      const values = this.shownValues;
      if (values && !this.#isFieldLaid) {
        this.#solid.surface.setValues(values);
        this.#isFieldLaid = true;
      }
      const { field, overhang, solid } = this.#materials;
      this.#solid.mesh.material = this.#isOverhangShown ? overhang : values ? field : solid;
      this.matter.add(this.#solid.mesh);
      return;
    }
    for (const { mesh, part } of this.#parts) {
      const isCut = this.#isCut(part);
      const { cutPart, draft, overhangOfOne } = this.#materials;
      mesh.material = isCut ? cutPart : this.#isOverhangShown ? overhangOfOne : draft;
      (isCut ? this.cuts : this.matter).add(mesh);
    }
  }
}

function partMesh(surface: Surface, material: Material, part: number): Mesh {
  const mesh = still(new Mesh(surface.geometry, material));
  mesh.onBeforeRender = (_renderer, _scene, _camera, _geometry, used) => {
    const shader = used as ShaderMaterial;
    if (!shader.uniforms.part) return;
    shader.uniforms.part.value = part;
    shader.uniformsNeedUpdate = true;
  };
  return mesh;
}

/** Everything stands in the head frame: no matrix changes, and a piece too large for the picture is clipped, not lost. */
function still(mesh: Mesh): Mesh {
  mesh.frustumCulled = false;
  mesh.matrixAutoUpdate = false;
  return mesh;
}
