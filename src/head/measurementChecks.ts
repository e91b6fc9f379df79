import type { Message } from "../message";
import { expectation } from "./estimate";
import { girthRange } from "./girthSection";
import type { GivenMeasurements, MeasureField, Measurements } from "./measurements";
import {
  CHILD_GIRTHS,
  GREATEST_ADULT_GIRTH,
  LEAST_ADULT_GIRTH,
  percentileOf,
  SURVEY,
  type SurveyedField,
} from "./population";
import { inUnit, MM_PER, UNIT_NAME, UNITS, type Unit } from "./units";

/** What a measure is called in a sentence, and the least and greatest that any human has, mm (from infants up). */
const FIELDS: Readonly<
  Record<MeasureField, { readonly name: string; readonly range: readonly [number, number] }>
> = {
  girth: { name: "head girth", range: [400, 720] },
  length: { name: "head length", range: [130, 250] },
  breadth: { name: "head breadth", range: [100, 205] },
  crownHeight: { name: "crown height", range: [80, 175] },
  bitragionArc: { name: "bitragion arc", range: [220, 460] },
  earLength: { name: "ear length", range: [30, 100] },
  earProtrusion: { name: "ear protrusion", range: [3, 55] },
  interpupillaryDistance: { name: "interpupillary distance", range: [38, 85] },
  neckGirth: { name: "neck girth", range: [180, 650] },
  hairThickness: { name: "hair thickness", range: [0, 80] },
};

/** What a measure is called in a sentence: `head girth`. */
export const measureName = (field: MeasureField): string => FIELDS[field].name;

/** Share of the way from the leanest convex outline's girth to the box's, that heads lie between with room to spare. */
const LEANEST = 0.13;
const SQUAREST = 0.9;

/** The unit in which the same number would be a human measure, if there is just such a one. */
const likelierUnit = (field: MeasureField, value: number, unit: Unit): Unit | undefined => {
  const [least, most] = FIELDS[field].range;
  const number = value / MM_PER[unit];
  const usual = SURVEY.find((measure) => measure.field === field)?.mean ?? (least + most) / 2;
  return UNITS.filter((other) => {
    const mm = number * MM_PER[other];
    return other !== unit && mm >= least && mm <= most;
  }).sort((a, b) => Math.abs(number * MM_PER[a] - usual) - Math.abs(number * MM_PER[b] - usual))[0];
};

/** Errors for measures that no human has, each with its likely cause; warnings for unusual ones. */
export const checkGiven = (given: GivenMeasurements, unit: Unit): Message[] => {
  const findings: Message[] = [];
  for (const field of Object.keys(FIELDS) as MeasureField[]) {
    const value = given[field];
    if (value === undefined) {
      if (field === "girth") {
        findings.push({
          id: "missing-girth",
          severity: "error",
          field,
          text: "The head girth is missing; it is the one measure that a head form needs.",
          suggestion: 'Measure around the brow and the widest back of the head and give it as "girth".',
        });
      }
      continue;
    }
    const { name, range } = FIELDS[field];
    if (!Number.isFinite(value)) {
      findings.push({
        id: "measure-not-a-number",
        severity: "error",
        field,
        text: `The ${name} is ${value}, not a number.`,
        suggestion: `Give a number of ${UNIT_NAME[unit]}.`,
      });
    } else if (value < range[0] || value > range[1]) {
      const other = likelierUnit(field, value, unit);
      const human = `${inUnit(range[0], unit)} to ${inUnit(range[1], unit)}`;
      findings.push({
        id: "measure-not-human",
        severity: "error",
        field,
        text: other
          ? `The ${name} is ${inUnit(value, unit)}, which no human has; it looks like ${UNIT_NAME[other]} given as ${UNIT_NAME[unit]}.`
          : `The ${name} is ${inUnit(value, unit)}, which no human has.`,
        suggestion: other
          ? `Set "units" to "${other}" if all measures are in ${UNIT_NAME[other]}, or give ${inUnit((value / MM_PER[unit]) * MM_PER[other], unit)}.`
          : `Human heads have ${human}: measure again.`,
      });
    }
  }
  return findings;
};

/** Cumulative share of the normal distribution, percent (Abramowitz and Stegun 1964, 7.1.26). */
const normalPercentile = (z: number): number => {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const tail =
    0.5 *
    t *
    (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429)))) *
    Math.exp(-x * x);
  return 100 * (z > 0 ? 1 - tail : tail);
};

const percentText = (percentile: number): string => {
  if (percentile < 0.1) return "below the 0.1th percentile";
  if (percentile > 99.9) return "above the 99.9th percentile";
  return `at the ${Number(percentile.toFixed(1))}th percentile`;
};

