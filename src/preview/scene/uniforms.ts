import {
  DataTexture,
  LinearFilter,
  Matrix4,
  NearestFilter,
  RedFormat,
  RepeatWrapping,
  RGBAFormat,
  UnsignedByteType,
  Vector2,
  Vector3,
  Vector4,
} from "three";
import { fieldRange, scaleBytes, scaleSteps } from "../fieldScale";
import { bandBytes, overhangBands } from "../overhangScale";
import { shadeSize } from "./headShade";

export type Uniforms = ReturnType<typeof makeUniforms>;

export const colour = () => ({ value: new Vector3() });

/** What the shaders are told; each value stands once, and all materials see it. */
export const makeUniforms = () => ({
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
