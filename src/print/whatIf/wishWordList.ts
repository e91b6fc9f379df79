import type { WishFigure } from "./wish";

/** Words of which wishes are made. */

/** What a number counts: a figure, in so many of its own unit. */
export interface WishUnit {
  readonly figure: WishFigure;
  readonly size: number;
}

export type WishToken =
  | { readonly kind: "number"; readonly raw: string; readonly value: number }
  | ({ readonly kind: "unit"; readonly raw: string } & WishUnit)
  | {
      readonly kind: "bound";
      readonly raw: string;
      readonly side: "most" | "least";
      readonly isStrict: boolean;
    }
  /** Says what is meant; with one figure alone a number needs no unit. */
  | { readonly kind: "subject"; readonly raw: string; readonly figures: readonly WishFigure[] }
  | { readonly kind: "idle"; readonly raw: string }
  | { readonly kind: "unknown"; readonly raw: string };

const units = new Map<string, WishUnit>(
  (
    [
      ["h hr hrs hour hours", "hours", 1],
      ["min mins minute minutes", "hours", 1 / 60],
      ["d day days", "hours", 24],
      ["g gram grams gramme grammes", "grams", 1],
      ["kg kilo kilos kilogram kilograms kilogramme kilogrammes", "grams", 1000],
      ["m metre metres meter meters", "metres", 1],
      ["spool spools", "spools", 1],
      ["€ eur euro euros $ usd dollar dollars £ gbp pound pounds", "price", 1],
      ["x × times", "factor", 1],
    ] as const
  ).flatMap(([words, figure, size]) => words.split(" ").map((word) => [word, { figure, size }] as const)),
);

const subjects = new Map<string, readonly WishFigure[]>(
  Object.entries({
    time: ["hours"],
    mass: ["grams"],
    weight: ["grams"],
    filament: ["metres", "grams", "spools"],
    length: ["metres"],
    price: ["price"],
    cost: ["price"],
    costs: ["price"],
    factor: ["factor"],
    strength: ["factor"],
  }),
);

const bounds = new Map<string, { readonly side: "most" | "least"; readonly isStrict: boolean }>(
  (
    [
      ["under below less fewer <", "most", true],
      ["within most maximum max up <= ≤", "most", false],
      ["over above more >", "least", true],
      ["least minimum min >= ≥", "least", false],
    ] as const
  ).flatMap(([words, side, isStrict]) => words.split(" ").map((word) => [word, { side, isStrict }] as const)),
);

const idle = new Set(
  "all altogether at be for in is it no not of on only print printed printer safety should take than the this to weigh with".split(
    " ",
  ),
);

const numbers = new Map(
  "one two three four five six seven eight nine ten".split(" ").map((word, i) => [word, i + 1]),
);

/** Every word that has a meaning, for suggestions. */
export const wishWords: readonly string[] = [
  ...[...units.keys(), ...subjects.keys(), ...bounds.keys(), ...numbers.keys()].filter(
    (word) => word.length > 2,
  ),
];

const pattern = /\d+(?:[.,]\d+)*|\.\d+|<=|>=|\p{Sc}|\p{L}+|[^\s]/gu;

/** The words of one condition. A number that is none plain has the value NaN. */
export function wishTokens(text: string, currency?: string): WishToken[] {
  const money = currency?.toLowerCase();
  const tokens: WishToken[] = [];
  const words = text.match(pattern) ?? [];
  words.forEach((raw, i) => {
    const word = raw.toLowerCase();
    const unitOf = (key: string | undefined): WishUnit | undefined =>
      key === undefined
        ? undefined
        : (units.get(key) ?? (key === money ? { figure: "price", size: 1 } : undefined));
    const unit = unitOf(word);
    const bound = bounds.get(word);
    const figures = subjects.get(word);
    const isAfterNumber = tokens.at(-1)?.kind === "number";
    if (/^[\d.]*\d/u.test(word)) {
      tokens.push({ kind: "number", raw, value: /^\d*\.?\d+$/u.test(word) ? Number(word) : Number.NaN });
    } else if (numbers.has(word)) {
      tokens.push({ kind: "number", raw, value: numbers.get(word)! });
    } else if ((word === "a" || word === "an") && unitOf(words[i + 1]?.toLowerCase())) {
      tokens.push({ kind: "number", raw, value: 1 });
    } else if (unit && (!bound || isAfterNumber)) {
      // "min" is minutes after a number, else the least.
      tokens.push({ kind: "unit", raw, ...unit });
    } else if (bound) {
      tokens.push({ kind: "bound", raw, ...turned(bound, tokens.at(-1)) });
    } else if (figures) {
      tokens.push({ kind: "subject", raw, figures });
    } else {
      tokens.push({ kind: idle.has(word) || word === "a" || word === "an" ? "idle" : "unknown", raw });
    }
  });
  return tokens;
}

/** "no more than" and "not less than" turn the bound about and take the limit in. */
function turned(
  bound: { readonly side: "most" | "least"; readonly isStrict: boolean },
  before: WishToken | undefined,
): { readonly side: "most" | "least"; readonly isStrict: boolean } {
  const isTurned = bound.isStrict && before?.kind === "idle" && /^not?$/iu.test(before.raw);
  return isTurned ? { side: bound.side === "most" ? "least" : "most", isStrict: false } : bound;
}

const currencies = ["€ eur euro euros", "$ usd dollar dollars", "£ gbp pound pounds"].map((names) =>
  names.split(" "),
);

/** Whether two words or signs name one currency. */
export function isSameCurrency(one: string, other: string): boolean {
  const [a, b] = [one.toLowerCase(), other.toLowerCase()];
  return a === b || currencies.some((names) => names.includes(a) && names.includes(b));
}
