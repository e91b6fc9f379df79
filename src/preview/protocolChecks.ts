import { isPackedMesh } from "../geometry/packedMesh";
import {
  among,
  both,
  type Guard,
  isFlag,
  isFromOne,
  isName,
  isNotNegative,
  isNumber,
  isOneOf,
  isRecord,
  isShare,
  isText,
  isWhole,
  listOf,
  maybe,
  tableOf,
  withFields,
} from "../messageGuards";
import type { FromPreview, ToPreview } from "./protocol";
import { previewCommands } from "./protocol";

/**
 * Run-time checks of what the extension and the preview tell each other: the other side may be older, newer or broken,
 * and nothing of it is believed unseen. Fields that are not known are let through and not read.
 */

/** What came from the extension, or undefined where it is not a message of ours, whole and well-formed. */
export function readToPreview(value: unknown): ToPreview | undefined {
  return isOneOf(toPreview, value) ? (value as ToPreview) : undefined;
}

/** What came from the preview, or undefined where it is not a message of ours, whole and well-formed. */
export function readFromPreview(value: unknown): FromPreview | undefined {
  return isOneOf(fromPreview, value) ? (value as FromPreview) : undefined;
}

/** What a preview keeps of its design over a reload of the window: what a serializer of the panel needs. */
export interface KeptDesign {
  /** `DesignMessage.uri` of the last design. */
  readonly uri: string;
  readonly isLocked: boolean;
  /** Hash of the commit that it is compared with. */
  readonly comparedWith?: string;
}

const isHash = (value: unknown): value is string =>
  typeof value === "string" && /^[0-9a-f]{4,64}$/.test(value);

/** The design in the state that a preview keeps with `setState`; undefined where there is none. */
export function readKeptDesign(state: unknown): KeptDesign | undefined {
  if (!isRecord(state) || !isRecord(state.design)) return undefined;
  const { uri, isLocked, comparedWith } = state.design;
  return typeof uri === "string" && uri !== "" && typeof isLocked === "boolean"
    ? { uri, isLocked, ...(isHash(comparedWith) && { comparedWith }) }
    : undefined;
}

const isPartOrNone: Guard = (value) => value === -1 || isWhole(value);
const isValue: Guard = (value) => isText(value) || isFlag(value) || isNumber(value);

/** Bytes of an `ArrayBuffer`, of whatever realm it is; undefined for anything else. */
function bytesOf(value: unknown): number | undefined {
  return Object.prototype.toString.call(value) === "[object ArrayBuffer]"
    ? (value as ArrayBuffer).byteLength
    : undefined;
}

const multipleOf =
  (size: number): Guard =>
  (value) => {
    const bytes = bytesOf(value);
    return bytes !== undefined && bytes % size === 0;
  };

/** Values that a field may hold at most: more vertices than any piece has. */
const mostValues = 8_000_000;

const isValues: Guard = (value) => multipleOf(2)(value) && (bytesOf(value) as number) <= 2 * mostValues;

// Three 32-bit numbers a vertex, three 32-bit indices a triangle.
const isMesh = withFields({ positions: multipleOf(12), triangles: multipleOf(12) });

const isPacked: Guard = (value) =>
  Object.prototype.toString.call(value) === "[object Uint8Array]" && isPackedMesh(value as Uint8Array);

const place = { file: isName, line: isFromOne, column: isFromOne, length: maybe(isWhole) };
const maybePlace = {
  file: maybe(isText),
  line: maybe(isFromOne),
  column: maybe(isFromOne),
  length: maybe(isWhole),
};

const isMessage = withFields({
  ...maybePlace,
  id: isName,
  severity: among("error", "warning", "note"),
  text: isText,
  suggestion: maybe(isText),
  part: maybe(isText),
  field: maybe(isText),
  notes: maybe(listOf(withFields({ ...maybePlace, text: isText }))),
});

const isRange: Guard = (value) => {
  const { least, most } = value as { least?: number; most?: number };
  return least === undefined || most === undefined || least <= most;
};

const isValueOfKind: Guard = (value) => {
  const { kind, default: preset, choices } = value as Record<string, unknown>;
  if (kind === "toggle") return isFlag(preset);
  if (kind === "choice") return Array.isArray(choices) && choices.includes(preset);
  return isNumber(preset);
};

const isDeclaration = both(
  withFields({
    name: isName,
    kind: among("count", "length", "angle", "choice", "toggle"),
    default: isValue,
    least: maybe(isNumber),
    most: maybe(isNumber),
    choices: maybe(listOf(isText)),
    unit: among("", "mm", "°"),
    help: maybe(isText),
  }),
  both(isRange, isValueOfKind),
);

const isPair: Guard = (value) => Array.isArray(value) && value.length === 2 && value.every(isNotNegative);

const isPart = withFields({
  name: isText,
  kind: among("tube", "solid", "cut"),
  length: maybe(isNotNegative),
  radius: maybe(isPair),
  mass: maybe(isNotNegative),
  origin: maybe(withFields(place)),
});

