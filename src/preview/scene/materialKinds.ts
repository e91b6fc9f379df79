import {
  AlwaysStencilFunc,
  BackSide,
  DoubleSide,
  KeepStencilOp,
  NotEqualStencilFunc,
  ShaderMaterial,
  type ShaderMaterialParameters,
  type Side,
  type StencilOp,
  Vector3,
} from "three";
import type { Colour } from "./colour";
import {
  capFragments,
  capVertices,
  differenceFragments,
  maskFragments,
  outlineFragments,
  outlineVertices,
  plainVertices,
  surfaceFragments,
  surfaceVertices,
} from "./shaders";
import { colour, type Uniforms } from "./uniforms";

/**
 * Surfaces of two builds coincide only as nearly as they travel, on a grid of a few thousandths of a mm; so many steps
 * of depth keep them apart.
 */
const apartInDepth = 600;
/** Wins over what it lies on. */
export const before = { polygonOffsetFactor: -1, polygonOffsetUnits: -apartInDepth };
/** Loses to what it lies on. */
export const behind = { polygonOffsetFactor: 2, polygonOffsetUnits: apartInDepth };

/** Makes materials of each kind; all of them see the same shared values. */
export class MaterialKinds {
  readonly #shared: Uniforms;

  constructor(shared: Uniforms) {
    this.#shared = shared;
  }

  /** The shared values and a part's own. */
  ofOnePart() {
    return { ...this.#shared, part: { value: -1 } };
  }

  /** A surface as its fragment shader says. */
  make(parameters: ShaderMaterialParameters): ShaderMaterial {
    return new ShaderMaterial({
      vertexShader: surfaceVertices,
      uniforms: { ...this.#shared },
      // Lines on a surface win over it.
      polygonOffset: true,
      polygonOffsetFactor: 1,
      polygonOffsetUnits: 1,
      ...parameters,
    });
  }

  /** A surface of one colour of its own. */
  ofColour(parameters: ShaderMaterialParameters = {}): ShaderMaterial {
    return this.make({
      fragmentShader: surfaceFragments,
      uniforms: { ...this.ofOnePart(), pieceColour: colour(), innerColour: colour() },
      ...parameters,
    });
  }

  difference(
    of: Colour,
    line: Colour,
    { plainShare, hatch }: { readonly plainShare: number; readonly hatch: number },
  ): ShaderMaterial {
    return this.make({
      fragmentShader: differenceFragments,
      uniforms: {
        ...this.ofOnePart(),
        // As they stand on the screen: they are laid over what is there.
        differenceColour: { value: new Vector3(...of) },
        differenceLine: { value: new Vector3(...line) },
        differenceEdge: colour(),
        strength: { value: 0 },
        plainShare: { value: plainShare },
        hatch: { value: hatch },
      },
      transparent: true,
      depthWrite: false,
      ...before,
    });
  }

  /** Lays only depth, so that of all walls of a veil the nearest alone is seen. */
  depthAlone(offset: ShaderMaterialParameters = {}): ShaderMaterial {
    return this.make({
      vertexShader: plainVertices,
      fragmentShader: maskFragments,
      uniforms: this.ofOnePart(),
      colorWrite: false,
      ...offset,
    });
  }

  outline(parameters: ShaderMaterialParameters): ShaderMaterial {
    return this.make({
      vertexShader: outlineVertices,
      fragmentShader: outlineFragments,
      side: BackSide,
      polygonOffset: false,
      ...parameters,
    });
  }

  /** Fills the stencil where a surface, cut open, is looked into. */
  mask(side: Side, op: StencilOp): ShaderMaterial {
    return this.make({
      vertexShader: plainVertices,
      fragmentShader: maskFragments,
      uniforms: this.ofOnePart(),
      defines: { IS_CUT: "" },
      side,
      depthTest: false,
      depthWrite: false,
      colorWrite: false,
      stencilWrite: true,
      stencilFunc: AlwaysStencilFunc,
      stencilFail: KeepStencilOp,
      stencilZFail: op,
      stencilZPass: op,
    });
  }

  cap(hatchTurn: number): ShaderMaterial {
    return new ShaderMaterial({
      vertexShader: capVertices,
      fragmentShader: capFragments,
      uniforms: {
        ...this.#shared,
        capColour: colour(),
        capLine: colour(),
        hatchTurn: { value: hatchTurn },
      },
      side: DoubleSide,
      stencilWrite: true,
      stencilFunc: NotEqualStencilFunc,
      stencilRef: 0,
      stencilFail: KeepStencilOp,
      stencilZFail: KeepStencilOp,
      stencilZPass: KeepStencilOp,
    });
  }
}
