import {
  AlwaysStencilFunc,
  BackSide,
  type Camera,
  DataTexture,
  DecrementWrapStencilOp,
  DoubleSide,
  FrontSide,
  IncrementWrapStencilOp,
  KeepStencilOp,
  LinearFilter,
  Matrix4,
  NearestFilter,
  NotEqualStencilFunc,
  OrthographicCamera,
  RedFormat,
  RepeatWrapping,
  RGBAFormat,
  ShaderMaterial,
  type ShaderMaterialParameters,
  type Side,
  type StencilOp,
  UnsignedByteType,
  Vector2,
  Vector3,
  Vector4,
} from "three";
import { addedColour, removedColour, removedLine } from "../differenceColours";
import { fieldRange, scaleBytes, scaleSteps } from "../fieldScale";
import { bandBytes, bandSines, firstStriped, overhangBands } from "../overhangScale";
import { type Colour, mixed } from "./colour";
import { shadeSize } from "./headShade";
import type { Cut } from "./rayIndex";
import { movedPoint, type RigidMotion, reversed } from "./rigidMotion";
import {
  capFragments,
  capVertices,
  cutFragments,
  differenceFragments,
  ghostFragments,
  maskFragments,
  otherPieceFragments,
  outlineFragments,
  outlineVertices,
  plainVertices,
  surfaceFragments,
  surfaceVertices,
  wireFragments,
} from "./shaders";
import type { Theme } from "./theme";

const colour = () => ({ value: new Vector3() });

/** What the shaders are told; each value stands once, and all materials see it. */
const makeUniforms = () => ({
  pieceColour: colour(),
  innerColour: colour(),
  headColour: colour(),
  litColour: colour(),
  outlineColour: colour(),
  lineColour: colour(),
  wireColour: colour(),
  background: colour(),
  fade: { value: 0 },
  rim: { value: 0 },
  lit: { value: -1 },
  pointed: { value: -1 },
  outlinesAll: { value: 0 },
  outlineWidth: { value: new Vector2() },
  stripe: { value: 8 },
  keyLight: colour(),
  fillLight: colour(),
  /** Between the key light and the eye. */
  halfway: colour(),
  /** The eye, and 1; or the direction to an eye that is far away, and 0. */
  eyePlace: { value: new Vector4() },
  /** From the head frame to the screen. */
  toScreen: { value: new Matrix4() },
  /** Middle of the head, and how much light it keeps away. */
  headBall: { value: new Vector4() },
  /** One over its half axes, 1/mm. */
  headStretch: { value: new Vector3(1, 1, 1) },
  cut: { value: new Vector4() },
  shade: { value: shadeTexture() },
  fieldScale: { value: rowTexture(scaleBytes(), scaleSteps) },
  overhangBands: { value: rowTexture(bandBytes(), overhangBands) },
  /** Sine of the lean that is held up; the first layer's top along the printer's up, mm. */
  overhang: { value: new Vector2(2, -Infinity) },
  /** Sines at which the bands after the first begin. */
  bandSines: { value: new Vector4(2, 2, 2, 2) },
  /** What counts as up: of the wearer, or of the printer. */
  skyward: { value: new Vector3(0, 0, 1) },
  ghostColour: colour(),
  ghostShare: { value: 0.3 },
  fieldEnds: { value: new Vector2(fieldRange.least, fieldRange.most) },
  noValueColour: colour(),
});

/**
 * Surfaces of two builds coincide only as nearly as they travel, on a grid of a few thousandths of a mm; so many steps
 * of depth keep them apart.
 */
const apartInDepth = 600;
/** Wins over what it lies on. */
const before = { polygonOffsetFactor: -1, polygonOffsetUnits: -apartInDepth };
/** Loses to what it lies on. */
const behind = { polygonOffsetFactor: 2, polygonOffsetUnits: apartInDepth };

