import "./preview.css";
import { Preview } from "./panel/preview";
import { makeSpeech } from "./panel/speech";
import type { FromPreview } from "./protocol";
import { readToPreview } from "./protocolChecks";
import { makePieceView } from "./scene/pieceScene";

/** The editor's side of a webview, as VS Code gives it to the page. */
interface EditorApi {
  postMessage(message: unknown): void;
  getState(): unknown;
  setState(state: unknown): void;
}

declare function acquireVsCodeApi(): EditorApi;

const editor = acquireVsCodeApi();
const post = (message: FromPreview) => editor.postMessage(message);
const root = document.getElementById("preview") as HTMLElement;

/** A fault of the view itself is told once for each text: it may come with every frame. */
const toldFaults = new Set<string>();
function tellFault(text: string): void {
  if (toldFaults.has(text) || toldFaults.size > 20) return;
  toldFaults.add(text);
  post({ kind: "fault", text });
}
window.addEventListener("error", (event) => tellFault(event.message));
window.addEventListener("unhandledrejection", (event) => tellFault(String(event.reason)));

const preview = new Preview(
  root,
  { post, kept: editor.getState(), keep: (state) => editor.setState(state) },
  makeSpeech(document.getElementById("spoken") as HTMLElement),
  makePieceView,
);

window.addEventListener("message", (event: MessageEvent<unknown>) => {
  const message = readToPreview(event.data);
  if (message !== undefined) preview.receive(message);
  else tellFault(`A message was not understood: ${kindOf(event.data)}`);
});

/** What a message says that it is, whatever else is wrong with it. */
function kindOf(data: unknown): string {
  const kind = typeof data === "object" && data !== null && "kind" in data ? data.kind : undefined;
  return typeof kind === "string" ? kind.slice(0, 40) : typeof data;
}

// The theme's colours are variables of the page and a class of its body: the editor changes both in place.
const themes = new MutationObserver(() => preview.view?.refreshTheme());
themes.observe(document.documentElement, { attributeFilter: ["style", "class"] });
themes.observe(document.body, { attributeFilter: ["class", "data-vscode-theme-id"] });

post({ kind: "ready", webgl: preview.view !== undefined });
