import type { ParameterDeclaration } from "../../../src/design/part";
import { packMesh } from "../../../src/geometry/packedMesh";
import type { Message } from "../../../src/message";
import type {
  BuildStateMessage,
  ComparingMessage,
  ComparisonMessage,
  ComparisonScene,
  DesignMessage,
  DraftMessage,
  FieldMessage,
  PartFacts,
  PlanScene,
  SolidMessage,
  ToPreview,
  WearMark,
  WearScene,
} from "../../../src/preview/protocol";

/** A crown of *The Tide Court* as the extension would tell it. */

export const declarations: readonly ParameterDeclaration[] = [
  { name: "branches", kind: "count", default: 9, least: 3, most: 24, unit: "", help: "around the head" },
  { name: "reach", kind: "length", default: 92.5, least: 20, most: 160, unit: "mm" },
  { name: "sweepAngle", kind: "angle", default: -12, unit: "°" },
  { name: "mood", kind: "choice", default: "calm", choices: ["calm", "storm"], unit: "" },
  { name: "veil", kind: "toggle", default: true, unit: "" },
];

export const values = { branches: 9, reach: 92.5, sweepAngle: -12, mood: "calm", veil: true };

export const parts: readonly PartFacts[] = [
  {
    name: "ring",
    kind: "tube",
    length: 583.2,
    radius: [6, 6],
    mass: 31.4,
    origin: { file: "/stage/coral.headpiece.ts", line: 12, column: 18 },
  },
  { name: "branch 1", kind: "tube", length: 98.44, radius: [2.5, 7] },
  { name: "branch 2", kind: "tube" },
  { name: "veil hole", kind: "cut" },
];

export const design = (version: number, more: Partial<DesignMessage> = {}): DesignMessage => ({
  kind: "design",
  version,
  uri: "file:///stage/coral.headpiece.ts",
  file: "coral.headpiece.ts",
  headpiece: "Coral crown",
  wearer: "Kelp Queen",
  parameters: declarations,
  values,
  fileValues: values,
  parts,
  facts: [
    { label: "Mass", value: "84 g printed" },
    { label: "Box", value: "212 × 198 × 140 mm" },
    { label: "Plate", value: "fits as designed", tone: "good" },
  ],
  cautions: ["This is costume, not protective equipment."],
  isLocked: false,
  ...more,
});

export const loose: Message = {
  id: "loose-piece",
  severity: "warning",
  text: "branch 1 is loose: 2.1 mm from the nearest part",
  suggestion: "let it reach further down",
  part: "branch 1",
  file: "/stage/coral.headpiece.ts",
  line: 15,
  column: 7,
};
export const sharp: Message = {
  id: "sharp-tip",
  severity: "warning",
  text: "branch 2 is sharp",
  part: "branch 2",
};
export const tall: Message = { id: "tall", severity: "note", text: "it stands 92 mm above the crown" };
export const thrown: Message = {
  id: "thrown",
  severity: "error",
  text: "fronds is not a function.",
  file: "C:\\stage\\kelp.ts",
  line: 8,
  column: 22,
};

export const state = (
  version: number,
  phase: BuildStateMessage["phase"],
  more: Partial<BuildStateMessage> = {},
): BuildStateMessage => ({ kind: "state", version, phase, isOutdated: false, messages: [], ...more });

/** A mesh of one triangle, or more of the same size. */
export const mesh = (triangles = 1) => ({
  positions: new Float32Array(9 * triangles).buffer as ArrayBuffer,
  triangles: Uint32Array.from({ length: 3 * triangles }, (_, i) => i).buffer as ArrayBuffer,
});

export const draft = (version: number): DraftMessage => ({
  kind: "draft",
  version,
  parts: [
    { part: 0, key: "a", mesh: mesh() },
    { part: 1, key: "b" },
  ],
});

export const solid = (version: number, triangles = 2): SolidMessage => ({
  kind: "solid",
  version,
  packed: packMesh({
    positions: new Float32Array(9 * triangles),
    triangles: Uint32Array.from({ length: 3 * triangles }, (_, i) => i),
    partOfTriangle: new Int32Array(triangles).fill(-1),
  }),
});

export const wearMark = (more: Partial<WearMark> = {}): WearMark => ({
  at: [10, 20, 30],
  severity: "warning",
  check: "sharp",
  text: "a tip is sharp",
  part: "branch 2",
  place: { file: "/stage/coral.headpiece.ts", line: 15, column: 7 },
  ...more,
});

