import type { Localiser } from "../../src/extension/localiser";

/** English as it stands, with the values filled in. */
export const plainText: Localiser = {
  t: (message, ...values) => message.replace(/\{(\d+)\}/g, (_, index) => String(values[Number(index)])),
};

/** A text with its changes made. */
export function changed(
  text: string,
  changes: readonly { readonly start: number; readonly end: number; readonly text: string }[],
): string {
  return [...changes]
    .sort((a, b) => b.start - a.start)
    .reduce((whole, { start, end, text: part }) => whole.slice(0, start) + part + whole.slice(end), text);
}
