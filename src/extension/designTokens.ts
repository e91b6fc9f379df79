/** A word or sign of a TypeScript text; offsets into it. Comments and space are no tokens. */
export type Token = { readonly start: number; readonly end: number } & (
  | { readonly kind: "word"; readonly word: string }
  | { readonly kind: "mark"; readonly mark: string }
  /** Quoted text, templates with all that is filled in. */
  | { readonly kind: "string" }
  | { readonly kind: "number" }
  | { readonly kind: "pattern" }
);

/** Words after which a slash begins a regular expression, as after a sign. */
const beforeValue = new Set([
  "return",
  "typeof",
  "case",
  "in",
  "of",
  "delete",
  "void",
  "throw",
  "new",
  "do",
  "else",
  "instanceof",
  "await",
  "yield",
  "default",
]);

const space = /\s+|\/\/[^\n]*|\/\*[\s\S]*?(?:\*\/|$)/y;
const word = /[\p{ID_Start}$_#][\p{ID_Continue}$\u200c\u200d]*/uy;
const number = /(?:0[xob][\da-f_]+|(?:\d[\d_]*\.?[\d_]*|\.\d[\d_]*)(?:e[+-]?\d+)?)n?/iy;
const quoted = /"(?:[^"\\\n]|\\[\s\S])*"?|'(?:[^'\\\n]|\\[\s\S])*'?/y;
const pattern = /\/(?:[^/\\[\n]|\\.|\[(?:[^\]\\\n]|\\.)*\])+\/[a-z]*/y;

const matchAt = (expression: RegExp, text: string, at: number): string | undefined => {
  expression.lastIndex = at;
  return expression.exec(text)?.[0];
};

/** The tokens of a text from an offset on, one by one. Unclosed quotes end with their line, or with the text. */
export function* tokensFrom(text: string, offset: number): Generator<Token> {
  let at = offset;
  let last: Token | undefined;
  while (at < text.length) {
    const blank = matchAt(space, text, at);
    if (blank) {
      at += blank.length;
      continue;
    }
    last = tokenAt(text, at, last);
    yield last;
    at = last.end;
  }
}

function tokenAt(text: string, start: number, last: Token | undefined): Token {
  const name = matchAt(word, text, start);
  if (name) return { kind: "word", word: name, start, end: start + name.length };
  const digits = matchAt(number, text, start);
  if (digits) return { kind: "number", start, end: start + digits.length };
  const quotation = matchAt(quoted, text, start);
  if (quotation) return { kind: "string", start, end: start + quotation.length };
  const sign = text[start];
  if (sign === "`") return { kind: "string", start, end: endOfTemplate(text, start) };
  if (sign === "/" && mayBeginValue(last)) {
    const expression = matchAt(pattern, text, start);
    if (expression) return { kind: "pattern", start, end: start + expression.length };
  }
  return { kind: "mark", mark: sign, start, end: start + 1 };
}

/** Whether a value may follow: then a slash is no division. */
function mayBeginValue(last: Token | undefined): boolean {
  if (!last) return true;
  if (last.kind === "word") return beforeValue.has(last.word);
  return last.kind === "mark" && !")]}".includes(last.mark);
}

/** Just past the backtick that closes the template at `start`. */
function endOfTemplate(text: string, start: number): number {
  let at = start + 1;
  while (at < text.length) {
    if (text[at] === "\\") at += 2;
    else if (text[at] === "`") return at + 1;
    else if (text.startsWith("${", at)) at = endOfFilling(text, at + 2);
    else at++;
  }
  return text.length;
}

/** Just past the brace that closes what is filled in from `start` on. */
function endOfFilling(text: string, start: number): number {
  let depth = 0;
  for (const token of tokensFrom(text, start)) {
    if (token.kind !== "mark") continue;
    if (token.mark === "{") depth++;
    if (token.mark === "}" && depth-- === 0) return token.end;
  }
  return text.length;
}
