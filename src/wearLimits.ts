import { type DeclaredNumber, type NumberProblem, numberProblems } from "./declaredNumbers";

/** Limits as a design, a wearer or a workspace sets them; what is left out keeps its default. */
export interface LimitValues {
  /** The piece rests where the gap to the head with its hair is no more than this; 0.5 mm unless given. */
  readonly restingGap?: number;
  /** The piece may enter the bare head by this much: skin gives way; 0.5 mm unless given. */
  readonly entering?: number;
  /** A piece that enters the bare head deeper is not one to wear; 3 mm unless given. */
  readonly enteringMost?: number;
  /** Least play of the girth: below it the piece is tight; 0 mm unless given. */
  readonly girthPlayLeast?: number;
  /** Greatest play of the girth: usual ease is 6 to 13 mm, two hat sizes are 20 mm; 20 mm unless given. */
  readonly girthPlayMost?: number;
  /** What hair comes down to while a piece is pulled over it; thinner hair stays as it is; 2 mm unless given. */
  readonly hairPressed?: number;
  /** The tightest passage over the bare head may be too small by this much: skin gives way; 0.5 mm unless given. */
  readonly passageTight?: number;
  /** Coefficient of friction between the piece and hair or skin; 0.3 unless given. */
  readonly friction?: number;
  /** How far the head should be able to nod forward before the piece tips or slides; 30° unless given. */
  readonly nodForward?: number;
  /** How far the head should be able to lean back before the piece tips or slides; 20° unless given. */
  readonly nodBack?: number;
  /** How far the head should be able to tilt to a side before the piece tips or slides; 20° unless given. */
  readonly tiltSide?: number;
  /** Chance that the piece goes on and rests, for all that was measured of the wearer; 80 % unless given. */
  readonly surenessLeast?: number;
  /** A heavier piece is one to change; 500 g unless given. */
  readonly massAdvised?: number;
  /** A heavier piece is not one to wear; 2500 g unless given. */
  readonly massMost?: number;
  /** Weight moment of the piece about the neck joint from which it is one to change; 82.8 N·cm unless given. */
  readonly momentAdvised?: number;
  /** Weight moment of the piece about the neck joint from which it is not one to wear; 134 N·cm unless given. */
  readonly momentMost?: number;
  /** Angle from straight ahead that should be free to each side; 105° unless given. */
  readonly sightSide?: number;
  /** Angle from straight ahead that should be free upwards; 30° unless given. */
  readonly sightUp?: number;
  /** Angle from straight ahead that should be free downwards: to see stairs; 45° unless given. */
  readonly sightDown?: number;
  /** Share of the visual field of both eyes together that may be covered; 10 % unless given. */
  readonly sightCovered?: number;
  /** Share of the visual field of both eyes together from which the piece is not one to wear; 60 % unless given. */
  readonly sightBlocked?: number;
  /** Share of an ear that may be covered; 50 % unless given. */
  readonly earCovered?: number;
  /** An ear is pressed where the piece is nearer than this; 1 mm unless given. */
  readonly earPressed?: number;
  /** How far the head should turn to each side before the piece meets neck or shoulders; 45° unless given. */
  readonly turnRoom?: number;
  /** How far the head should nod and lean back before the piece meets neck, chest or back; 30° unless given. */
  readonly nodRoom?: number;
  /** A tip of a smaller radius is sharp; 1.5 mm unless given. */
  readonly tipRadius?: number;
  /** An edge of a section that is more acute is sharp; 60° unless given. */
  readonly edgeAngle?: number;
  /** Load of a hand at the tip of a free arm; 10 N unless given. */
  readonly handlingLoad?: number;
  /** Load at the tip of a free arm that drops or catches; 30 N unless given. */
  readonly snagLoad?: number;
  /** Strength over stress that a free arm should have under the handling load; 2 unless given. */
  readonly safetyFactor?: number;
  /** Strength across the layers as a share of that along them; 50 % unless given. */
  readonly layerStrength?: number;
  /** Two parts should grow together at least this wide; 3 mm unless given. */
  readonly neckWidth?: number;
  /** A thinner wall is not one to print: two lines of 0.45 mm; 0.9 mm unless given. */
  readonly wallThickness?: number;
  /** Heat of a parked car in the sun; 76 °C unless given. */
  readonly carHeat?: number;
}

