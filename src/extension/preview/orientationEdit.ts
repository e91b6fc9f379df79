import type { PlanOrientation } from "../../preview/protocol";
import { findHeadpiece, propertiesOf } from "../designText";
import { insertedProperty, quoted, quoteOf, usualQuote } from "../headpieceEdits";
import type { TextChange } from "../textChange";

/**
 * The change that makes a design say which way up it is printed; undefined where its text cannot be changed with
 * certainty: no closed `headpiece({ … })`, or a `print` that is computed.
 */
export function orientationEdit(
  text: string,
  orientation: PlanOrientation["orientation"],
): TextChange | undefined {
  const call = findHeadpiece(text);
  if (call?.close === undefined) return undefined;
  const written = orientationText(orientation, usualQuote(text, call));
  const print = call.properties.find(({ name }) => name === "print");
  if (!print) return insertedProperty(text, call, "print", `{ orientation: ${written} }`);
  if (print.kind !== "value") return undefined;
  const { valueStart, valueEnd } = print;
  const quote = quoteOf(text, print);
  if (quote) {
    // A file of print settings stays, and this goes before it.
    const file = text.slice(valueStart, valueEnd);
    return { start: valueStart, end: valueEnd, text: `{ file: ${file}, orientation: ${written} }` };
  }
  if (text[valueStart] !== "{" || text[valueEnd - 1] !== "}") return undefined;
  const properties = propertiesOf(text, valueStart);
  const present = properties.find(({ name }) => name === "orientation");
  if (present) {
    if (present.kind !== "value") return undefined;
    return { start: present.valueStart, end: present.valueEnd, text: written };
  }
  const last = properties.at(-1);
  if (!last) return { start: valueStart, end: valueEnd, text: `{ orientation: ${written} }` };
  return { start: last.valueEnd, end: last.valueEnd, text: `, orientation: ${written}` };
}

function orientationText(orientation: PlanOrientation["orientation"], quote: string): string {
  if (orientation === "as designed") return quoted(orientation, quote);
  const { tilt, towards, turn } = orientation;
  const angles = { tilt, towards, turn };
  const told = Object.entries(angles).filter(([name, angle]) => name === "tilt" || angle !== 0);
  return `{ ${told.map(([name, angle]) => `${name}: ${angle}`).join(", ")} }`;
}
