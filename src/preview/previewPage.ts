import { type WebviewPageParts, webviewPage } from "../webviewPage";

/** The preview's HTML: it may also load pictures made in the page. */
export const previewPage = (parts: WebviewPageParts): string =>
  webviewPage(parts, {
    title: "Headpiece preview",
    root: "preview",
    policy: (source) => [`img-src ${source} blob: data:`, `font-src ${source}`],
    hasOwnMenus: true,
  });
