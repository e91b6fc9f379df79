/** Kind of the webview panels, as the manifest names it. */
export const previewType = "anadem.preview";
