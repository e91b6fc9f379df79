import { SURVEYED_HEADS_TEXT } from "./surveyedHeadsText";

/** Measures that are drawn together for a head, in the order of {@link SurveyedHeads.values}. */
export const DRAWN_FIELDS = [
  "girth",
  "length",
  "breadth",
  "crownHeight",
  "earLength",
  "earProtrusion",
] as const;
export type DrawnField = (typeof DRAWN_FIELDS)[number];

/** Heads as a survey measured them. */
export interface SurveyedHeads {
  readonly count: number;
  /** The measures of each in turn, in the order of {@link DRAWN_FIELDS}, mm. */
  readonly values: Float64Array;
  /** 1 where the head is a woman's, else 0. */
  readonly isWoman: Uint8Array;
}

/** Letters that the packed text is made of: those of ASCII that a text in code has plain. */
const letters = Array.from({ length: 92 }, (_, i) => String.fromCharCode(35 + i))
  .filter((letter) => !"$\\`".includes(letter))
  .join("");
const lettersPerHead = 7;
/** The girth and the sex share two letters, counted by this. */
const base = 64;
/** What each letter counts from, mm. */
const leastGirth = 500;
const least = [160, 125, 100, 40, 10];

let known: SurveyedHeads | undefined;

/** The adults of ANSUR II whose head measures this project has: 4,046, both sexes, in the survey's order. */
export function surveyedHeads(): SurveyedHeads {
  known ??= unpacked(SURVEYED_HEADS_TEXT);
  return known;
}

function unpacked(text: string): SurveyedHeads {
  const valueBy = new Map(Array.from(letters, (letter, value) => [letter, value]));
  const at = (i: number): number => valueBy.get(text[i]) ?? Number.NaN;
  const count = text.length / lettersPerHead;
  const values = new Float64Array(count * DRAWN_FIELDS.length);
  const isWoman = new Uint8Array(count);
  for (let head = 0; head < count; head++) {
    const start = head * lettersPerHead;
    const both = base * at(start) + at(start + 1);
    isWoman[head] = both % 2;
    const row = head * DRAWN_FIELDS.length;
    values[row] = leastGirth + Math.floor(both / 2);
    least.forEach((from, k) => {
      values[row + 1 + k] = from + at(start + 2 + k);
    });
  }
  return { count, values, isWoman };
}

/** Some of the heads. */
export function someHeads(heads: SurveyedHeads, isWanted: (head: number) => boolean): SurveyedHeads {
  const wanted = Array.from({ length: heads.count }, (_, head) => head).filter(isWanted);
  const size = DRAWN_FIELDS.length;
  const values = new Float64Array(wanted.length * size);
  wanted.forEach((head, k) => {
    values.set(heads.values.subarray(head * size, (head + 1) * size), k * size);
  });
  return {
    count: wanted.length,
    values,
    isWoman: Uint8Array.from(wanted, (head) => heads.isWoman[head]),
  };
}
