import { type DeclaredNumber, type NumberProblem, numberProblems } from "./declaredNumbers";

/** How a piece is printed and finished: every number that a file of print settings or a design may set. */
export interface PrintSettings {
  /** Height of a layer, mm. */
  readonly layerHeight: number;
  /** Width of a printed line, mm. */
  readonly lineWidth: number;
  /** Lines side by side along every outline. */
  readonly shells: number;
  /** Filled layers under every surface that looks up. */
  readonly topLayers: number;
  /** Filled layers over every surface that looks down. */
  readonly bottomLayers: number;
  /** Share of the inside that is filled, %. */
  readonly infill: number;
  /** Share of a support that is filled, %; 0: nothing is held up. */
  readonly supportShare: number;
  /** Dense layers on top of a support, under what it holds up. */
  readonly contactLayers: number;
  /** Share of those layers that is filled, %. */
  readonly contactShare: number;
  /** A surface that leans out farther from the vertical is held up, degrees. */
  readonly overhangAngle: number;
  /** Room between a support and what it holds up, mm. */
  readonly supportGap: number;
  /** Width of the flat rim about what stands on the plate, mm. */
  readonly brimWidth: number;
  /** A layer takes at least this long, so that it cools, s. */
  readonly leastLayerTime: number;
  /** Area that a litre of primer covers once, m². */
  readonly primerCoverage: number;
  readonly primerCoats: number;
  /** Area that a litre of paint covers once, m². */
  readonly paintCoverage: number;
  readonly paintCoats: number;
}

/** What of them the strength of a piece depends on. */
export type FillSettings = Pick<PrintSettings, "shells" | "lineWidth" | "infill">;

export type PrintSettingName = keyof PrintSettings;

/** What is to be known of one print setting. */
export interface PrintSettingDeclaration extends DeclaredNumber {
  readonly unit: "mm" | "%" | "°" | "s" | "m²/l" | "";
}

const practice = "common practice, no source";

/** Every print setting with its default, unit and range. */
export const printSettingDeclarations = {
  layerHeight: {
    default: 0.2,
    unit: "mm",
    least: 0.02,
    most: 2,
    help: "height of a layer",
    source: practice,
  },
  lineWidth: {
    default: 0.45,
    unit: "mm",
    least: 0.1,
    most: 3,
    help: "width of a printed line",
    source: practice,
  },
  shells: {
    default: 3,
    unit: "",
    least: 1,
    most: 50,
    whole: true,
    help: "lines side by side along every outline",
    source: practice,
  },
  topLayers: {
    default: 5,
    unit: "",
    least: 0,
    most: 100,
    whole: true,
    help: "filled layers under every surface that looks up",
    source: practice,
  },
  bottomLayers: {
    default: 4,
    unit: "",
    least: 0,
    most: 100,
    whole: true,
    help: "filled layers over every surface that looks down",
    source: practice,
  },
  infill: {
    default: 15,
    unit: "%",
    least: 0,
    most: 100,
    help: "share of the inside that is filled",
    source: practice,
  },
  supportShare: {
    default: 20,
    unit: "%",
    least: 0,
    most: 100,
    help: "share of a support that is filled; 0: nothing is held up",
    source: practice,
  },
  contactLayers: {
    default: 3,
    unit: "",
    least: 0,
    most: 50,
    whole: true,
    help: "dense layers on top of a support, under what it holds up",
    source: practice,
  },
  contactShare: {
    default: 80,
    unit: "%",
    least: 1,
    most: 100,
    help: "share of the dense layers of a support that is filled",
    source: practice,
  },
  overhangAngle: {
    default: 45,
    unit: "°",
    least: 0,
    most: 90,
    help: "a surface that leans out farther from the vertical is held up",
    source: "overhang to 45° (Mazlan et al. 2020, JAITA)",
  },
  supportGap: {
    default: 0.2,
    unit: "mm",
    least: 0,
    most: 5,
    help: "room between a support and what it holds up",
    source: practice,
  },
  brimWidth: {
    default: 0,
    unit: "mm",
    least: 0,
    most: 50,
    help: "width of the flat rim about what stands on the plate",
    source: practice,
  },
  leastLayerTime: {
    default: 6,
    unit: "s",
    least: 0,
    most: 600,
    help: "a layer takes at least this long, so that it cools",
    source: practice,
  },
  primerCoverage: {
    default: 8,
    unit: "m²/l",
    least: 0.5,
    most: 50,
    help: "area that a litre of primer covers once",
    source: practice,
  },
  primerCoats: {
    default: 2,
    unit: "",
    least: 0,
    most: 20,
    whole: true,
    help: "coats of primer",
    source: practice,
  },
  paintCoverage: {
    default: 10,
    unit: "m²/l",
    least: 0.5,
    most: 50,
    help: "area that a litre of paint covers once",
    source: practice,
  },
  paintCoats: {
    default: 2,
    unit: "",
    least: 0,
    most: 20,
    whole: true,
    help: "coats of paint",
    source: practice,
  },
} as const satisfies Record<PrintSettingName, PrintSettingDeclaration>;

export const printSettingNames = Object.keys(printSettingDeclarations) as PrintSettingName[];

/** The settings that hold where nothing is said. */
export const defaultPrintSettings: PrintSettings = Object.fromEntries(
  printSettingNames.map((name) => [name, printSettingDeclarations[name].default]),
) as unknown as PrintSettings;

/** Something wrong with print settings as they were given. */
export type PrintSettingProblem = NumberProblem<"unknown-setting">;

/** What is wrong with a group of print settings: names that are none, values that are no numbers or out of range. */
export const printSettingProblems = (values: Readonly<Record<string, unknown>>): PrintSettingProblem[] =>
  numberProblems(values, printSettingDeclarations, {
    id: "unknown-setting",
    one: "print setting",
    called: (name) => `"${name}"`,
  });