const joined = (names: readonly string[]): string =>
  names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names[names.length - 1]}`;

/** Errors for measures that cannot belong to one head, warnings for those that seldom do. */
export const checkCompleted = (given: GivenMeasurements, m: Measurements, unit: Unit): Message[] => {
  const impossible = impossibleOutline(given, m, unit);
  if (impossible) return [impossible];
  return [...sizeWarnings(given, unit), ...girthAgainstCalipers(given, unit)];
};

/** A girth that no outline of the length and breadth has. */
const impossibleOutline = (given: GivenMeasurements, m: Measurements, unit: Unit): Message | undefined => {
  const measured = (["length", "breadth"] as const).filter((field) => given[field] !== undefined);
  const field = measured[0] ?? "girth";
  const box = measured.length
    ? `a head length of ${inUnit(m.length, unit)} and a breadth of ${inUnit(m.breadth, unit)}${
        measured.length < 2 ? ` (the ${measured[0] === "length" ? "breadth" : "length"} estimated)` : ""
      }`
    : "";
  if (m.breadth >= m.length) {
    return {
      id: "measures-inconsistent",
      severity: "error",
      field: given.breadth !== undefined ? "breadth" : field,
      text: `The head breadth, ${inUnit(m.breadth, unit)}, is not less than the length, ${inUnit(m.length, unit)}; the two are likely swapped.`,
      suggestion: "Length runs from brow to back, breadth from side to side above the ears.",
    };
  }
  const diagonal = 2 * Math.hypot(m.length, m.breadth);
  const around = 2 * (m.length + m.breadth);
  const range = girthRange(m.length, m.breadth);
  const least = Math.max(range[0], diagonal + LEANEST * (around - diagonal));
  const most = Math.min(range[1], diagonal + SQUAREST * (around - diagonal));
  if (m.girth >= least && m.girth <= most) return undefined;
  const short = m.girth < least;
  const convex = short ? m.girth < diagonal : m.girth > around;
  return {
    id: "measures-inconsistent",
    severity: "error",
    field: "girth",
    text: `A girth of ${inUnit(m.girth, unit)} is too ${short ? "small" : "large"} for ${box}: ${
      convex
        ? `no convex outline of that length and breadth has less than ${inUnit(diagonal, unit)} or more than ${inUnit(around, unit)}`
        : `heads of that length and breadth have ${inUnit(least, unit)} to ${inUnit(most, unit)}`
    }.`,
    suggestion: short
      ? "Likely the girth was read off wrong, or the length or breadth taken with the arms too wide: measure again."
      : "Likely the tape lay over braids or a band, or the length or breadth was read off wrong: measure again.",
  };
};

const sizeWarnings = (given: GivenMeasurements, unit: Unit): Message[] => {
  if (given.girth < LEAST_ADULT_GIRTH) return [childWarning(given.girth, unit)];
  const findings: Message[] = [];
  for (const { field } of SURVEY) {
    const value = given[field];
    if (value === undefined) continue;
    const percentile = percentileOf(field as SurveyedField, value);
    if (percentile >= 1 && percentile <= 99) continue;
    const beyond =
      field === "girth" && value > GREATEST_ADULT_GIRTH
        ? ` Estimates hold for girths of ${inUnit(LEAST_ADULT_GIRTH, unit)} to ${inUnit(GREATEST_ADULT_GIRTH, unit)}.`
        : "";
    findings.push({
      id: "measure-unusual",
      severity: "warning",
      field,
      text: `The ${FIELDS[field].name}, ${inUnit(value, unit)}, is unusual: ${percentText(percentile)} of adults.${beyond}`,
      suggestion: "Measure again; if it is right, nothing needs to change.",
    });
  }
  return findings;
};

const childWarning = (girth: number, unit: Unit): Message => {
  const age = CHILD_GIRTHS.find((entry) => girth <= entry.girth);
  const like = age
    ? `a child of about ${age.months} months or less (WHO median)`
    : "a child past five years or a very small adult";
  return {
    id: "child-size",
    severity: "warning",
    field: "girth",
    text: `A girth of ${inUnit(girth, unit)} is that of ${like}; estimates come from adults with girths of ${inUnit(LEAST_ADULT_GIRTH, unit)} to ${inUnit(GREATEST_ADULT_GIRTH, unit)}, here scaled down, and children are not small adults.`,
    suggestion: "Measure length, breadth and crown height too, and try the form on.",
  };
};

/** A girth far from what the calipers foretell, as over braided hair. */
const girthAgainstCalipers = (given: GivenMeasurements, unit: Unit): Message[] => {
  const from = (["length", "breadth"] as const).filter((field) => given[field] !== undefined);
  if (from.length === 0) return [];
  const scale = Math.min(1, given.girth / LEAST_ADULT_GIRTH);
  const known = new Map(from.map((field) => [field, (given[field] as number) / scale] as const));
  const { value, standardError } = expectation("girth", known);
  const excess = given.girth / scale - value;
  const percentile = normalPercentile(excess / standardError);
  if (percentile >= 1 && percentile <= 99) return [];
  return [
    {
      id: "girth-unforetold",
      severity: "warning",
      field: "girth",
      text: `The girth, ${inUnit(given.girth, unit)}, is ${inUnit(Math.abs(excess) * scale, unit)} ${
        excess > 0 ? "more" : "less"
      } than ${joined(from)} foretell (${inUnit(value * scale, unit)} ± ${inUnit(standardError * scale, unit)}): ${percentText(percentile)}.`,
      suggestion:
        excess > 0
          ? "Was it taken over braids or thick hair? Then give the girth of the bare head and the hair as hairThickness."
          : "Was the tape tight, or length or breadth taken over the hair? Measure again.",
    },
  ];
};
