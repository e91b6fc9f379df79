import "./preview.css";
import { takeEditorSide } from "./panel/editorSide";
import { Preview } from "./panel/preview";
import { makeSpeech } from "./panel/speech";
import type { FromPreview } from "./protocol";
import { readToPreview } from "./protocolChecks";
import { makePieceView } from "./scene/pieceScene";

const editor = takeEditorSide<FromPreview>();
const root = document.getElementById("preview") as HTMLElement;

const preview = new Preview(
  root,
  editor,
  makeSpeech(document.getElementById("spoken") as HTMLElement),
  makePieceView,
);

window.addEventListener("message", (event: MessageEvent<unknown>) => {
  const message = readToPreview(event.data);
  if (message !== undefined) preview.receive(message);
  else editor.tellFault(`A message was not understood: ${kindOf(event.data)}`);
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

editor.post({ kind: "ready", webgl: preview.view !== undefined });