export const wear = (
  version: number,
  more: Partial<WearScene> = {},
): Extract<ToPreview, { kind: "wear" }> => ({
  kind: "wear",
  version,
  scene: {
    verdict: { word: "adjust", reasons: ["a tip is sharp"] },
    rows: [
      { check: "gap", label: "Gap", value: "2 mm", tone: "good" },
      { check: "wayOn", label: "Way on", value: "from above", tone: "note" },
    ],
    marks: [wearMark()],
    wayOff: {
      motion: { kind: "slide", direction: [0, 0, 1], distance: 160 },
      passes: false,
      words: "from above",
      tightest: { at: [80, 0, 20], tooSmall: 18.2 },
    },
    contacts: [{ at: [70, 20, 40], share: 0.6 }],
    balance: { centre: [0, 12, 80], joint: [0, -10, -20] },
    sightPlot: "<svg xmlns='http://www.w3.org/2000/svg'><desc>all free</desc></svg>",
    ...more,
  },
});

export const field = (version: number, values: readonly number[] = [120, -30, -32768]): FieldMessage => ({
  kind: "field",
  version,
  title: "Gap to the head",
  unit: "mm",
  values: Int16Array.from(values).buffer,
});

/** Lying on its back: the plate's up is the head's forward, its right the head's right; 100 mm behind the head's middle. */
export const lyingBack = [1, 0, 0, 0, 0, 0, -1, 0, 0, 1, 0, 0, 0, -100, 0, 1] as const;

export const layers = (
  count = 4,
  more: Partial<NonNullable<PlanScene["layers"]>> = {},
): NonNullable<PlanScene["layers"]> => ({
  count,
  height: 0.2,
  seconds: Float64Array.from({ length: count }, (_, i) => 60 * (i + 1)).buffer,
  metres: Float64Array.from({ length: count }, (_, i) => 0.5 * (i + 1)).buffer,
  spoolEnds: [],
  ...more,
});

export const planMark = (more: Partial<PlanScene["marks"][number]> = {}): PlanScene["marks"][number] => ({
  at: [10, 20, 30],
  severity: "warning",
  text: "the column under branch 1 is thin",
  part: "branch 1",
  place: { file: "/stage/coral.headpiece.ts", line: 15, column: 7 },
  ...more,
});

export const plan = (
  version: number,
  more: Partial<PlanScene> = {},
): Extract<ToPreview, { kind: "plan" }> => ({
  kind: "plan",
  version,
  scene: {
    isWhole: true,
    printer: "Harbour desktop",
    outline: { shape: "rectangular", width: 250, depth: 210 },
    height: 210,
    toHead: lyingBack,
    overhangAngle: 45,
    rows: [
      { label: "Time", value: "41 h", tone: "note" },
      { label: "Filament", value: "128 m, 381 g", tone: "good" },
      { label: "Supports", value: "38 cm³", tone: "warning" },
    ],
    marks: [planMark()],
    orientations: [
      {
        name: "as designed",
        words: "upright",
        orientation: "as designed",
        figures: [{ label: "time", value: "44 h", isBest: false }],
        isChosen: false,
      },
      {
        name: "fewest hours",
        words: "lying back, tilted 90°",
        orientation: { tilt: 90, towards: 0, turn: 0 },
        figures: [{ label: "time", value: "41 h", isBest: true }],
        picture: "<svg xmlns='http://www.w3.org/2000/svg'/>",
        isChosen: true,
      },
    ],
    layers: layers(),
    ...more,
  },
});

export const comparison = (version: number, more: Partial<ComparisonScene> = {}): ComparisonMessage => ({
  kind: "comparison",
  version,
  scene: {
    revision: { asked: "HEAD~1", hash: "0a1b2c3d", subject: "Coral with nine stems" },
    sentence: "Heavier by 6 g; 1 tube added (branch 2).",
    rows: [{ label: "Printed mass", before: "78 g", now: "84 g", change: "+6 g (+7.7 %)" }],
    findings: ["Branch 2 is sharp, which it was not."],
    added: "5.1 cm³",
    removed: "nothing",
    greatest: { text: "41 mm", at: [10, 20, 120] },
    parts: [{ name: "branch 2", change: "added", what: "", part: 2 }],
    notes: [],
    ...more,
  },
  old: mesh(),
  added: mesh(2),
  removed: mesh(0),
});

export const comparing = (version: number, more: Partial<ComparingMessage> = {}): ComparingMessage => ({
  kind: "comparing",
  version,
  revision: "HEAD~1",
  isOutdated: false,
  messages: [],
  ...more,
});
