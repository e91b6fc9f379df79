/** Where a vertex stands on the screen: everything stands in the head frame as it is. */
const place = /* glsl */ `
uniform mat4 toScreen;
// A pass that lays only depth must meet the one that colours, to the last bit.
invariant gl_Position;
#ifdef PART_PER_VERTEX
attribute float part;
#else
uniform float part;
#endif
flat varying float vPart;
`;

/** Where it can (CLIPS), the graphics processor cuts whole triangles, which spares it what lies beyond the plane. */
const isCutPlace = /* glsl */ `
#if (defined(IS_CUT) && !defined(CLIPS)) || defined(IS_OVERHANG)
varying vec3 vPlace;
#define PASS_PLACE vPlace = position;
#elif defined(IS_CUT)
uniform vec4 cut;
#define PASS_PLACE gl_ClipDistance[0] = cut.w - dot(position, cut.xyz);
#else
#define PASS_PLACE
#endif
`;

/** Only the place. */
export const plainVertices = /* glsl */ `
${place}
${isCutPlace}
void main() {
  vPart = part;
  PASS_PLACE
  gl_Position = toScreen * vec4(position, 1.0);
}
`;

/** What can vary slowly is worked out here, so that a picture stays cheap where it is drawn without a graphics card. */
export const surfaceVertices = /* glsl */ `
${place}
${isCutPlace}
uniform vec4 eyePlace;
uniform vec4 headBall;
uniform vec3 headStretch;
#ifdef IS_HEAD
uniform sampler2D shade;
#endif
#ifdef IS_FIELD
attribute vec2 value;
varying vec2 vValue;
#endif
varying vec3 vNormal;
varying vec3 vEye;
varying float vOpen;
void main() {
  vPart = part;
  vNormal = normal;
#ifdef IS_FIELD
  vValue = value;
#endif
  PASS_PLACE
  vEye = normalize(eyePlace.xyz - position * eyePlace.w);
  vec3 fromHead = (position - headBall.xyz) * headStretch;
#ifdef IS_HEAD
  vec3 d = normalize(fromHead);
  vec2 at = vec2(atan(d.x, d.y) * 0.15915494 + 0.5, asin(clamp(d.z, -1.0, 1.0)) * 0.31830989 + 0.5);
  vOpen = 1.0 - 0.62 * texture2D(shade, at).r;
#else
  float away = dot(fromHead, fromHead);
  vOpen = 1.0 - headBall.w * max(0.0, -dot(normal, fromHead)) * inversesqrt(away) / max(away, 1.0);
#endif
  gl_Position = toScreen * vec4(position, 1.0);
}
`;

const cutAway = /* glsl */ `
#if (defined(IS_CUT) && !defined(CLIPS)) || defined(IS_OVERHANG)
varying vec3 vPlace;
#endif
#if defined(IS_CUT) && !defined(CLIPS)
uniform vec4 cut;
void cutAway() { if (dot(vPlace, cut.xyz) > cut.w) discard; }
#else
void cutAway() {}
#endif
`;

const finish = /* glsl */ `
uniform vec3 background;
uniform float fade;
vec4 finished(vec3 light) {
  vec3 shown = sqrt(clamp(light, 0.0, 1.0));
  float grey = dot(shown, vec3(0.3, 0.59, 0.11));
  shown = mix(shown, mix(vec3(grey), background, 0.35), fade);
  return vec4(shown, 1.0);
}
`;

/**
 * A soft key from above the viewer's left, a cooler fill from the right, light from the sky more than from the floor,
 * a sheen, and a rim that lifts the silhouette. The head keeps light from what lies against it. Colours that mean a
 * value are lit less, so that they can be read off the legend; below nought they are striped. Of a surface that leans
 * out the triangle's own normal counts, not the smooth one; what lies on the plate needs no support.
 */
