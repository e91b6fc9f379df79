import type { PartyKind } from "../designState";
import { findHeadpiece } from "../designText";
import { insertedProperty, quoted, quoteOf, usualQuote } from "../headpieceEdits";
import type { TextChange } from "../textChange";

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
  return insertedProperty(text, call, kind, quoted(named, usualQuote(text, call)));
}
