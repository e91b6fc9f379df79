import { type HeadpieceText, type Property, quotedText } from "./designText";
import type { TextChange } from "./textChange";

/** Properties of a headpiece in the order in which they are usually written. */
const order: readonly string[] = ["name", "wearer", "printer", "material", "print"];

/** The change that gives a headpiece one more property, after those that usually stand before it. */
export function insertedProperty(text: string, call: HeadpieceText, name: string, value: string): TextChange {
  const { properties, open } = call;
  const earlier = order.slice(0, order.indexOf(name));
  const after = properties.filter((one) => earlier.includes(one.name)).at(-1);
  const written = `${name}: ${value}`;
  if (after) {
    return { start: after.valueEnd, end: after.valueEnd, text: `,${gapBefore(text, after)}${written}` };
  }
  const [first] = properties;
  const gap = first ? gapBefore(text, first) : " ";
  return { start: open + 1, end: open + 1, text: `${gap}${written}${first ? "," : " "}` };
}

/** The quotation mark that the headpiece's name is written with. */
export function usualQuote(text: string, { properties }: HeadpieceText): string {
  const name = properties.find((property) => property.name === "name");
  return (name && quoteOf(text, name)) ?? '"';
}

/** The line break and indentation that stand before a property, one space where it shares its line. */
function gapBefore(text: string, { start }: Property): string {
  return /(?:\r?\n)[ \t]*$/.exec(text.slice(0, start))?.[0] ?? " ";
}

/** The quotation mark of a plainly quoted value. */
export const quoteOf = (text: string, property: Property): string | undefined =>
  property.kind === "value" && quotedText(text, property) !== undefined
    ? text[property.valueStart].replace("`", '"')
    : undefined;

export const quoted = (value: string, quote: string): string =>
  `${quote}${value.replace(/[\\"']/g, (sign) => (sign === "\\" || sign === quote ? `\\${sign}` : sign))}${quote}`;