const isOutline: Guard = (value) =>
  withFields({ shape: among("rectangular"), width: isNotNegative, depth: isNotNegative })(value) ||
  withFields({ shape: among("round"), diameter: isNotNegative })(value);

/** A turn and a shift, 16 numbers column by column: nothing is stretched or mirrored. */
const isRigid: Guard = (value) => {
  if (!Array.isArray(value) || value.length !== 16 || !value.every(isNumber)) return false;
  const [x, y, z] = [0, 4, 8].map((at) => value.slice(at, at + 3) as number[]);
  const dot = (a: number[], b: number[]) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  const isNear = (found: number, wanted: number) => Math.abs(found - wanted) < 1e-3;
  const across = [x[1] * y[2] - x[2] * y[1], x[2] * y[0] - x[0] * y[2], x[0] * y[1] - x[1] * y[0]];
  return (
    [x, y, z].every((axis) => isNear(dot(axis, axis), 1)) &&
    isNear(dot(x, y), 0) &&
    isNear(dot(across, z), 1) &&
    value.slice(12, 15).every((shift) => Math.abs(shift) <= farthest) &&
    [3, 7, 11].every((at) => value[at] === 0) &&
    value[15] === 1
  );
};

const isPlate = withFields({
  printer: isText,
  outline: isOutline,
  height: isNotNegative,
  fits: isFlag,
  summary: isText,
  toHead: (value) => Array.isArray(value) && value.length === 16 && value.every(isNumber),
});

/** No place of a piece or a head lies farther from the head's middle, mm. */
const farthest = 10_000;

const isSpan: Guard = (value) => isNotNegative(value) && (value as number) <= farthest;
const isPoint: Guard = (value) =>
  Array.isArray(value) &&
  value.length === 3 &&
  value.every((one) => isNumber(one) && Math.abs(one) <= farthest);
const isDirection: Guard = (value) =>
  isPoint(value) && Math.abs(Math.hypot(...(value as [number, number, number])) - 1) < 0.01;

const shortText =
  (most: number): Guard =>
  (value) =>
    typeof value === "string" && value.length <= most;
const shortList =
  (most: number, guard: Guard): Guard =>
  (value) =>
    Array.isArray(value) && value.length <= most && value.every(guard);

const isSentence = shortText(2000);

const isWay: Guard = (value) =>
  withFields({ kind: among("slide"), direction: isDirection, distance: isSpan })(value) ||
  withFields({
    kind: among("hinge"),
    origin: isPoint,
    axis: isDirection,
    degrees: (value) => isNumber(value) && Math.abs(value as number) <= 360,
  })(value);

const isTone = among("good", "note", "warning", "bad");

const isWear = withFields({
  verdict: maybe(withFields({ word: among("wear", "adjust", "dont"), reasons: shortList(500, isSentence) })),
  rows: shortList(
    200,
    withFields({
      check: isName,
      label: isSentence,
      value: isSentence,
      tone: isTone,
    }),
  ),
  marks: shortList(
    20_000,
    withFields({
      at: isPoint,
      severity: among("error", "warning", "note"),
      check: isName,
      text: isSentence,
      part: maybe(isText),
      place: maybe(withFields(place)),
    }),
  ),
  wayOff: maybe(
    withFields({
      motion: isWay,
      passes: isFlag,
      words: isSentence,
      tightest: maybe(
        withFields({
          at: isPoint,
          tooSmall: (value) => isNumber(value) && Math.abs(value as number) <= farthest,
        }),
      ),
    }),
  ),
  contacts: maybe(shortList(20_000, withFields({ at: isPoint, share: isShare }))),
  balance: maybe(withFields({ centre: isPoint, joint: isPoint })),
  sightPlot: maybe(shortText(4_000_000)),
});

/** More layers than any printer lays. */
const mostLayers = 1_000_000;

/** A number to the end of each layer: as many as layers, each finite and none below the one before. */
const isGrowing = (value: unknown, count: number): boolean => {
  if (bytesOf(value) !== 8 * count) return false;
  let before = 0;
  for (const one of new Float64Array(value as ArrayBuffer)) {
    if (!(one >= before && one < Infinity)) return false;
    before = one;
  }
  return true;
};

const isAbove: Guard = (value) => isSpan(value) && (value as number) > 0;

const isLayers = both(
  withFields({ count: both(isFromOne, (value) => (value as number) <= mostLayers), height: isAbove }),
  (value) => {
    const { count, seconds, metres, spoolEnds } = value as Record<string, unknown> & { count: number };
    const isLayer: Guard = (layer) => isWhole(layer) && (layer as number) < count;
    return isGrowing(seconds, count) && isGrowing(metres, count) && shortList(1000, isLayer)(spoolEnds);
  },
);

const isOrientation: Guard = (value) =>
  value === "as designed" ||
  withFields({
    tilt: (tilt) => isNotNegative(tilt) && (tilt as number) <= 180,
    towards: (towards) => isNumber(towards) && Math.abs(towards as number) <= 360,
    turn: (turn) => isNumber(turn) && Math.abs(turn as number) <= 360,
  })(value);

