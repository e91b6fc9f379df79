import { readFileSync } from "node:fs";
import type { FeltPoints } from "../../src/checks/sureness/feltPoints";
import { fitShares, spreadOf } from "../../src/checks/sureness/fitShares";
import type { FittedPiece } from "../../src/checks/sureness/fittedPiece";
import { HeadJudge } from "../../src/checks/sureness/headJudge";
import { wayOffSteps } from "../../src/checks/sureness/wayOff";
import { completeMeasurements } from "../../src/head/completeMeasurements";
import { HeadFamily } from "../../src/head/headFamily";
import { headRadii } from "../../src/head/headRadii";
import { fitHeads, type HeadsModel } from "../../src/head/headsModel";
import type { KnownHead } from "../../src/head/knownHead";
import type { GivenMeasurements, Measurements } from "../../src/head/measurements";
import { emptySample, RadialSurface } from "../../src/head/radialSurface";
import { seededNormals } from "../../src/head/seededNormals";
import { DRAWN_FIELDS, type DrawnField, type SurveyedHeads, someHeads } from "../../src/head/surveyedHeads";
import { limitsOf } from "../../src/wearLimits";

/** What is known of a head: measures that were taken, and the tolerance of its girth, mm. */
export interface Situation {
  readonly name: string;
  readonly taken: readonly DrawnField[];
  readonly girthTolerance: number;
}

export const situations: readonly Situation[] = [
  { name: "girth", taken: ["girth"], girthTolerance: 0 },
  { name: "girth, length", taken: ["girth", "length"], girthTolerance: 0 },
  { name: "girth, length, breadth", taken: ["girth", "length", "breadth"], girthTolerance: 0 },
  { name: "girth to 10 mm", taken: ["girth"], girthTolerance: 10 },
];

/** One head, what was said of a piece made for what is known of it, and whether it fits. */
export interface Case {
  readonly situation: string;
  readonly chance: number;
  readonly fits: boolean;
}

/** One in four of the survey's heads is not used to fit the model. */
export const isHeldOut = (head: number): boolean => head % 4 === 3;
export const fittedModel = (heads: SurveyedHeads): HeadsModel =>
  fitHeads(someHeads(heads, (head) => !isHeldOut(head)));

/** Families serve heads of about one girth, mm. */
const girthClass = 6;
const room = { ease: 0, hair: 3, hairPressed: 2 };

interface Class {
  readonly family: HeadFamily;
  readonly surface: RadialSurface;
}

/**
 * Makes for each head a ring for what is known of it, with an ease, a width and limits of its own, asks for the chance
 * that it fits, and sees whether it fits the head as it is: all by the light judge.
 * @param heads complete ones, none of which the model was fitted to
 */
export function calibrationCases(
  heads: SurveyedHeads,
  model: HeadsModel,
  draws: number,
  seed: number,
  asked: readonly Situation[] = situations,
): Case[] {
  const normal = seededNormals(seed);
  // From the normal numbers, so that one stream serves: its distribution function by the logistic curve, about even.
  const between = (least: number, most: number): number =>
    least + (most - least) / (1 + Math.exp(-1.702 * normal()));
  const classes = new Map<string, Class>();
  const cases: Case[] = [];
  for (let head = 0; head < heads.count; head++) {
    const measure = (field: DrawnField): number =>
      heads.values[head * DRAWN_FIELDS.length + DRAWN_FIELDS.indexOf(field)];
    for (const situation of asked) {
      const error = situation.girthTolerance / 2;
      const given = Object.fromEntries(situation.taken.map((field) => [field, measure(field)]));
      given.girth += error * normal();
      const { measurements, estimated } = completeMeasurements(given as unknown as GivenMeasurements);
      const known: KnownHead = {
        measurements,
        estimated,
        ...(error > 0 && { measuringErrors: { girth: error } }),
      };
      const drawn = model.draw(known, draws, seed + head);
      const key = `${situation.name} ${Math.round(measurements.girth / girthClass)}`;
      let own = classes.get(key);
      if (!own) {
        own = classOf(known, spreadOf(drawn), situation);
        classes.set(key, own);
      }
      const { family } = own;
      const limits = limitsOf({
        design: {
          girthPlayLeast: between(-6, 3),
          girthPlayMost: between(9, 26),
          entering: between(0.2, 2.5),
        },
      });
      const ring = ringFor(
        measurements,
        own,
        between(2, 14) / (2 * Math.PI),
        between(-4, 12),
        between(5, 12),
      );
      const judge = new HeadJudge(ring, family, room, limits);
      const { fits: chance } = fitShares(judge, family, drawn, measurements.crownHeight);
      const crown = measure("crownHeight") - measurements.crownHeight;
      cases.push({
        situation: situation.name,
        chance,
        fits: judge.fit(family.head(measure), crown) === "fits",
      });
    }
  }
  return cases;
}

