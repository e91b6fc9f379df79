import { didYouMean } from "../../nearestName";
import type { Wish, WishCondition, WishFigure } from "./wish";
import { isSameCurrency, type WishToken, type WishUnit, wishTokens, wishWords } from "./wishWordList";

/** What is wrong with a wish as it was written. */
export interface WishProblem {
  readonly text: string;
  readonly suggestion: string;
}

export type WishReading =
  | { readonly wish: Wish; readonly problems?: undefined }
  | { readonly wish?: undefined; readonly problems: readonly WishProblem[] };

const figureNames: Record<WishFigure, string> = {
  hours: "the hours",
  grams: "the mass",
  metres: "the filament",
  price: "the price",
  spools: "the spools",
  factor: "the factor of the weakest arm",
};

const examples: Record<WishFigure, string> = {
  hours: "under 60 h",
  grams: "under 600 g",
  metres: "under 200 m",
  price: "price under 20",
  spools: "one spool",
  factor: "factor at least 2",
};

const { hours, grams, spools, factor } = examples;
const looksLike = `a wish reads like "${hours}, ${grams}, ${spools}, ${factor}"`;

/**
 * Reads a wish as a person writes it: "under 60 h, under 600 g, one spool, under 20 €, factor at least 2". Conditions are
 * joined by commas, semicolons, "and" or line ends; units are h, min, d; g, kg; m; spools; a currency. A number alone
 * with its unit is the most, for the factor the least. "Under" leaves the limit itself out, save for "under one spool":
 * no print takes none.
 * @param currency what prices are shown in: another one is refused, since nothing is converted.
 */
export function parseWish(text: string, currency?: string): WishReading {
  const parts = text
    .split(/,(?!\d)|(?<!\d),|[;\n]|\s(?:and|&|plus)\s/iu)
    .map((part) => part.trim())
    .filter((part) => part !== "");
  if (parts.length === 0) return { problems: [{ text: "the wish is empty", suggestion: looksLike }] };
  const conditions: WishCondition[] = [];
  const problems: WishProblem[] = [];
  for (const part of parts) {
    const read = conditionOf(part, currency);
    if ("suggestion" in read) problems.push({ ...read, text: `"${part.slice(0, 60)}": ${read.text}` });
    else conditions.push(read);
  }
  return problems.length > 0 ? { problems } : { wish: { conditions } };
}

function conditionOf(text: string, currency: string | undefined): WishCondition | WishProblem {
  const tokens = wishTokens(text, currency);
  const unknown = tokens.find(({ kind }) => kind === "unknown");
  if (unknown) {
    return {
      text: `"${unknown.raw}" is not understood`,
      suggestion: didYouMean(unknown.raw, wishWords) ?? looksLike,
    };
  }
  const amount = amountOf(tokens);
  if ("suggestion" in amount) return amount;
  const { figure, value, raw } = amount;

  const subject = ofKind(tokens, "subject").find(({ figures }) => !figures.includes(figure));
  if (subject) {
    return {
      text: `"${subject.raw}" is not measured in ${ofKind(tokens, "unit")[0]?.raw ?? figure}`,
      suggestion: `write for example "${examples[subject.figures[0]]}"`,
    };
  }
  const money = ofKind(tokens, "unit").find((unit) => unit.figure === "price");
  if (money && currency !== undefined && !isSameCurrency(money.raw, currency)) {
    return {
      text: `prices are known in ${currency}, not in ${money.raw}`,
      suggestion: `give the price in ${currency}`,
    };
  }
  const bounds = ofKind(tokens, "bound");
  const natural = figure === "factor" ? "least" : "most";
  if (bounds.some(({ side }) => side !== natural)) {
    return {
      text: `${figureNames[figure]} can only be bounded from ${natural === "least" ? "below" : "above"}`,
      suggestion: `write for example "${examples[figure]}"`,
    };
  }
  if (!(value > 0 && value < Infinity)) {
    return { text: `${raw} is not more than zero`, suggestion: `write for example "${examples[figure]}"` };
  }
  const isStrict = bounds.some((bound) => bound.isStrict);
  if (figure !== "spools") return { figure, limit: value, isStrict, text };
  if (!Number.isInteger(value)) {
    const whole = Math.max(1, Math.floor(value));
    return {
      text: `${raw} spools: they are counted whole`,
      suggestion: `write "${whole} ${whole === 1 ? "spool" : "spools"}"`,
    };
  }
  return { figure, limit: value, isStrict: isStrict && value > 1, text };
}

/** What the numbers of a condition come to: one with its unit, or several lengths of time. */
function amountOf(
  tokens: readonly WishToken[],
): { readonly figure: WishFigure; readonly value: number; readonly raw: string } | WishProblem {
  const counted: { readonly raw: string; readonly value: number; readonly unit?: WishUnit }[] = [];
  const taken = new Set<WishToken>();
  tokens.forEach((token, i) => {
    if (token.kind !== "number") return;
    // The unit follows its number ("60 h"), or stands before it ("€ 20", "hours under 60").
    const next = tokens[i + 1];
    const unit =
      next?.kind === "unit"
        ? next
        : ofKind(tokens.slice(0, i), "unit").findLast((before) => !taken.has(before));
    if (unit) taken.add(unit);
    counted.push({ raw: token.raw, value: token.value, ...(unit && { unit }) });
  });
  const wrong = counted.find(({ value }) => Number.isNaN(value));
  if (wrong) {
    return {
      text: `"${wrong.raw}" is no plain number`,
      suggestion: 'write decimals with a point and thousands without a mark, for example "1200.5"',
    };
  }
  if (counted.length === 0) return { text: "there is no number in it", suggestion: looksLike };
  const alone = ofKind(tokens, "subject").find(({ figures }) => figures.length === 1)?.figures[0];
  const [first] = counted;
  const figure = first.unit?.figure ?? alone;
  if (figure === undefined) {
    return {
      text: `${first.raw} has no unit`,
      suggestion: 'give h, min or d; g or kg; m; spools; a currency; or write "factor at least 2"',
    };
  }
  const others = ofKind(tokens, "unit").filter((unit) => unit.figure !== figure);
  const areTimes = counted.every(({ unit }) => unit?.figure === "hours");
  if (others.length > 0 || (counted.length > 1 && !areTimes)) {
    return { text: "it bounds more than one thing", suggestion: "join conditions with a comma" };
  }
  return {
    figure,
    value: counted.reduce((sum, { value, unit }) => sum + value * (unit?.size ?? 1), 0),
    raw: counted.map(({ raw }) => raw).join(" "),
  };
}

const ofKind = <Kind extends WishToken["kind"]>(
  tokens: readonly WishToken[],
  kind: Kind,
): Extract<WishToken, { kind: Kind }>[] =>
  tokens.filter((token): token is Extract<WishToken, { kind: Kind }> => token.kind === kind);
