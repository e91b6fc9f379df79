import type { ShownState } from "./shownState";

/**
 * The model that is shown is older than the text. Not while a build goes on: the strip says that, and the picture
 * does not fade and clear with every save.
 */
export const isModelOld = (shown: ShownState): boolean =>
  shown.build?.isOutdated === true && shown.build.phase !== "building" && hasModel(shown);

/** There is something to look at: the model, or its drawing sheet. */
const hasModel = ({ picture, sheet }: ShownState): boolean => (picture ?? sheet) !== undefined;
