import { type WebviewPageParts, webviewPage } from "../../webviewPage";

/** The measuring guide's HTML. */
export const guidePage = (parts: WebviewPageParts): string =>
  webviewPage(parts, { title: "Measuring guide", root: "guide" });