/** What is to be known of one limit. */
export interface LimitDeclaration extends DeclaredNumber {
  readonly unit: "mm" | "°" | "g" | "N" | "N·cm" | "°C" | "%" | "";
}

const practice = "common practice, no source";

/** Every limit that a design, a wearer or a workspace may set. */
export const limitDeclarations = {
  restingGap: {
    default: 0.5,
    unit: "mm",
    least: 0.05,
    most: 5,
    help: "the piece rests where the gap to the head with its hair is no more than this",
    source: practice,
  },
  entering: {
    default: 0.5,
    unit: "mm",
    least: 0,
    most: 10,
    help: "the piece may enter the bare head by this much: skin gives way",
    source: practice,
  },
  enteringMost: {
    default: 3,
    unit: "mm",
    least: 0,
    most: 30,
    help: "a piece that enters the bare head deeper is not one to wear",
    source: practice,
  },
  girthPlayLeast: {
    default: 0,
    unit: "mm",
    least: -20,
    most: 40,
    help: "least play of the girth: below it the piece is tight",
    source: practice,
  },
  girthPlayMost: {
    default: 20,
    unit: "mm",
    least: 0,
    most: 120,
    help: "greatest play of the girth: usual ease is 6 to 13 mm, two hat sizes are 20 mm",
    source: practice,
  },
  hairPressed: {
    default: 2,
    unit: "mm",
    least: 0,
    most: 30,
    help: "what hair comes down to while a piece is pulled over it; thinner hair stays as it is",
    source: "flat hair takes 2 to 5 mm: from memory",
  },
  passageTight: {
    default: 0.5,
    unit: "mm",
    least: -10,
    most: 10,
    help: "the tightest passage over the bare head may be too small by this much: skin gives way",
    source: practice,
  },
  friction: {
    default: 0.3,
    unit: "",
    least: 0.02,
    most: 2,
    help: "coefficient of friction between the piece and hair or skin",
    source:
      "below the 0.37 of nylon on skin (Zhang & Mak 1999, Prosthetics and Orthotics International 23; from memory), since hair is smoother",
  },
  nodForward: {
    default: 30,
    unit: "°",
    least: 0,
    most: 90,
    help: "how far the head should be able to nod forward before the piece tips or slides",
    source: practice,
  },
  nodBack: {
    default: 20,
    unit: "°",
    least: 0,
    most: 90,
    help: "how far the head should be able to lean back before the piece tips or slides",
    source: practice,
  },
  tiltSide: {
    default: 20,
    unit: "°",
    least: 0,
    most: 90,
    help: "how far the head should be able to tilt to a side before the piece tips or slides",
    source: practice,
  },
  surenessLeast: {
    default: 80,
    unit: "%",
    least: 0,
    most: 100,
    help: "chance that the piece goes on and rests, for all that was measured of the wearer",
    source: practice,
  },
  massAdvised: {
    default: 500,
    unit: "g",
    least: 1,
    most: 10_000,
    help: "a heavier piece is one to change",
    source: practice,
  },
  massMost: {
    default: 2500,
    unit: "g",
    least: 1,
    most: 10_000,
    help: "a heavier piece is not one to wear",
    source: "McEntire & Shanahan 1998, mass of military headgear; from memory",
  },
  momentAdvised: {
    default: 82.8,
    unit: "N·cm",
    least: 1,
    most: 1000,
    help: "weight moment of the piece about the neck joint from which it is one to change",
    source: "McEntire & Shanahan 1998, military headgear, trained adults; from memory",
  },
  momentMost: {
    default: 134,
    unit: "N·cm",
    least: 1,
    most: 1000,
    help: "weight moment of the piece about the neck joint from which it is not one to wear",
    source: "Madison et al. 2023, Military Medicine 188(S6):520, preliminary threshold, trained adults",
  },
  sightSide: {
    default: 105,
    unit: "°",
    least: 0,
    most: 110,
    help: "angle from straight ahead that should be free to each side",
    source: "16 CFR 1203.12(a)",
  },
  sightUp: {
    default: 30,
    unit: "°",
    least: 0,
    most: 90,
    help: "angle from straight ahead that should be free upwards",
    source: practice,
  },
  sightDown: {
    default: 45,
    unit: "°",
    least: 0,
    most: 90,
    help: "angle from straight ahead that should be free downwards: to see stairs",
    source: practice,
  },
  sightCovered: {
    default: 10,
    unit: "%",
    least: 0,
    most: 100,
    help: "share of the visual field of both eyes together that may be covered",
    source: practice,
  },
  sightBlocked: {
    default: 60,
    unit: "%",
    least: 0,
    most: 100,
    help: "share of the visual field of both eyes together from which the piece is not one to wear",
    source: practice,
  },
  earCovered: {
    default: 50,
    unit: "%",
    least: 0,
    most: 100,
    help: "share of an ear that may be covered",
    source: practice,
  },
  earPressed: {
    default: 1,
    unit: "mm",
    least: 0,
    most: 10,
    help: "an ear is pressed where the piece is nearer than this",
    source: practice,
  },
  turnRoom: {
    default: 45,
    unit: "°",
    least: 0,
    most: 90,
    help: "how far the head should turn to each side before the piece meets neck or shoulders",
    source: practice,
  },
  nodRoom: {
    default: 30,
    unit: "°",
    least: 0,
    most: 90,
    help: "how far the head should nod and lean back before the piece meets neck, chest or back",
    source: practice,
  },
  tipRadius: {
    default: 1.5,
    unit: "mm",
    least: 0,
    most: 20,
    help: "a tip of a smaller radius is sharp",
    source: practice,
  },
  edgeAngle: {
    default: 60,
    unit: "°",
    least: 1,
    most: 170,
    help: "an edge of a section that is more acute is sharp",
    source: practice,
  },
  handlingLoad: {
    default: 10,
    unit: "N",
    least: 0.1,
    most: 500,
    help: "load of a hand at the tip of a free arm",
    source: practice,
  },
  snagLoad: {
    default: 30,
    unit: "N",
    least: 0.1,
    most: 1000,
    help: "load at the tip of a free arm that drops or catches",
    source: practice,
  },
  safetyFactor: {
    default: 2,
    unit: "",
    least: 1,
    most: 20,
    help: "strength over stress that a free arm should have under the handling load",
    source: practice,
  },
  layerStrength: {
    default: 50,
    unit: "%",
    least: 5,
    most: 100,
    help: "strength across the layers as a share of that along them",
    source: "printed tension bars, 40 to 70 % of the strength along the layers: from memory",
  },
  neckWidth: {
    default: 3,
    unit: "mm",
    least: 0.1,
    most: 50,
    help: "two parts should grow together at least this wide",
    source: practice,
  },
  wallThickness: {
    default: 0.9,
    unit: "mm",
    least: 0.1,
    most: 10,
    help: "a thinner wall is not one to print: two lines of 0.45 mm",
    source: practice,
  },
  carHeat: {
    default: 76,
    unit: "°C",
    least: 20,
    most: 120,
    help: "heat of a parked car in the sun",
    source: "41 to 76 °C: Grundstein, Meentemeyer, Dowd 2009, International Journal of Biometeorology 53",
  },
} as const satisfies Record<keyof LimitValues, LimitDeclaration>;

