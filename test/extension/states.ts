import type { Uri } from "vscode";
import type { ReportPlan } from "../../src/export/planReport";
import type { Report } from "../../src/export/report";
import type { DesignState } from "../../src/extension/designState";
import type { Message } from "../../src/message";
import { defaultPrintSettings } from "../../src/printSettings";

/** Stands in for an editor's Uri where only its text counts. */
export const uri = (path: string): Uri =>
  ({ path, fsPath: path, toString: () => `file://${path}` }) as unknown as Uri;

const report: Report = {
  format: "anadem-report",
  formatVersion: 2,
  summary:
    "Coral crown for Ondine, the pearl diver: wear; 129.6 g printed; 211.6 × 198.2 × 139.9 mm wide, deep, high.",
  headpiece: "Coral crown",
  wearer: "Ondine, the pearl diver",
  massPrintedG: 129.6,
  massPrintedBasis: "3 shells of 0.45 mm, 15 % infill",
  massSolidG: 210.2,
  filamentM: 43.5,
  filamentDiameterMm: 1.75,
  boxMm: { width: 211.6, depth: 198.2, height: 139.9 },
  centreOfMassMm: { right: 0, forward: 2, up: 60 },
  volumeCm3: 169.5,
  areaCm2: 900,
  closed: true,
  pieces: 1,
  voids: 0,
  crumbsDropped: 0,
  crumbsDroppedMm3: 0,
  triangles: 12000,
  plates: [
    {
      printer: "Hall printer",
      plate: { shape: "rectangular", widthMm: 220, depthMm: 220 },
      heightMm: 250,
      fits: true,
      tiltDegrees: 0,
      turnDegrees: 0,
      roomMm: { width: 8.4, depth: 21.8, height: 110.1 },
      tightest: "width",
      excessMm: 0,
    },
  ],
  head: {
    girth: { valueMm: 562, source: "given", onHeadMm: 561.8 },
    length: { valueMm: 190, source: "given" },
    breadth: { valueMm: 147.2, source: "estimated", standardErrorMm: 4.8 },
  },
  easeOffsetMm: 1.59,
  girthEaseMm: 10,
  hairMm: 5,
  parameters: [{ name: "branches", value: 9, unit: "", changed: false }],
  material: { name: "PLA", densityGPerCm3: 1.24 },
  print: { shells: 3, lineWidthMm: 0.45, infillPercent: 15 },
  parts: [
    { name: "ring", kind: "tube", lengthMm: 590, share: 0.5, massPrintedG: 64.8 },
    { name: "branch 1", kind: "tube", lengthMm: 90, share: 0.2, massPrintedG: 25.9 },
    { name: "branch 2", kind: "tube", lengthMm: 120, share: 0.3, massPrintedG: 38.9 },
  ],
  messages: [],
  cautions: ["This is costume, not protective equipment: it guards against nothing."],
};

/** The state of a design that was built well, changed as a test wants it. */
export const builtState = (change: Partial<DesignState> = {}): DesignState => ({
  uri: uri("/court/coral-crown.headpiece.ts"),
  status: "built",
  isOutdated: false,
  messages: [],
  report,
  chosen: {},
  values: {},
  ...change,
});

/** A state of a design that was never built. */
export const unbuiltState = (change: Partial<DesignState> = {}): DesignState =>
  builtState({ status: "unbuilt", report: undefined, ...change });

export const message = (severity: Message["severity"], text = "it is loose"): Message => ({
  id: "loose-piece",
  severity,
  text,
  file: "/court/coral-crown.headpiece.ts",
  line: 3,
  column: 5,
});

/** The report of `builtState`, changed as a test wants it. */
export const reportWith = (change: Partial<Report>): Report => ({ ...report, ...change });

/** How the piece of `builtState` is printed. */
export const reportPlan: ReportPlan = {
  printer: "Hall printer",
  material: "PLA",
  settingsName: "as usual",
  settings: defaultPrintSettings,
  orientation: {
    choice: "as designed",
    tiltDegrees: 0,
    towardsDegrees: 0,
    turnDegrees: 0,
    words: "upright",
    fits: true,
  },
  hours: 12.5,
  hoursMost: 15.63,
  hoursBasis: "a quarter over the estimate",
  grams: 141.4,
  pieceGrams: 129.6,
  metres: 47.4,
  spools: 1,
  plates: [],
  supports: {
    volumeCm3: 38.2,
    contactCm2: 12.1,
    landingCm2: 3.4,
    columns: 14,
    thinColumns: [{ parts: ["branch 2"], heightMm: 84, widthMm: 3, slenderness: 28, risk: "peels" }],
    parts: [],
  },
  orientations: [],
  directionsCompared: 0,
  findings: [
    {
      id: "thin-support",
      severity: "warning",
      text: "the support under branch 2 peels",
      suggestion: "give it a prop",
    },
    { id: "spool-ends", severity: "note", text: "a spool is enough" },
  ],
};

/** The state of a design that was built well, and whose print is planned. */
export const plannedState = (change: Partial<DesignState> = {}): DesignState =>
  builtState({ report: { ...report, plan: reportPlan }, ...change });
