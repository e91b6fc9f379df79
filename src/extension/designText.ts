import { type Token, tokensFrom } from "./designTokens";

/**
 * Finds things in the text of a design file without running it. What is not understood is left out: nothing here
 * throws, also while a line is half typed.
 */

/** A property of an object literal; offsets into the text. */
export interface Property {
  readonly name: string;
  readonly start: number;
  readonly nameEnd: number;
  /** The value's text; a method's begins at its parenthesis; a shorthand's is its name. */
  readonly valueStart: number;
  readonly valueEnd: number;
  readonly kind: "value" | "method" | "shorthand";
}

/** An argument of a call, without the space around it; offsets into the text. */
export interface Argument {
  readonly start: number;
  readonly end: number;
}

/** A call `headpiece({ … })`; offsets into the text. */
export interface HeadpieceText {
  /** Of the word `headpiece`. */
  readonly start: number;
  /** Of the brace that opens its object. */
  readonly open: number;
  /** Of the brace that closes it; undefined while it is not closed. */
  readonly close: number | undefined;
  readonly properties: readonly Property[];
}

/** Several ask of the same text after each save. */
const lastFound = new Map<string, HeadpieceText | undefined>();
const mostKept = 8;

/** The call that the file exports, else the first; undefined where there is none. */
export function findHeadpiece(text: string): HeadpieceText | undefined {
  if (lastFound.has(text)) return lastFound.get(text);
  const found = headpieceIn(text);
  for (const oldest of lastFound.keys()) {
    if (lastFound.size < mostKept) break;
    lastFound.delete(oldest);
  }
  lastFound.set(text, found);
  return found;
}

function headpieceIn(text: string): HeadpieceText | undefined {
  const found: { call: HeadpieceText; isExported: boolean }[] = [];
  const last: Token[] = [];
  for (const token of tokensFrom(text, 0)) {
    const [word, parenthesis] = last.slice(-2);
    if (isMark(token, "{") && isMark(parenthesis, "(") && isWord(word, "headpiece")) {
      const { properties, close } = readObject(text, token.start);
      const isExported = isWord(last.at(-3), "default") && isWord(last.at(-4), "export");
      found.push({ call: { start: word.start, open: token.start, close, properties }, isExported });
    }
    last.push(token);
    if (last.length > 4) last.shift();
  }
  return (found.find(({ isExported }) => isExported) ?? found[0])?.call;
}

/** The properties of the object literal whose brace stands at `open`. */
export const propertiesOf = (text: string, open: number): readonly Property[] =>
  readObject(text, open).properties;

/** The arguments of the call whose parenthesis stands at `open`. */
export function argumentsOf(text: string, open: number): readonly Argument[] {
  return readList(text, open).items.map((tokens) => ({
    start: tokens[0].start,
    end: tokens[tokens.length - 1].end,
  }));
}

/** What a quoted text says; undefined for a value that is not one, such as a template with something filled in. */
export function quotedText(text: string, { valueStart, valueEnd }: Property): string | undefined {
  const [token, second] = tokensFrom(text.slice(valueStart, valueEnd), 0);
  if (token?.kind !== "string" || second) return undefined;
  const quoted = text.slice(valueStart, valueEnd);
  if (quoted.startsWith("`") && quoted.includes("${")) return undefined;
  return quoted
    .slice(1, -1)
    .replace(/\\(?:u\{([\da-f]+)\}|u([\da-f]{4})|x([\da-f]{2})|([\s\S]))/gi, (_, long, four, two, single) => {
      const code = long ?? four ?? two;
      if (code !== undefined) return String.fromCodePoint(Number.parseInt(code, 16));
      return { n: "\n", t: "\t", r: "\r", "\n": "" }[single as string] ?? single;
    });
}

function readObject(
  text: string,
  open: number,
): { properties: readonly Property[]; close: number | undefined } {
  const { items, close } = readList(text, open);
  return { properties: items.flatMap((tokens) => propertyOf(text, tokens) ?? []), close };
}

function propertyOf(text: string, tokens: readonly Token[]): Property | undefined {
  const last = tokens[tokens.length - 1];
  // `async`, `get` and `set` stand before a name, unless they are the name.
  const isModified = tokens.length > 2 && tokens[1].kind === "word" && tokens[0].kind === "word";
  const [name, after, value] = isModified ? tokens.slice(1) : tokens;
  if (name.kind !== "word" && name.kind !== "string") return undefined;
  const written = text.slice(name.start, name.end);
  const named = {
    name: name.kind === "string" ? written.slice(1, -1) : written,
    start: tokens[0].start,
    nameEnd: name.end,
  };
  if (!after) {
    return name.kind === "word"
      ? { ...named, valueStart: name.start, valueEnd: name.end, kind: "shorthand" }
      : undefined;
  }
  if (isMark(after, ":") && value) {
    return { ...named, valueStart: value.start, valueEnd: last.end, kind: "value" };
  }
  if (isMark(after, "(")) return { ...named, valueStart: after.start, valueEnd: last.end, kind: "method" };
  return undefined;
}

/** What stands between the brackets at `open`, split at the commas that are not in brackets of their own. */
function readList(text: string, open: number): { items: Token[][]; close: number | undefined } {
  const items: Token[][] = [];
  let item: Token[] = [];
  let depth = 0;
  const endItem = () => {
    if (item.length > 0) items.push(item);
    item = [];
  };
  for (const token of tokensFrom(text, open + 1)) {
    if (token.kind === "mark") {
      if (depth === 0 && token.mark === ",") {
        endItem();
        continue;
      }
      if ("([{".includes(token.mark)) depth++;
      if (")]}".includes(token.mark) && depth-- === 0) {
        endItem();
        return { items, close: token.start };
      }
    }
    item.push(token);
  }
  endItem();
  return { items, close: undefined };
}

const isMark = (token: Token | undefined, mark: string): token is Token =>
  token?.kind === "mark" && token.mark === mark;
const isWord = (token: Token | undefined, word: string): token is Token =>
  token?.kind === "word" && token.word === word;
