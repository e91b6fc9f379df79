import type { ParameterDeclaration, ParameterValue } from "../../design/part";
import { type Argument, argumentsOf, findHeadpiece, propertiesOf, quotedText } from "../designText";
import { type Token, tokensFrom } from "../designTokens";
import type { Localiser } from "../localiser";
import type { TextChange } from "../textChange";

/** What writing values into a design comes to. */
export interface ParameterWriting {
  readonly changes: readonly TextChange[];
  /** Parameters that cannot be written, with one sentence each that says why. */
  readonly refusals: readonly { readonly name: string; readonly reason: string }[];
}

/**
 * The changes of a design's text that make these values the defaults of its parameters. A default is written where it
 * stands as a plain value; one that is computed is refused, since only its author knows what should change.
 */
export function writeParameters(
  text: string,
  values: Readonly<Record<string, ParameterValue>>,
  declared: readonly ParameterDeclaration[],
  l10n: Localiser,
): ParameterWriting {
  const changes: TextChange[] = [];
  const refusals: { name: string; reason: string }[] = [];
  const found = parametersIn(text);
  for (const [name, value] of Object.entries(values)) {
    const declaration = declared.find((each) => each.name === name);
    const start = found?.get(name);
    const call = start === undefined ? undefined : callFrom(text, start);
    if (!declaration || !call) {
      refusals.push({
        name,
        reason: l10n.t("the file does not declare “{0}” in a way that can be changed here", name),
      });
      continue;
    }
    const change =
      declaration.kind === "choice"
        ? choiceChange(text, call, String(value))
        : plainChange(text, call, value);
    if (change) changes.push(change);
    else refusals.push({ name, reason: l10n.t("the default of “{0}” is computed, not a plain value", name) });
  }
  return { changes, refusals };
}

/** Where the value of each declared parameter begins, by name; undefined where the declaration is not found. */
function parametersIn(text: string): Map<string, number> | undefined {
  const property = findHeadpiece(text)?.properties.find(({ name }) => name === "parameters");
  if (!property || property.kind === "method") return undefined;
  const open = behindNames(text, property.valueStart);
  if (open === undefined || text[open] !== "{") return undefined;
  return new Map(
    propertiesOf(text, open)
      .filter(({ kind }) => kind !== "method")
      .map(({ name, valueStart }) => [name, behindNames(text, valueStart) ?? valueStart]),
  );
}

/** Where the value of an expression begins: where it is a bare name, at the value of the constant of that name. */
function behindNames(text: string, start: number): number | undefined {
  let at: number | undefined = start;
  // A constant may stand for another, though hardly more often than this.
  for (let step = 0; step < 4 && at !== undefined; step++) {
    const [name, after] = firstTokens(text, at, 2);
    if (name?.kind !== "word" || isMark(after, "(") || isMark(after, ".") || isMark(after, "<")) return at;
    at = constantValue(text, name.word);
  }
  return at;
}

/** Where the value in `const NAME = VALUE` or `const NAME: Type = VALUE` begins. */
function constantValue(text: string, name: string): number | undefined {
  let last: Token | undefined;
  let state: "looking" | "named" | "value" = "looking";
  for (const token of tokensFrom(text, 0)) {
    if (state === "value") return token.start;
    if (state === "named" && isMark(token, "=")) state = "value";
    else if (state === "named" && isMark(token, ";")) state = "looking";
    else if (isWord(token, name) && isWord(last, "const")) state = "named";
    last = token;
  }
  return undefined;
}

interface Call {
  readonly args: readonly Argument[];
  /** Just past the first argument. */
  readonly afterFirst: number;
}

/** The call `count(…)` or `anadem.count(…)` that begins at an offset. */
function callFrom(text: string, start: number): Call | undefined {
  for (const token of tokensFrom(text, start)) {
    if (token.kind === "word" || isMark(token, ".")) continue;
    if (!isMark(token, "(")) return undefined;
    const args = argumentsOf(text, token.start);
    return args.length > 0 ? { args, afterFirst: args[0].end } : undefined;
  }
  return undefined;
}

/** The first argument, where it is a number or true or false, becomes the value. */
function plainChange(
  text: string,
  { args: [{ start, end }] }: Call,
  value: ParameterValue,
): TextChange | undefined {
  const written = text.slice(start, end);
  const isPlain =
    typeof value === "boolean"
      ? /^(?:true|false)$/
      : /^[+-]?\s*(?:\d[\d_]*\.?[\d_]*|\.\d[\d_]*)(?:e[+-]?\d+)?$/i;
  return isPlain.test(written) ? { start, end, text: literal(value) } : undefined;
}

/** The `preset` of a choice becomes the value; the list of words keeps its order. */
function choiceChange(text: string, { args, afterFirst }: Call, value: string): TextChange | undefined {
  const [list, about] = args;
  const words = [...tokensFrom(text.slice(list.start, list.end), 0)].filter(({ kind }) => kind === "string");
  const isListed = words.some((word) => {
    const [valueStart, valueEnd] = [list.start + word.start, list.start + word.end];
    return (
      quotedText(text, {
        name: "",
        start: valueStart,
        nameEnd: valueStart,
        valueStart,
        valueEnd,
        kind: "value",
      }) === value
    );
  });
  if (!isListed) return undefined;
  const preset = JSON.stringify(value);
  if (!about) return { start: afterFirst, end: afterFirst, text: `, { preset: ${preset} }` };
  if (text[about.start] !== "{") return undefined;
  const properties = propertiesOf(text, about.start);
  const own = properties.find(({ name }) => name === "preset");
  if (own) {
    return quotedText(text, own) === undefined
      ? undefined
      : { start: own.valueStart, end: own.valueEnd, text: preset };
  }
  // Something that is spread into the options may hold a preset of its own.
  if (text.slice(about.start, about.end).includes("...")) return undefined;
  const isEmpty = properties.length === 0;
  if (isEmpty) return { ...about, text: `{ preset: ${preset} }` };
  return { start: properties[0].start, end: properties[0].start, text: `preset: ${preset}, ` };
}

/** Twelve digits: what a control adds up to is written as a person would. */
const literal = (value: ParameterValue): string =>
  typeof value === "number" ? String(Number(value.toPrecision(12))) : String(value);

function firstTokens(text: string, start: number, count: number): Token[] {
  const tokens: Token[] = [];
  for (const token of tokensFrom(text, start)) {
    tokens.push(token);
    if (tokens.length === count) break;
  }
  return tokens;
}

const isMark = (token: Token | undefined, mark: string): boolean =>
  token?.kind === "mark" && token.mark === mark;
const isWord = (token: Token | undefined, word: string): boolean =>
  token?.kind === "word" && token.word === word;