export const surfaceFragments = /* glsl */ `
#if defined(IS_FIELD) || defined(IS_OVERHANG)
#define IS_TOLD
uniform vec3 noValueColour;
uniform float stripe;
#define SHEEN 0.03
#else
#define SHEEN 0.10
#endif
uniform vec3 pieceColour;
uniform vec3 innerColour;
uniform vec3 headColour;
uniform vec3 litColour;
uniform float lit;
uniform float pointed;
uniform vec3 keyLight;
uniform vec3 fillLight;
uniform vec3 halfway;
uniform float rim;
#ifdef IS_FIELD
uniform sampler2D fieldScale;
uniform vec2 fieldEnds;
varying vec2 vValue;
#endif
#ifdef IS_OVERHANG
uniform sampler2D overhangBands;
uniform vec2 overhang;
uniform vec4 bandSines;
#endif
uniform vec3 skyward;
flat varying float vPart;
varying vec3 vNormal;
varying vec3 vEye;
varying float vOpen;
${cutAway}
${finish}
void main() {
  cutAway();
  vec3 n = normalize(vNormal);
#ifdef IS_CUT
  if (!gl_FrontFacing) n = -n;
#endif
#ifdef IS_HEAD
  vec3 colour = headColour;
#else
  vec3 colour = vPart < -0.5 ? innerColour : pieceColour;
#endif

#ifdef IS_FIELD
  float mm = 0.01 * vValue.x;
  float onScale = clamp((mm - fieldEnds.x) / (fieldEnds.y - fieldEnds.x), 0.0001, 0.9999);
  vec3 told = texture2D(fieldScale, vec2(onScale, 0.5)).rgb;
  float across = fract((gl_FragCoord.x + gl_FragCoord.y) / stripe);
  told += mm < 0.0 ? 0.36 * step(across, 0.22) : 0.0;
  bool isKnown = vValue.y > 0.999;
  colour = isKnown ? told * told : noValueColour;
#endif
#ifdef IS_OVERHANG
  // overhang: sine of the lean that is held up; top of the first layer. bandSines: where the next four bands begin.
  float sine = -dot(normalize(cross(dFdx(vPlace), dFdy(vPlace))), skyward);
  float band = dot(step(bandSines, vec4(sine)), vec4(1.0));
  vec3 told = texture2D(overhangBands, vec2((band + 0.5) / OVERHANG_BANDS, 0.5)).rgb;
  float across = fract((gl_FragCoord.x - gl_FragCoord.y) / stripe);
  told += band > FIRST_STRIPED - 0.5 ? 0.3 * step(across, 0.25) : 0.0;
  bool isKnown = gl_FrontFacing && sine > overhang.x && dot(vPlace, skyward) > overhang.y;
  colour = isKnown ? told * told : noValueColour;
#endif

  float isLit = vPart < -0.5 ? 0.0 : step(abs(vPart - lit), 0.5);
  float isPointed = vPart < -0.5 ? 0.0 : step(abs(vPart - pointed), 0.5);
#ifdef IS_TOLD
  // The line round it is enough: another colour would tell another value.
  isLit *= isKnown ? 0.0 : 0.5;
  isPointed *= isKnown ? 0.0 : 0.5;
#endif
  colour = mix(colour, litColour, max(0.78 * isLit, 0.5 * isPointed));

  float key = max(0.0, dot(n, keyLight) * 0.85 + 0.15);
  float fill = max(0.0, dot(n, fillLight));
  float sky = 0.5 + 0.5 * dot(n, skyward);
  vec3 light = vec3(1.0, 0.965, 0.92) * 0.66 * key
    + vec3(0.86, 0.93, 1.0) * 0.16 * fill
    + mix(vec3(0.17, 0.155, 0.145), vec3(0.40, 0.42, 0.45), sky) * vOpen;
  float edge = 1.0 - max(0.0, dot(n, vEye));
  float edge2 = edge * edge;
  float h = max(0.0, dot(n, halfway));
  float h4 = h * h * h * h;
  float h8 = h4 * h4;
  float sheen = h8 * h8 * h8 * h4;
  light *= 0.35 + 0.65 * vOpen;
#ifdef IS_TOLD
  if (isKnown) light = mix(vec3(1.0), light, 0.3);
#endif
  vec3 shown = colour * light * (1.0 - 0.22 * edge2) + SHEEN * sheen * vOpen + rim * edge2 * edge2;
  gl_FragColor = finished(shown);
}
`;

/** What takes matter away, before it has: seen through, in stripes of the screen. */
export const cutFragments = /* glsl */ `
uniform vec3 lineColour;
uniform float stripe;
uniform float lit;
uniform float pointed;
uniform vec3 litColour;
flat varying float vPart;
varying vec3 vNormal;
varying vec3 vEye;
${cutAway}
void main() {
  cutAway();
  float edge = 1.0 - abs(dot(normalize(vNormal), vEye));
  float across = fract((gl_FragCoord.x + gl_FragCoord.y) / stripe);
  float isLine = step(across, 0.25);
  bool isLit = abs(vPart - lit) < 0.5 || abs(vPart - pointed) < 0.5;
  gl_FragColor = vec4(isLit ? litColour : lineColour, max(0.5 * isLine, 0.75 * smoothstep(0.6, 0.95, edge)) + 0.08);
}
`;