const overhangDefines = {
  IS_OVERHANG: "",
  OVERHANG_BANDS: overhangBands.toFixed(1),
  FIRST_STRIPED: firstStriped.toFixed(1),
};

/** All materials of the picture and what they share. */
export class Materials {
  readonly shared = makeUniforms();
  /** `solid` is of many parts, `draft` of one each. */
  readonly solid = this.#make({ fragmentShader: surfaceFragments, defines: { PART_PER_VERTEX: "" } });
  /** A solid with the colours of its values. */
  readonly field = this.#make({
    fragmentShader: surfaceFragments,
    defines: { PART_PER_VERTEX: "", IS_FIELD: "" },
  });
  /** With the colours of what leans out: of many parts, of one. */
  readonly overhang = this.#make({
    fragmentShader: surfaceFragments,
    defines: { PART_PER_VERTEX: "", ...overhangDefines },
  });
  readonly overhangOfOne = this.#make({
    fragmentShader: surfaceFragments,
    defines: { ...overhangDefines },
    uniforms: this.#ofOnePart(),
  });
  readonly props = this.#ofColour();
  readonly ghost = this.#make({
    fragmentShader: ghostFragments,
    uniforms: this.#ofOnePart(),
    transparent: true,
    depthWrite: false,
  });
  /** Lays only the depth of the ghost, so that of all its walls the nearest alone is seen. */
  readonly ghostDepth = this.#make({
    vertexShader: plainVertices,
    fragmentShader: maskFragments,
    uniforms: this.#ofOnePart(),
    colorWrite: false,
  });
  /** What was added to a piece, and removed from it: see `differenceColours`. */
  readonly added = this.#difference(addedColour, addedColour, { plainShare: 0.93, hatch: 0 });
  readonly removed = this.#difference(removedColour, removedLine, { plainShare: 0.6, hatch: 1 });
  readonly differenceDepth = this.#depthAlone(before);
  /** Of two pieces the one that is not matter. */
  readonly otherPiece = this.#make({
    fragmentShader: otherPieceFragments,
    uniforms: { ...this.#ofOnePart(), otherColour: colour(), strength: { value: 0 } },
    transparent: true,
    depthWrite: false,
    ...behind,
  });
  readonly otherPieceDepth = this.#depthAlone(behind);
  readonly draft = this.#make({ fragmentShader: surfaceFragments, uniforms: this.#ofOnePart() });
  /** The arrow of a way on, and of one that is barred. */
  readonly wayOn = this.#ofColour({ polygonOffset: false });
  readonly wayBarred = this.#ofColour({ polygonOffset: false });
  readonly head = this.#make({
    fragmentShader: surfaceFragments,
    defines: { IS_HEAD: "" },
    uniforms: this.#ofOnePart(),
  });
  readonly cutPart = this.#make({
    fragmentShader: cutFragments,
    uniforms: this.#ofOnePart(),
    transparent: true,
    depthWrite: false,
    side: DoubleSide,
  });
  readonly outlineOfSolid = this.#outline({ defines: { PART_PER_VERTEX: "" } });
  readonly outlineOfParts = this.#outline({ uniforms: this.#ofOnePart() });
  readonly wire = this.#make({
    vertexShader: plainVertices,
    fragmentShader: wireFragments,
    uniforms: this.#ofOnePart(),
    wireframe: true,
    transparent: true,
    depthWrite: false,
    polygonOffset: false,
  });
  readonly maskBack = this.#mask(BackSide, IncrementWrapStencilOp);
  readonly maskFront = this.#mask(FrontSide, DecrementWrapStencilOp);
  readonly capOfPiece = this.#cap(1);
  readonly capOfHead = this.#cap(-1);
  readonly capOfProps = this.#cap(-1);

  #cut: Cut | undefined;

  setTheme(theme: Theme): void {
    const { shared } = this;
    const set = (uniform: { value: Vector3 }, value: Colour) => uniform.value.set(...asLight(value));
    set(shared.pieceColour, theme.piece);
    set(shared.innerColour, theme.inner);
    set(shared.headColour, theme.head);
    set(shared.litColour, theme.lit);
    set(shared.outlineColour, theme.outline);
    set(shared.noValueColour, theme.noValue);
    // As it stands on the screen: it is laid over what is there.
    shared.ghostColour.value.set(...theme.ghost);
    shared.ghostShare.value = theme.isHighContrast ? 0.5 : theme.isDark ? 0.3 : 0.34;
    for (const uniform of ["pieceColour", "innerColour"]) set(this.props.uniforms[uniform], theme.props);
    for (const uniform of ["pieceColour", "innerColour"]) {
      set(this.wayOn.uniforms[uniform], theme.way);
      set(this.wayBarred.uniforms[uniform], theme.misfit);
    }
    this.otherPiece.uniforms.otherColour.value.set(...(theme.isHighContrast ? theme.outline : theme.ghost));
    for (const [material, of] of [
      [this.added, addedColour],
      [this.removed, removedColour],
    ] as const) {
      const share = theme.isHighContrast ? 0.9 : 0.5;
      material.uniforms.differenceEdge.value.set(...mixed(of, theme.foreground, share));
    }
    // These three are mixed as they stand on the screen.
    shared.background.value.set(...theme.background);
    shared.lineColour.value.set(...theme.foreground);
    shared.wireColour.value.set(
      ...(theme.isDark ? mixed(theme.background, [0, 0, 0], 0.6) : theme.foreground),
    );
    shared.rim.value = theme.isHighContrast ? 0 : theme.isDark ? 0.07 : 0.02;
    shared.outlinesAll.value = theme.isHighContrast ? 1 : 0;
    const cap = (material: ShaderMaterial, of: Colour, lines: number) => {
      set(material.uniforms.capColour, mixed(of, theme.background, 0.12));
      set(
        material.uniforms.capLine,
        mixed(of, theme.isDark && !theme.isHighContrast ? [0, 0, 0] : theme.foreground, lines),
      );
    };
    cap(this.capOfPiece, theme.piece, theme.isHighContrast ? 0.7 : 0.5);
    cap(this.capOfHead, theme.head, theme.isHighContrast ? 0.35 : 0.16);
    cap(this.capOfProps, theme.props, theme.isHighContrast ? 0.7 : 0.4);
  }

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

  /**
   * Lights that stand with the camera: the piece is lit from wherever it is looked at. What is drawn next is moved by
   * `motion`: the eye, its lights and the cut are moved back instead, so that no shader has to know.
   */
  setEye(camera: Camera, motion?: RigidMotion): void {
    const { keyLight, fillLight, halfway, eyePlace, toScreen } = this.shared;
    const back = motion && reversed(motion);
    const world = back ? matrixOf(back).multiply(camera.matrixWorld) : camera.matrixWorld;
    const toCamera = back ? world.clone().invert() : camera.matrixWorldInverse;
    toScreen.value.multiplyMatrices(camera.projectionMatrix, toCamera);
    this.#placeCut(back);
    const place = (to: Vector3, x: number, y: number, z: number) => to.set(x, y, z).transformDirection(world);
    place(keyLight.value, -0.55, 0.75, 0.7);
    place(fillLight.value, 0.85, -0.1, 0.45);
    const towards = place(halfway.value, 0, 0, 1);
    if (camera instanceof OrthographicCamera) eyePlace.value.set(towards.x, towards.y, towards.z, 0);
    else eyePlace.value.set(...(world.elements.slice(12, 15) as [number, number, number]), 1);
    towards.add(keyLight.value).normalize();
  }

  #placeCut(back: RigidMotion | undefined): void {
    if (!this.#cut) return;
    const { normal, offset } = this.#cut;
    const { value } = this.shared.cut;
    if (!back) {
      value.set(...normal, offset);
      return;
    }
    const [x, y, z] = movedPoint({ ...back, shift: [0, 0, 0] }, normal);
    const on = movedPoint(back, [offset * normal[0], offset * normal[1], offset * normal[2]]);
    value.set(x, y, z, x * on[0] + y * on[1] + z * on[2]);
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

  /** The shared values and a part's own. */
  #ofOnePart() {
    return { ...this.shared, part: { value: -1 } };
  }

  #make(parameters: ShaderMaterialParameters): ShaderMaterial {
    return new ShaderMaterial({
      vertexShader: surfaceVertices,
      uniforms: { ...this.shared },
      // Lines on a surface win over it.
      polygonOffset: true,
      polygonOffsetFactor: 1,
      polygonOffsetUnits: 1,
      ...parameters,
    });
  }

  /** A surface of one colour of its own. */
  #ofColour(parameters: ShaderMaterialParameters = {}): ShaderMaterial {
    return this.#make({
      fragmentShader: surfaceFragments,
      uniforms: { ...this.#ofOnePart(), pieceColour: colour(), innerColour: colour() },
      ...parameters,
    });
  }

  #difference(
    of: Colour,
    line: Colour,
    { plainShare, hatch }: { readonly plainShare: number; readonly hatch: number },
  ): ShaderMaterial {
    return this.#make({
      fragmentShader: differenceFragments,
      uniforms: {
        ...this.#ofOnePart(),
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
  #depthAlone(offset: ShaderMaterialParameters): ShaderMaterial {
    return this.#make({
      vertexShader: plainVertices,
      fragmentShader: maskFragments,
      uniforms: this.#ofOnePart(),
      colorWrite: false,
      ...offset,
    });
  }

  #outline(parameters: ShaderMaterialParameters): ShaderMaterial {
    return this.#make({
      vertexShader: outlineVertices,
      fragmentShader: outlineFragments,
      side: BackSide,
      polygonOffset: false,
      ...parameters,
    });
  }

  /** Fills the stencil where a surface, cut open, is looked into. */
  #mask(side: Side, op: StencilOp): ShaderMaterial {
    return this.#make({
      vertexShader: plainVertices,
      fragmentShader: maskFragments,
      uniforms: this.#ofOnePart(),
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

  #cap(hatchTurn: number): ShaderMaterial {
    return new ShaderMaterial({
      vertexShader: capVertices,
      fragmentShader: capFragments,
      uniforms: {
        ...this.shared,
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

function shadeTexture(): DataTexture {
  const { columns, rows } = shadeSize;
  const texture = new DataTexture(new Uint8Array(columns * rows), columns, rows, RedFormat, UnsignedByteType);
  texture.wrapS = RepeatWrapping;
  texture.magFilter = LinearFilter;
  texture.minFilter = LinearFilter;
  texture.unpackAlignment = 1;
  texture.needsUpdate = true;
  return texture;
}

/** Colours in a row, four bytes each; a place between two has one of them, nothing is mixed. */
function rowTexture(bytes: Uint8Array, count: number): DataTexture {
  const texture = new DataTexture(bytes, count, 1, RGBAFormat, UnsignedByteType);
  texture.magFilter = NearestFilter;
  texture.minFilter = NearestFilter;
  texture.needsUpdate = true;
  return texture;
}

const matrixOf = ({ x, y, z, shift }: RigidMotion): Matrix4 =>
  new Matrix4().set(
    ...([x[0], y[0], z[0], shift[0]] as const),
    ...([x[1], y[1], z[1], shift[1]] as const),
    ...([x[2], y[2], z[2], shift[2]] as const),
    ...([0, 0, 0, 1] as const),
  );

/** Light is mixed as squares of what the screen shows: near enough to how it adds up, and cheap to turn back. */
const asLight = ([r, g, b]: Colour): [number, number, number] => [r * r, g * g, b * b];
