import type { Localiser } from "../../src/extension/localiser";

/** Texts as they stand in the source, filled in as the editor's own localiser does. */
export const plainTexts: Localiser = {
  t: (message, ...values) =>
    message.replace(/\{(\d+)\}/g, (whole, index) => String(values[Number(index)] ?? whole)),
};
