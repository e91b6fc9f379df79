import type { WorkshopInput, WorkshopPrint } from "../../src/export/workshop/workshopInput";
import { finishing } from "../../src/print/finishing";
import { type TimeKind, timeKinds } from "../../src/print/layers/layerPlan";
import { defaultPrintSettings } from "../../src/printSettings";

/** Data of the workshop sheet for its tests: a piece of The Tide Court. */

/** Layers of which each takes what a function says, s. */
export function layersOf(
  count: number,
  layerHeight: number,
  secondsOf: (kind: TimeKind, layer: number) => number,
): WorkshopPrint["layers"] {
  const seconds = Object.fromEntries(
    timeKinds.map((kind) => [
      kind,
      Float64Array.from({ length: count }, (_, layer) => secondsOf(kind, layer)),
    ]),
  ) as Record<TimeKind, Float64Array>;
  return { count, layerHeight, seconds };
}

export const square =
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><path id="piece" d="M0 0H10V10Z" fill="#c47764"/></svg>';

export const cautions = [
  "This is costume, not protective equipment: it guards against nothing.",
  "PLA softens at 55 to 65 °C; a parked car reaches 41 to 76 °C: never leave it there.",
];

/** The least that a sheet says. */
export const bareSheet: WorkshopInput = {
  title: "Kelp crest",
  figures: [{ label: "Hours", value: "12 to 15 h" }],
  settings: [{ label: "layer height", value: "0.2 mm" }],
  cautions,
};

export const print: WorkshopPrint = {
  // Each layer: 60 s of outer shell, 30 s of supports in the upper half, 10 s between paths.
  layers: layersOf(500, 0.2, (kind, layer) =>
    kind === "outerShell" ? 60 : kind === "support" && layer >= 250 ? 30 : kind === "travel" ? 10 : 0,
  ),
  startTime: 300,
  // After 300 layers: 300 + 300 · 70 + 50 · 30 = 22,800 s.
  spoolEnds: [{ spool: 1, layer: 299, height: 60, seconds: 22_800 }],
};

export const fullSheet: WorkshopInput = {
  ...bareSheet,
  wearer: "the Harbour Master",
  setup: "workshop 300, PLA, show quality",
  figures: [
    { label: "Hours", value: "13 to 17 h", note: "estimate 12 h 58 min" },
    { label: "Filament", value: "1,182 g", note: "396 m" },
  ],
  standing: {
    words: "lying back, tilted 35°",
    picture: square,
    choices: [
      {
        name: "as designed",
        words: "upright",
        picture: square,
        figures: [{ label: "hours", value: "61 h 7 min", isBest: false }],
        isChosen: false,
      },
      {
        name: "fewest hours",
        words: "lying back, tilted 35°",
        figures: [{ label: "hours", value: "48 h 9 min", isBest: true }],
        isChosen: true,
      },
    ],
  },
  prints: [print],
  filament: [
    { kind: "outerShell", grams: 310.24, metres: 104 },
    { kind: "support", grams: 98.1, metres: 32.9 },
  ],
  supports: {
    volumeCm3: 412.3,
    contactCm2: 38.21,
    landingCm2: 6.4,
    columns: 17,
    tubes: [{ part: "left frond", volumeCm3: 120.2, contactCm2: 9.3, columns: 2 }],
    thinColumns: [
      {
        part: "left tip",
        heightMm: 181,
        widthMm: 4.2,
        risk: "peels off the plate",
        remedy: "a prop of 6 mm",
      },
    ],
  },
  props: {
    rows: [{ name: "prop 1", part: "left tip", heightMm: 179, thicknessMm: 6.5, neckMm: 1.8 }],
    comparison: [{ label: "thin columns", without: "4", with: "0" }],
  },
  pieces: {
    rows: [
      {
        name: "front",
        sizeMm: [210, 120.44, 88],
        volumeCm3: 312,
        grams: 402,
        hours: "20 h 3 min",
        plate: "plate 1",
        file: "kelp-crest-front.stl",
      },
    ],
    assembly: ["Glue the left frond into the front: the flat of the pin looks back."],
    plates: [{ name: "Plate 1", pieces: ["front"], picture: square }],
  },
  finishing: finishing({
    surface: 120_000,
    contactArea: 900,
    landingArea: 350,
    settings: defaultPrintSettings,
  }),
  whatIf: {
    wish: "under 700 g and 60 h",
    answer: "2 shells: 690 g, 44 h",
    columns: ["change", "hours", "g"],
    rows: [
      { cells: ["2 shells", "44 h", "690"], isChosen: true },
      { cells: ["0.28 mm layers", "36 h", "1,180"] },
    ],
  },
  findings: [
    {
      id: "thin-column",
      severity: "warning",
      text: "the support under left tip is 181 mm high and 4.2 mm wide",
      suggestion: "add a prop",
      file: "/home/someone/crests/kelp-crest.headpiece.ts",
      line: 41,
      column: 3,
    },
  ],
  basis: ["Hours from paths and speeds."],
};
