import { posix } from "node:path";
import type { PartyKind } from "../designState";
import { findHeadpiece, quotedText } from "../designText";

export const partyKinds: readonly PartyKind[] = ["wearer", "printer", "material", "print"];

/** Files that a design names, as it writes them. */
export type NamedParties = Readonly<Partial<Record<PartyKind, string>>>;

/** The wearer, printer, material and print settings that the text of a design names, without running it. */
export function namedParties(text: string): NamedParties {
  const call = findHeadpiece(text);
  const named: Partial<Record<PartyKind, string>> = {};
  for (const property of call?.properties ?? []) {
    const kind = partyKinds.find((one) => one === property.name);
    const name = kind && property.kind === "value" ? quotedText(text, property) : undefined;
    if (kind && name) named[kind] = name;
  }
  return named;
}

/** The path (with slashes) of a file that a design at `design` names. */
export const pathOfNamed = (design: string, named: string): string =>
  posix.resolve(posix.dirname(design), named.replaceAll("\\", "/"));

/** How a design at `design` names a file: relative, with slashes on every system. */
export const nameOfPath = (design: string, file: string): string =>
  posix.relative(posix.dirname(design), file);