/** A family of heads about what is known, wide enough for others of about that girth. */
function classOf(
  { measurements }: KnownHead,
  spread: Readonly<Record<DrawnField, number>>,
  { taken }: Situation,
): Class {
  const wide = Object.fromEntries(
    DRAWN_FIELDS.map((field) => {
      const more = field === "girth" ? girthClass / 3 : taken.includes(field) ? 7 : 0;
      return [field, field.startsWith("ear") ? 0 : Math.hypot(spread[field], more)];
    }),
  );
  return {
    family: new HeadFamily(measurements, wide, -30, 50),
    surface: new RadialSurface(headRadii(measurements, { columns: 61, rows: 73, sectionSamples: 361 })),
  };
}

/** A ring round a head, on its hair and an offset, from an elevation up by a width: degrees. */
function ringFor(
  made: Measurements,
  { family, surface }: Class,
  offset: number,
  elevation: number,
  width: number,
): FittedPiece {
  const head = family.head((field) => made[field] ?? 0);
  const foot = emptySample();
  const pointsOf = (elevations: readonly number[], step: number): FeltPoints => {
    const count = elevations.length * Math.floor(360 / step);
    const positions = new Float64Array(3 * count);
    const cosines = new Float64Array(count);
    let at = 0;
    for (const degrees of elevations) {
      for (let side = -180; side + step <= 180; side += step) {
        const azimuth = (side * Math.PI) / 180;
        const rise = (degrees * Math.PI) / 180;
        surface.evaluateUncut(azimuth, rise, foot);
        const ray = [Math.sin(azimuth) * Math.cos(rise), Math.cos(azimuth) * Math.cos(rise), Math.sin(rise)];
        const cosine = ray[0] * foot.nx + ray[1] * foot.ny + ray[2] * foot.nz;
        const column = (Math.abs(azimuth) / Math.PI) * (family.columns - 1);
        const row = (rise - family.lowest) / family.step;
        const [i, j] = [Math.min(family.columns - 2, Math.floor(column)), Math.floor(row)];
        const [s, t] = [column - i, row - j];
        const mix = (values: Float32Array): number => {
          const k = j * family.columns + i;
          const low = (1 - s) * values[k] + s * values[k + 1];
          return (
            (1 - t) * low + t * ((1 - s) * values[k + family.columns] + s * values[k + family.columns + 1])
          );
        };
        const away = mix(head.radii) + (offset + room.hair * mix(family.hair)) / cosine;
        positions.set([ray[0] * away, head.centreY + ray[1] * away, head.centreZ + ray[2] * away], 3 * at);
        cosines[at++] = cosine;
      }
    }
    return { count, positions, cosines };
  };
  const felt = pointsOf([elevation, elevation + width], 10);
  const middle = pointsOf([elevation + width / 2], 5);
  const rings = [middle];
  const height =
    (1 / felt.count) * felt.positions.reduce((sum, value, k) => sum + (k % 3 === 2 ? value : 0), 0);
  return {
    felt,
    asked: felt,
    rings,
    passing: Array.from({ length: felt.count / 2 }, (_, i) => i),
    off: wayOffSteps(undefined),
    middle: [0, head.centreY, height],
    toCentre: [0, 0, 0],
    isNearEars: false,
    elevations: [-30, 50],
  };
}

/** A line of the table: what was said of the cases of a bin, and what came of them. */
export interface CalibrationBin {
  readonly from: number;
  readonly to: number;
  readonly count: number;
  /** Mean of the stated chances, and the share that fits, 0 to 1. */
  readonly stated: number;
  readonly fits: number;
}

/** Cases by stated chance, in bins between the edges. */
export const calibrationBins = (cases: readonly Case[], edges: readonly number[]): CalibrationBin[] =>
  edges.slice(1).flatMap((to, k) => {
    const from = edges[k];
    const own = cases.filter(({ chance }) => chance >= from && (chance < to || k === edges.length - 2));
    if (own.length === 0) return [];
    const stated = own.reduce((sum, { chance }) => sum + chance, 0) / own.length;
    return [
      { from, to, count: own.length, stated, fits: own.filter(({ fits }) => fits).length / own.length },
    ];
  });

/** The survey's own names of the columns. */
const columns: Readonly<Record<DrawnField, string>> = {
  girth: "headcircumference",
  length: "headlength",
  breadth: "headbreadth",
  crownHeight: "tragiontopofhead",
  earLength: "earlength",
  earProtrusion: "earprotrusion",
};

/** Heads from a table with the survey's columns, whether or not their names end in the unit, `_mm`. */
export function headsOfTable(file: string): SurveyedHeads {
  const [header, ...lines] = readFileSync(file, "utf8").trim().split(/\r?\n/);
  const names = header
    .split(",")
    .map((name) => name.trim().toLowerCase().replace(/"/g, "").replace(/_mm$/, ""));
  const at = DRAWN_FIELDS.map((field) => names.indexOf(columns[field]));
  const missing = DRAWN_FIELDS.filter((_, k) => at[k] < 0);
  if (missing.length > 0) {
    throw new Error(`${file}: no column ${missing.map((field) => `${columns[field]}_mm`).join(", ")}`);
  }
  const rows = lines.map((line) => line.split(","));
  const values = Float64Array.from(rows.flatMap((row) => at.map((k) => Number(row[k]))));
  if (!values.every((value) => value > 0)) throw new Error(`${file}: a value is no number above 0`);
  return { count: rows.length, values, isWoman: new Uint8Array(rows.length) };
}
