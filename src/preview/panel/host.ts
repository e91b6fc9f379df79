import type { FromPreview } from "../protocol";

/** What the page around the preview can do: the editor's side of the webview. */
export interface PreviewHost {
  post(message: FromPreview): void;
  /** What was kept by `keep`, before the window was reloaded or the view hidden. */
  readonly kept: unknown;
  keep(state: unknown): void;
}