const isPlan = withFields({
  isWhole: isFlag,
  printer: isSentence,
  outline: isOutline,
  height: isSpan,
  toHead: isRigid,
  overhangAngle: (value) => isNotNegative(value) && (value as number) <= 90,
  rows: shortList(200, withFields({ label: isSentence, value: isSentence, tone: isTone })),
  marks: shortList(
    20_000,
    withFields({
      at: isPoint,
      severity: among("error", "warning", "note"),
      text: isSentence,
      part: maybe(isText),
      place: maybe(withFields(place)),
    }),
  ),
  orientations: shortList(
    50,
    withFields({
      name: both(isName, isSentence),
      words: isSentence,
      orientation: isOrientation,
      figures: shortList(30, withFields({ label: isSentence, value: isSentence, isBest: isFlag })),
      picture: maybe(shortText(2_000_000)),
      isChosen: isFlag,
    }),
  ),
  layers: maybe(isLayers),
});

const isRevision = both(isName, shortText(200));

const isComparison = withFields({
  revision: withFields({ asked: isRevision, hash: isRevision, subject: isSentence }),
  sentence: isSentence,
  rows: shortList(
    200,
    withFields({ label: isSentence, before: isSentence, now: isSentence, change: isSentence }),
  ),
  findings: shortList(500, isSentence),
  added: isSentence,
  removed: isSentence,
  greatest: maybe(withFields({ text: isSentence, at: isPoint })),
  parts: shortList(
    20_000,
    withFields({
      name: isText,
      change: among("added", "removed", "changed", "renamed"),
      what: isSentence,
      part: isPartOrNone,
    }),
  ),
  notes: shortList(50, isSentence),
});

const isCommand = among(...previewCommands);

/** For each kind of message what it must hold; `satisfies` keeps the two lists of kinds the same. */
const toPreview = {
  design: withFields({
    version: isWhole,
    uri: maybe(isName),
    file: isText,
    headpiece: isText,
    wearer: isText,
    parameters: listOf(isDeclaration),
    values: tableOf(isValue),
    fileValues: tableOf(isValue),
    parts: listOf(isPart),
    facts: listOf(withFields({ label: isText, value: isText, tone: maybe(among("good", "bad")) })),
    cautions: listOf(isText),
    isLocked: isFlag,
  }),
  draft: withFields({
    version: isWhole,
    parts: listOf(withFields({ part: isWhole, key: isName, mesh: maybe(isMesh) })),
  }),
  solid: withFields({ version: isWhole, packed: isPacked }),
  state: withFields({
    version: isWhole,
    phase: among("idle", "building", "ready", "failed", "cancelled"),
    stage: maybe(isText),
    share: maybe(isShare),
    isOutdated: isFlag,
    messages: listOf(isMessage),
  }),
  head: withFields({ version: isWhole, mesh: isMesh }),
  plate: withFields({ version: isWhole, plate: isPlate }),
  wear: withFields({ version: isWhole, scene: isWear }),
  plan: withFields({ version: isWhole, scene: isPlan }),
  planBody: withFields({
    version: isWhole,
    body: among("supports", "props", "pieces"),
    mesh: maybe(isMesh),
  }),
  comparison: withFields({
    version: isWhole,
    scene: isComparison,
    old: isMesh,
    added: isMesh,
    removed: isMesh,
  }),
  comparing: withFields({
    version: isWhole,
    revision: isRevision,
    stage: maybe(isSentence),
    isOutdated: isFlag,
    messages: shortList(2000, isMessage),
  }),
  comparisonEnded: isRecord,
  field: withFields({ version: isWhole, title: isSentence, unit: among("mm"), values: isValues }),
  cursor: withFields({ part: isPartOrNone }),
  sheet: withFields({ version: isWhole, svg: isText }),
  notice: withFields({
    title: isText,
    text: isText,
    action: maybe(withFields({ label: isName, command: isCommand })),
  }),
} satisfies Record<ToPreview["kind"], Guard>;

const pngSignature = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];

const isPng: Guard = (value) => {
  const bytes = bytesOf(value);
  if (bytes === undefined || bytes <= pngSignature.length) return false;
  const start = new Uint8Array(value as ArrayBuffer, 0, pngSignature.length);
  return pngSignature.every((byte, i) => start[i] === byte);
};

const fromPreview = {
  ready: withFields({ webgl: isFlag }),
  command: withFields({ command: isCommand }),
  goTo: withFields({ place: withFields(place) }),
  setValues: withFields({ values: tableOf(isValue) }),
  useOrientation: withFields({ orientation: isOrientation }),
  writeValues: isRecord,
  resetValues: isRecord,
  picture: withFields({ png: isPng }),
  drawn: withFields({ version: isWhole, what: among("draft", "solid"), milliseconds: isNotNegative }),
  compared: withFields({ revision: maybe(isRevision) }),
  fault: withFields({ text: isText }),
} satisfies Record<FromPreview["kind"], Guard>;
