import type { PartyKind } from "../designState";
import { findHeadpiece, type HeadpieceText, type Property, quotedText } from "../designText";

/** A change of a text: what stands from `start` to `end` (offsets) becomes `text`. */
export interface TextChange {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** Properties of a headpiece in the order in which they are usually written. */
const order: readonly string[] = ["name", "wearer", "printer", "material", "print"];

/**
 * The change that makes a design name a file; undefined where its text cannot be changed with certainty: no closed
 * `headpiece({ … })`, or a value that is computed.
 * @param named the file as the design is to name it: relative, with slashes
 */
export function partyEdit(text: string, kind: PartyKind, named: string): TextChange | undefined {
  const call = findHeadpiece(text);
  if (call?.close === undefined) return undefined;
  const present = call.properties.find(({ name }) => name === kind);
  if (present) {
    const quote = quoteOf(text, present);
    if (!quote) return undefined;
    return { start: present.valueStart, end: present.valueEnd, text: quoted(named, quote) };
  }
  return insertion(text, kind, named, call);
}

function insertion(text: string, kind: PartyKind, named: string, call: HeadpieceText): TextChange {
  const { properties, open } = call;
  const earlier = order.slice(0, order.indexOf(kind));
  const after = properties.filter(({ name }) => earlier.includes(name)).at(-1);
  const name = properties.find((property) => property.name === "name");
  const written = `${kind}: ${quoted(named, (name && quoteOf(text, name)) ?? '"')}`;
  if (after) {
    return { start: after.valueEnd, end: after.valueEnd, text: `,${gapBefore(text, after)}${written}` };
  }
  const [first] = properties;
  const gap = first ? gapBefore(text, first) : " ";
  return { start: open + 1, end: open + 1, text: `${gap}${written}${first ? "," : " "}` };
}

/** The line break and indentation that stand before a property, one space where it shares its line. */
function gapBefore(text: string, { start }: Property): string {
  return /(?:\r?\n)[ \t]*$/.exec(text.slice(0, start))?.[0] ?? " ";
}

/** The quotation mark of a plainly quoted value. */
const quoteOf = (text: string, property: Property): string | undefined =>
  property.kind === "value" && quotedText(text, property) !== undefined
    ? text[property.valueStart].replace("`", '"')
    : undefined;

const quoted = (value: string, quote: string): string =>
  `${quote}${value.replace(/[\\"']/g, (sign) => (sign === "\\" || sign === quote ? `\\${sign}` : sign))}${quote}`;