export type LimitName = keyof LimitValues;
export const limitNames = Object.keys(limitDeclarations) as LimitName[];

/** A limit in force. */
export interface Limit {
  readonly value: number;
  /** Where the value comes from: its source, or who set it. */
  readonly source: string;
}

export type Limits = { readonly [Name in LimitName]: Limit };

/** Who may set limits; each goes before those named earlier. */
export type LimitSetter = "workspace" | "design" | "wearer";

/** The limits in force: defaults, then those of the workspace, of the design, of the wearer. */
export function limitsOf(set: { readonly [Setter in LimitSetter]?: LimitValues | undefined } = {}): Limits {
  const answer: Partial<Record<LimitName, Limit>> = {};
  for (const name of limitNames) {
    let limit: Limit = { value: limitDeclarations[name].default, source: limitDeclarations[name].source };
    for (const setter of ["workspace", "design", "wearer"] as const) {
      const value = set[setter]?.[name];
      if (value !== undefined) limit = { value, source: `set by the ${setter}` };
    }
    answer[name] = limit;
  }
  return answer as Limits;
}

/** Something wrong with limits as they were set. */
export type LimitProblem = NumberProblem<"unknown-limit">;

/** What is wrong with a group of limits: names that are none, values that are no numbers or out of range. */
export const limitProblems = (values: Readonly<Record<string, unknown>>): LimitProblem[] =>
  numberProblems(values, limitDeclarations, {
    id: "unknown-limit",
    one: "limit",
    called: (name) => `limit "${name}"`,
  });
