import type { PrintFigures } from "./evaluations";
import type { Wish, WishFigure } from "./wish";
import { wishFigures } from "./wish";
import type { MissedCondition, WishChoice } from "./wishAnswer";

/** A met wish as a person reads it. */
export function metWords(
  wish: Wish,
  choice: WishChoice,
  before: PrintFigures,
  isSure: boolean,
  currency?: string,
): string {
  const asked = wishFigures.filter((figure) => wish.conditions.some((one) => one.figure === figure));
  const takes = told(choice.figures, asked, currency);
  if (choice.changed.length === 0) return `Met as set up: ${takes}.`;
  const doubt = isSure ? "" : " A lesser change may do: not every way of printing was looked at.";
  return `Met by ${choice.change}: ${takes}, instead of ${told(before, asked, currency)}.${strengthWords(choice, before)}${doubt}`;
}

/** A wish that cannot be met, and what comes nearest to it. */
export function impossibleWords(
  missed: readonly MissedCondition[],
  choice: WishChoice,
  before: PrintFigures,
  isSure: boolean,
  currency?: string,
): string {
  const head = isSure
    ? "Not to be met within sensible print settings."
    : "Not met by any way of printing that was looked at; not all were.";
  const how = choice.changed.length === 0 ? "as set up" : choice.change;
  const lacks = missed.map(({ condition, value, excess }) => {
    const { figure, limit, text } = condition;
    const share = excess < 0.01 ? "less than 1 %" : `${Math.round(100 * excess)} %`;
    const by = Math.abs(value - limit);
    return figure === "factor"
      ? `a factor of ${floored(value)}, ${share} short of "${text}"`
      : `${figureWords(figure, value, currency)}, ${differenceWords(figure, by, currency)} (${share}) over "${text}"`;
  });
  return `${head} Nearest, ${how}: ${lacks.join("; ")}.${strengthWords(choice, before)}`;
}

/** What a change costs in strength. */
function strengthWords({ figures, changed }: WishChoice, before: PrintFigures): string {
  const [now, then] = [figures.weakest, before.weakest];
  if (!now || !then || changed.length === 0) return "";
  const change = then.factor > 0 ? now.factor / then.factor - 1 : 0;
  const percent = Math.round(100 * Math.abs(change));
  if (percent === 0)
    return ` The weakest arm, "${now.part}", is as strong as before (factor ${floored(now.factor)}).`;
  return ` The weakest arm, "${now.part}", has a factor of ${floored(now.factor)} instead of ${floored(then.factor)} (${percent} % ${change < 0 ? "less" : "more"}).`;
}

/** What else could bring a print nearer to what was wished, besides its settings. */
export function remedies(missed: readonly MissedCondition[], choice: WishChoice): string[] {
  const figures = new Set(missed.map(({ condition }) => condition.figure));
  const has = (...names: WishFigure[]) => names.some((name) => figures.has(name));
  const weakest = choice.figures.weakest?.part;
  return [
    ...(has("grams", "metres", "spools", "hours", "price")
      ? ["a smaller piece: fewer or thinner tubes, or hollow ones"]
      : []),
    ...(has("hours")
      ? ["a larger nozzle, which lays wider and higher lines", "pieces printed on several printers at once"]
      : []),
    ...(has("spools") ? ["a larger spool"] : []),
    ...(has("price") ? ["a cheaper material"] : []),
    ...(has("factor")
      ? [
          `a thicker root${weakest ? ` of "${weakest}"` : ""}, or a brace to its neighbour`,
          "a stronger material",
        ]
      : []),
    ...(choice.fits ? [] : ["pieces that fit the plate: no way up does"]),
  ];
}

const told = (figures: PrintFigures, asked: readonly WishFigure[], currency?: string): string =>
  asked
    .map((figure) => {
      if (figure !== "factor") return figureWords(figure, figures[figure]!, currency);
      return figures.weakest ? `a factor of ${floored(figures.weakest.factor)}` : "no free arm to break";
    })
    .join(", ");

/** A figure with its unit, as precise as an estimate is. */
export function figureWords(figure: WishFigure, value: number, currency?: string): string {
  switch (figure) {
    case "hours":
      return `${rounded(value, value < 100 ? 1 : 0)} h`;
    case "grams":
      return `${rounded(value, value < 100 ? 1 : 0)} g`;
    case "metres":
      return `${rounded(value, value < 100 ? 1 : 0)} m`;
    case "price":
      return `${value.toFixed(2)}${currency ? ` ${currency}` : ""}`;
    case "spools":
      return `${value} ${value === 1 ? "spool" : "spools"}`;
    case "factor":
      return `a factor of ${floored(value)}`;
  }
}

/** A small difference keeps two digits, so that none reads as nothing. */
const differenceWords = (figure: WishFigure, by: number, currency?: string): string =>
  by > 0 && by < 0.5 && figure !== "price"
    ? figureWords(figure, by, currency).replace(/^[\d.]+/u, String(Number(by.toPrecision(2))))
    : figureWords(figure, by, currency);

const rounded = (value: number, decimals: number): string => String(Number(value.toFixed(decimals)));

/** A factor is never told better than it is. */
const floored = (value: number): string => String(Math.floor(value * 100 + 1e-9) / 100);
