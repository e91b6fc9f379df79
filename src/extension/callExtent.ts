import { tokensFrom } from "./designTokens";

/** A stretch of a text, by offsets. */
export interface Extent {
  readonly start: number;
  readonly end: number;
}

/** A call from its name to its closing parenthesis. */
export interface CallExtent extends Extent {
  readonly nameEnd: number;
  /** Of the parenthesis that opens its arguments. */
  readonly open: number;
}

/** The call whose name begins at an offset; undefined when none does, or it is not closed. */
export function callAt(text: string, offset: number): CallExtent | undefined {
  let depth = 0;
  let nameEnd: number | undefined;
  let open: number | undefined;
  for (const token of tokensFrom(text, offset)) {
    if (nameEnd === undefined) {
      if (token.kind !== "word" || token.start !== offset) return undefined;
      nameEnd = token.end;
      continue;
    }
    if (token.kind === "mark" && "([{".includes(token.mark)) {
      open ??= token.mark === "(" ? token.start : undefined;
      depth++;
    } else if (token.kind === "mark" && ")]}".includes(token.mark)) {
      depth--;
      if (depth < 0) return undefined;
      if (depth === 0 && open !== undefined) return { start: offset, nameEnd, open, end: token.end };
    }
    // `name.other(…)` and `name<Types>(…)` are calls too; anything else before the parenthesis is none.
    if (
      open === undefined &&
      !(token.kind === "word" || (token.kind === "mark" && ".<>,?[]|".includes(token.mark)))
    ) {
      return undefined;
    }
  }
  return undefined;
}

/** What a place without a length covers: a call on one line, else the word or quoted text there, else one sign. */
export function extentAt(text: string, offset: number): Extent {
  const call = callAt(text, offset);
  if (call) {
    const isOnOneLine = !text.slice(call.start, call.end).includes("\n");
    return { start: offset, end: isOnOneLine ? call.end : call.nameEnd };
  }
  const [token] = tokensFrom(text, offset);
  if (!token || token.start !== offset) return { start: offset, end: offset };
  const lineEnd = text.indexOf("\n", offset);
  return { start: offset, end: lineEnd < 0 ? token.end : Math.min(token.end, lineEnd) };
}
