import { type WebviewPageParts, webviewPage } from "../../webviewPage";

/** The refit table's HTML: it may also load pictures made in the page. */
export const refitTablePage = (parts: WebviewPageParts): string =>
  webviewPage(parts, {
    title: "Refit",
    root: "refit",
    policy: () => ["img-src blob:"],
    hasOwnMenus: true,
  });
