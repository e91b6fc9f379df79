import "./measuringGuide.css";
import { makeSpeech } from "../../preview/panel/speech";
import { GuideView } from "./guideView";
import type { FromGuide } from "./protocol";
import { readToGuide } from "./protocolChecks";

/** The editor's side of a webview, as VS Code gives it to the page. */
interface EditorApi {
  postMessage(message: unknown): void;
  getState(): unknown;
  setState(state: unknown): void;
}

declare function acquireVsCodeApi(): EditorApi;

const editor = acquireVsCodeApi();
const post = (message: FromGuide) => editor.postMessage(message);

/** A fault of the page itself is told once for each text. */
const toldFaults = new Set<string>();
function tellFault(text: string): void {
  if (toldFaults.has(text) || toldFaults.size > 20) return;
  toldFaults.add(text);
  post({ kind: "fault", text });
}
window.addEventListener("error", (event) => tellFault(event.message));
window.addEventListener("unhandledrejection", (event) => tellFault(String(event.reason)));

const guide = new GuideView(
  document.getElementById("guide") as HTMLElement,
  {
    post,
    get kept() {
      return editor.getState();
    },
    keep: (state) => editor.setState(state),
  },
  makeSpeech(document.getElementById("spoken") as HTMLElement),
);

window.addEventListener("message", (event: MessageEvent<unknown>) => {
  const message = readToGuide(event.data);
  if (message !== undefined) guide.receive(message);
  else tellFault("A message was not understood.");
});

post({ kind: "ready" });
