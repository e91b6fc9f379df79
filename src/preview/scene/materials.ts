import {
  BackSide,
  type Camera,
  DecrementWrapStencilOp,
  DoubleSide,
  FrontSide,
  IncrementWrapStencilOp,
  ShaderMaterial,
} from "three";
import { addedColour, removedColour, removedLine } from "../differenceColours";
import { bandSines, firstStriped, overhangBands } from "../overhangScale";
import { placeEye } from "./eye";
import { before, behind, MaterialKinds } from "./materialKinds";
import type { Cut } from "./rayIndex";
import type { RigidMotion } from "./rigidMotion";
import {
  cutFragments,
  ghostFragments,
  otherPieceFragments,
  plainVertices,
  surfaceFragments,
  wireFragments,
} from "./shaders";
import { colour, makeUniforms } from "./uniforms";

const overhangDefines = {
  IS_OVERHANG: "",
  OVERHANG_BANDS: overhangBands.toFixed(1),
  FIRST_STRIPED: firstStriped.toFixed(1),
};

/** All materials of the picture and what they share. */
export class Materials {
  readonly shared = makeUniforms();
  readonly #kinds = new MaterialKinds(this.shared);
  /** `solid` is of many parts, `draft` of one each. */
  readonly solid = this.#kinds.make({ fragmentShader: surfaceFragments, defines: { PART_PER_VERTEX: "" } });
  /** A solid with the colours of its values. */
  readonly field = this.#kinds.make({
    fragmentShader: surfaceFragments,
    defines: { PART_PER_VERTEX: "", IS_FIELD: "" },
  });
  /** With the colours of what leans out: of many parts, of one. */
  readonly overhang = this.#kinds.make({
    fragmentShader: surfaceFragments,
    defines: { PART_PER_VERTEX: "", ...overhangDefines },
  });
  readonly overhangOfOne = this.#kinds.make({
    fragmentShader: surfaceFragments,
    defines: { ...overhangDefines },
    uniforms: this.#kinds.ofOnePart(),
  });
  readonly props = this.#kinds.ofColour();
  readonly ghost = this.#kinds.make({
    fragmentShader: ghostFragments,
    uniforms: this.#kinds.ofOnePart(),
    transparent: true,
    depthWrite: false,
  });
  readonly ghostDepth = this.#kinds.depthAlone();
  /** What was added to a piece, and removed from it: see `differenceColours`. */
  readonly added = this.#kinds.difference(addedColour, addedColour, { plainShare: 0.93, hatch: 0 });
  readonly removed = this.#kinds.difference(removedColour, removedLine, { plainShare: 0.6, hatch: 1 });
  readonly differenceDepth = this.#kinds.depthAlone(before);
  /** Of two pieces the one that is not matter. */
  readonly otherPiece = this.#kinds.make({
    fragmentShader: otherPieceFragments,
    uniforms: { ...this.#kinds.ofOnePart(), otherColour: colour(), strength: { value: 0 } },
    transparent: true,
    depthWrite: false,
    ...behind,
  });
  readonly otherPieceDepth = this.#kinds.depthAlone(behind);
  readonly draft = this.#kinds.make({ fragmentShader: surfaceFragments, uniforms: this.#kinds.ofOnePart() });
  /** The arrow of a way on, and of one that is barred. */
  readonly wayOn = this.#kinds.ofColour({ polygonOffset: false });
  readonly wayBarred = this.#kinds.ofColour({ polygonOffset: false });
  readonly head = this.#kinds.make({
    fragmentShader: surfaceFragments,
    defines: { IS_HEAD: "" },
    uniforms: this.#kinds.ofOnePart(),
  });
  readonly cutPart = this.#kinds.make({
    fragmentShader: cutFragments,
    uniforms: this.#kinds.ofOnePart(),
    transparent: true,
    depthWrite: false,
    side: DoubleSide,
  });
  readonly outlineOfSolid = this.#kinds.outline({ defines: { PART_PER_VERTEX: "" } });
  readonly outlineOfParts = this.#kinds.outline({ uniforms: this.#kinds.ofOnePart() });
  readonly wire = this.#kinds.make({
    vertexShader: plainVertices,
    fragmentShader: wireFragments,
    uniforms: this.#kinds.ofOnePart(),
    wireframe: true,
    transparent: true,
    depthWrite: false,
    polygonOffset: false,
  });
  readonly maskBack = this.#kinds.mask(BackSide, IncrementWrapStencilOp);
  readonly maskFront = this.#kinds.mask(FrontSide, DecrementWrapStencilOp);
  readonly capOfPiece = this.#kinds.cap(1);
  readonly capOfHead = this.#kinds.cap(-1);
  readonly capOfProps = this.#kinds.cap(-1);

  #cut: Cut | undefined;

  /** The graphics processor itself can cut: it does so with what has many walls one behind the other. */
  useClipping(): void {
    for (const material of [this.ghost, this.ghostDepth]) {
      material.extensions.clipCullDistance = true;
      material.defines.CLIPS = "";
      material.needsUpdate = true;
    }
  }

  /** What leans out farther from the vertical is held up, degrees. `level`: top of the first layer along the printer's up. */
  setOverhang(limit: number, level: number): void {
    const [least, ...others] = bandSines(limit);
    this.shared.overhang.value.set(least, level);
    this.shared.bandSines.value.fromArray(others);
  }

  /** Cuts what lies beyond a plane away from all surfaces; undefined: nothing. */
  setCut(cut: Cut | undefined): void {
    this.#cut = cut;
    for (const material of this.#cuttable()) {
      if ((cut !== undefined) === "IS_CUT" in material.defines) continue;
      if (cut) material.defines.IS_CUT = "";
      else delete material.defines.IS_CUT;
      if (material.side !== BackSide)
        material.side = cut || material === this.cutPart ? DoubleSide : FrontSide;
      material.needsUpdate = true;
    }
  }

  /** See `placeEye`: for what is drawn next, moved by `motion`. */
  setEye(camera: Camera, motion?: RigidMotion): void {
    placeEye(this.shared, camera, this.#cut, motion);
  }

  dispose(): void {
    this.shared.shade.value.dispose();
    this.shared.fieldScale.value.dispose();
    this.shared.overhangBands.value.dispose();
    for (const value of Object.values(this)) if (value instanceof ShaderMaterial) value.dispose();
  }

  #cuttable(): ShaderMaterial[] {
    return [
      this.solid,
      this.field,
      this.overhang,
      this.overhangOfOne,
      this.props,
      this.ghost,
      this.ghostDepth,
      this.added,
      this.removed,
      this.differenceDepth,
      this.otherPiece,
      this.otherPieceDepth,
      this.draft,
      this.head,
      this.cutPart,
      this.outlineOfSolid,
      this.outlineOfParts,
      this.wire,
    ];
  }
}
