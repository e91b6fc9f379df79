/** Lines and columns of a text and back. Lines and columns count from 1, as in messages; offsets from 0. */

/** The offset of a place, brought into the text where it lies outside. */
export function offsetAt(text: string, line: number, column: number): number {
  let start = 0;
  for (let before = 1; before < line; before++) {
    const end = text.indexOf("\n", start);
    if (end < 0) return text.length;
    start = end + 1;
  }
  const end = text.indexOf("\n", start);
  return Math.min(start + column - 1, end < 0 ? text.length : end);
}

export function placeAt(text: string, offset: number): { line: number; column: number } {
  const start = text.lastIndexOf("\n", offset - 1) + 1;
  let line = 1;
  for (let at = text.indexOf("\n"); at >= 0 && at < start; at = text.indexOf("\n", at + 1)) line++;
  return { line, column: offset - start + 1 };
}
