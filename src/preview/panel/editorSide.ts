/** The editor's side of a webview, as VS Code gives it to the page. */
interface EditorApi {
  postMessage(message: unknown): void;
  getState(): unknown;
  setState(state: unknown): void;
}

declare function acquireVsCodeApi(): EditorApi;

/** What a page has of the editor around it. */
export interface EditorSide<From> {
  post(message: From): void;
  /** What is kept now: by this page, or before the window was reloaded or the view hidden. */
  readonly kept: unknown;
  keep(state: unknown): void;
  /** A fault of the page itself is told once for each text: it may come with every frame. */
  tellFault(text: string): void;
}

/** Takes the editor's side, which a page can do once, and tells it every fault of the page. */
export function takeEditorSide<From>(): EditorSide<From | { readonly kind: "fault"; readonly text: string }> {
  const editor = acquireVsCodeApi();
  const told = new Set<string>();
  const side: EditorSide<From | { readonly kind: "fault"; readonly text: string }> = {
    post: (message) => editor.postMessage(message),
    get kept() {
      return editor.getState();
    },
    keep: (state) => editor.setState(state),
    tellFault(text) {
      if (told.has(text) || told.size > 20) return;
      told.add(text);
      side.post({ kind: "fault", text });
    },
  };
  window.addEventListener("error", (event) => side.tellFault(event.message));
  window.addEventListener("unhandledrejection", (event) => side.tellFault(String(event.reason)));
  return side;
}
