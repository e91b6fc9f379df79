import { callAt, type Extent } from "../../callExtent";
import { type Argument, argumentsOf, type Property, propertiesOf } from "../../designText";
import { tokensFrom } from "../../designTokens";
import type { TextChange } from "../../textChange";

/** An option in a call, and the properties among which it stands. */
export interface FoundOption {
  readonly property: Property;
  readonly siblings: readonly Property[];
}

/**
 * The options of a name in the call at an offset, also in objects within its arguments, such as `point` in
 * `tip: { point: 3 }`; not those of calls within it.
 */
export function optionsNamed(text: string, offset: number, name: string): FoundOption[] {
  const call = callAt(text, offset);
  if (!call) return [];
  const found: FoundOption[] = [];
  const look = (value: Argument) => {
    if (text[value.start] !== "{") return;
    const siblings = propertiesOf(text, value.start);
    for (const property of siblings) {
      if (property.name === name) found.push({ property, siblings });
      if (property.kind === "value") look({ start: property.valueStart, end: property.valueEnd });
    }
  };
  for (const argument of argumentsOf(text, call.open)) look(argument);
  return found;
}

/** Quoted texts within a stretch that say exactly this. */
export function quotedIn(text: string, { start, end }: Extent, said: string): Extent[] {
  const found: Extent[] = [];
  for (const token of tokensFrom(text, start)) {
    if (token.start >= end) break;
    if (token.kind === "string" && text.slice(token.start + 1, token.end - 1) === said) {
      found.push({ start: token.start + 1, end: token.end - 1 });
    }
  }
  return found;
}

/** Takes an option away, with the comma that parts it from the others. */
export function removal({ property, siblings }: FoundOption): TextChange {
  const index = siblings.indexOf(property);
  const next = siblings[index + 1];
  const before = siblings[index - 1];
  const end = endOf(property);
  if (next) return { start: property.start, end: next.start, text: "" };
  return before ? { start: endOf(before), end, text: "" } : { start: property.start, end, text: "" };
}

const endOf = ({ kind, nameEnd, valueEnd }: Property): number => (kind === "shorthand" ? nameEnd : valueEnd);
