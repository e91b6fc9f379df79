const space = 0x20;
const newline = 0x0a;
const carriageReturn = 0x0d;
const backslash = 0x5c;

/** Powers of ten that a double holds exactly. */
const exactPowers = Array.from({ length: 23 }, (_, i) => 10 ** i);
const mostExactDigits = 15;
const decimal = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

/**
 * Goes through a text word by word over its bytes, without making a string of it, and knows the line. Words are
 * parted by blanks and control characters; lines end with LF, CR or both.
 */
export class TextScanner {
  readonly #bytes: Uint8Array;
  /** Where the next word is looked for. */
  #at: number;
  #line = 1;
  #start = 0;
  #end = 0;

  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
    // The mark that some writers put before UTF-8.
    this.#at = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  }

  /** The line of the last word, or of the end, from 1. */
  get line(): number {
    return this.#line;
  }

  /** Goes to the next word on any line; false at the end. */
  next(): boolean {
    const bytes = this.#bytes;
    let at = this.#at;
    while (at < bytes.length && bytes[at] <= space) {
      if (this.#endsLine(at)) this.#line++;
      at++;
    }
    return this.#wordAt(at);
  }

  /** Goes to the next word of this line; false at its end. A backslash before the end joins the next line to it. */
  nextOnLine(): boolean {
    const bytes = this.#bytes;
    let at = this.#at;
    for (; at < bytes.length; at++) {
      const byte = bytes[at];
      if (byte === newline || byte === carriageReturn) break;
      if (byte === backslash) {
        const after = bytes[at + 1] === carriageReturn && bytes[at + 2] === newline ? at + 2 : at + 1;
        if (bytes[after] !== newline && bytes[after] !== carriageReturn) return this.#wordAt(at);
        this.#line++;
        at = after;
        continue;
      }
      if (byte > space) return this.#wordAt(at);
    }
    this.#at = at;
    return false;
  }

  /** Leaves the rest of the line out. */
  skipLine(): void {
    const bytes = this.#bytes;
    let at = this.#at;
    while (at < bytes.length && bytes[at] !== newline && bytes[at] !== carriageReturn) at++;
    this.#at = at;
  }

  /** Whether the word is this one, in capitals or not; `word` in small letters. */
  is(word: string): boolean {
    if (this.#end - this.#start !== word.length) return false;
    for (let i = 0; i < word.length; i++) {
      const byte = this.#bytes[this.#start + i];
      if ((byte >= 0x41 && byte <= 0x5a ? byte | 0x20 : byte) !== word.charCodeAt(i)) return false;
    }
    return true;
  }

  /** The word as a decimal number, NaN when it is none. */
  number(): number {
    return this.#numberOf(this.#start, this.#end);
  }

  /** The whole number that the word has up to a slash, NaN when there is none. */
  indexBeforeSlash(): number {
    const bytes = this.#bytes;
    const negative = bytes[this.#start] === 0x2d;
    let at = negative ? this.#start + 1 : this.#start;
    let value = 0;
    const first = at;
    for (; at < this.#end && bytes[at] !== 0x2f; at++) {
      const digit = bytes[at] - 0x30;
      if (digit < 0 || digit > 9) return Number.NaN;
      value = 10 * value + digit;
    }
    if (at === first) return Number.NaN;
    return negative ? -value : value;
  }

  /** The word for a message: its beginning, with what cannot be printed left out. */
  shown(): string {
    const most = 24;
    const cut = this.#end - this.#start > most;
    const text = this.#textOf(this.#start, Math.min(this.#end, this.#start + most)).replace(
      /[^\x21-\x7e]/g,
      "·",
    );
    return `"${text}${cut ? "…" : ""}"`;
  }

  #endsLine(at: number): boolean {
    const byte = this.#bytes[at];
    return byte === newline || (byte === carriageReturn && this.#bytes[at + 1] !== newline);
  }

  #wordAt(start: number): boolean {
    const bytes = this.#bytes;
    let end = start;
    while (end < bytes.length && bytes[end] > space) end++;
    // A line that is joined to the next may have its backslash right after the word.
    if (
      end - start > 1 &&
      bytes[end - 1] === backslash &&
      (bytes[end] === newline || bytes[end] === carriageReturn)
    ) {
      end--;
    }
    this.#start = start;
    this.#end = end;
    this.#at = end;
    return end > start;
  }

  #textOf(from: number, to: number): string {
    let text = "";
    for (let i = from; i < to; i++) text += String.fromCharCode(this.#bytes[i]);
    return text;
  }

  /**
   * Up to 15 digits and a power of ten up to 22 are both exact doubles, and so is one product or quotient rounded
   * once (Clinger 1990, *How to read floating point numbers accurately*); the rest is left to the language.
   */
  #numberOf(from: number, to: number): number {
    const bytes = this.#bytes;
    let at = from;
    const sign = bytes[at];
    if (sign === 0x2b || sign === 0x2d) at++;
    let value = 0;
    let digits = 0;
    let power = 0;
    let pointAt = -1;
    let any = false;
    for (; at < to; at++) {
      const byte = bytes[at];
      if (byte === 0x2e && pointAt < 0) {
        pointAt = at;
        continue;
      }
      const digit = byte - 0x30;
      if (digit < 0 || digit > 9) break;
      any = true;
      value = 10 * value + digit;
      if (value > 0) digits++;
      if (pointAt >= 0) power--;
    }
    if (!any) return Number.NaN;
    if (at < to) {
      if ((bytes[at] | 0x20) !== 0x65) return Number.NaN;
      at++;
      const down = bytes[at] === 0x2d;
      if (down || bytes[at] === 0x2b) at++;
      if (at >= to) return Number.NaN;
      let exponent = 0;
      for (; at < to; at++) {
        const digit = bytes[at] - 0x30;
        if (digit < 0 || digit > 9) return Number.NaN;
        exponent = Math.min(10 * exponent + digit, 100_000);
      }
      power += down ? -exponent : exponent;
    }
    if (digits <= mostExactDigits && power >= -22 && power <= 22) {
      const size = power < 0 ? value / exactPowers[-power] : value * exactPowers[power];
      return sign === 0x2d ? -size : size;
    }
    const text = this.#textOf(from, to);
    return decimal.test(text) ? Number(text) : Number.NaN;
  }
}