/** What holds the piece up while it is printed: a neutral veil with fine stripes, light enough to see the piece through. */
export const ghostFragments = /* glsl */ `
uniform vec3 ghostColour;
uniform vec3 skyward;
uniform float stripe;
uniform float ghostShare;
varying vec3 vNormal;
varying vec3 vEye;
${cutAway}
void main() {
  cutAway();
  vec3 n = normalize(vNormal);
  float across = fract((gl_FragCoord.x - gl_FragCoord.y) / (0.8 * stripe));
  float line = smoothstep(0.0, 0.1, across) * smoothstep(0.34, 0.24, across);
  float edge = 1.0 - abs(dot(n, vEye));
  float form = 0.72 + 0.28 * (0.5 + 0.5 * dot(n, skyward));
  gl_FragColor = vec4(ghostColour * form, ghostShare * (0.62 + 0.55 * line + 0.5 * smoothstep(0.55, 0.95, edge)));
}
`;

/**
 * Matter that only one of two pieces has: its colour with form enough to be read, what was removed hatched, and a line
 * where it turns away from the eye.
 */
export const differenceFragments = /* glsl */ `
uniform vec3 differenceColour;
uniform vec3 differenceLine;
uniform vec3 differenceEdge;
uniform float strength;
uniform float plainShare;
uniform float hatch;
uniform float stripe;
uniform vec3 skyward;
uniform vec3 keyLight;
varying vec3 vNormal;
varying vec3 vEye;
${cutAway}
void main() {
  cutAway();
  vec3 n = normalize(vNormal);
  float across = fract((gl_FragCoord.x + gl_FragCoord.y) / stripe);
  float line = hatch * smoothstep(0.0, 0.1, across) * smoothstep(0.4, 0.3, across);
  float edge = smoothstep(0.42, 0.85, 1.0 - abs(dot(n, vEye)));
  float form = 0.78 + 0.12 * dot(n, skyward) + 0.22 * max(0.0, dot(n, keyLight));
  vec3 shown = mix(differenceColour * form, differenceLine, 0.85 * line);
  shown = mix(shown, differenceEdge, 0.75 * edge);
  gl_FragColor = vec4(shown, strength * max(plainShare, max(0.95 * line, 0.9 * edge)));
}
`;

/** The other of two pieces: a faint veil with a clear line where it turns away from the eye. */
export const otherPieceFragments = /* glsl */ `
uniform vec3 otherColour;
uniform float strength;
varying vec3 vNormal;
varying vec3 vEye;
${cutAway}
void main() {
  cutAway();
  float edge = smoothstep(0.5, 0.9, 1.0 - abs(dot(normalize(vNormal), vEye)));
  gl_FragColor = vec4(otherColour, strength * mix(0.16, 0.92, edge));
}
`;

/** The back of the surface pushed out by some pixels shows as a line round it. */
export const outlineVertices = /* glsl */ `
${place}
${isCutPlace}
uniform float lit;
uniform float pointed;
uniform float outlinesAll;
uniform vec2 outlineWidth;
void main() {
  vPart = part;
  PASS_PLACE
  bool isLit = part > -0.5 && (abs(part - lit) < 0.5 || abs(part - pointed) < 0.5);
  if (outlinesAll < 0.5 && !isLit) {
    gl_Position = vec4(0.0, 0.0, 2.0, 1.0);
    return;
  }
  vec4 at = toScreen * vec4(position, 1.0);
  vec2 away = (toScreen * vec4(normal, 0.0)).xy;
  at.xy += away / max(length(away / outlineWidth), 1e-6) * at.w;
  gl_Position = at;
}
`;

export const outlineFragments = /* glsl */ `
uniform vec3 outlineColour;
uniform vec3 litColour;
uniform float lit;
uniform float pointed;
flat varying float vPart;
${cutAway}
${finish}
void main() {
  cutAway();
  bool isLit = vPart > -0.5 && (abs(vPart - lit) < 0.5 || abs(vPart - pointed) < 0.5);
  vec3 shown = isLit ? litColour : outlineColour;
  gl_FragColor = finished(shown);
}
`;

/** Only counts, in the stencil, how often the surface was passed. */
export const maskFragments = /* glsl */ `
flat varying float vPart;
${cutAway}
void main() {
  cutAway();
  gl_FragColor = vec4(1.0);
}
`;

export const capVertices = /* glsl */ `
uniform mat4 toScreen;
void main() {
  gl_Position = toScreen * (modelMatrix * vec4(position, 1.0));
}
`;

/** The cut face, hatched as a drawing hatches a section. */
export const capFragments = /* glsl */ `
uniform vec3 capColour;
uniform vec3 capLine;
uniform float hatchTurn;
uniform float stripe;
${finish}
void main() {
  float across = fract((gl_FragCoord.x * hatchTurn + gl_FragCoord.y) / stripe);
  float line = smoothstep(0.0, 0.08, across) * smoothstep(0.26, 0.18, across);
  gl_FragColor = finished(mix(capColour, capLine, line));
}
`;

export const wireFragments = /* glsl */ `
uniform vec3 wireColour;
flat varying float vPart;
${cutAway}
void main() {
  cutAway();
  gl_FragColor = vec4(wireColour, 0.45);
}
`;
