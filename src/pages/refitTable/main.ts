import "./refitTable.css";
import { makeSpeech } from "../../preview/panel/speech";
import type { FromRefitTable } from "./protocol";
import { readToRefitTable } from "./protocolChecks";
import { RefitTable } from "./refitTable";

/** The editor's side of a webview, as VS Code gives it to the page. */
interface EditorApi {
  postMessage(message: unknown): void;
  getState(): unknown;
  setState(state: unknown): void;
}

declare function acquireVsCodeApi(): EditorApi;

const editor = acquireVsCodeApi();
const post = (message: FromRefitTable) => editor.postMessage(message);

/** A fault of the page itself is told once for each text. */
const toldFaults = new Set<string>();
function tellFault(text: string): void {
  if (toldFaults.has(text) || toldFaults.size > 20) return;
  toldFaults.add(text);
  post({ kind: "fault", text });
}
window.addEventListener("error", (event) => tellFault(event.message));
window.addEventListener("unhandledrejection", (event) => tellFault(String(event.reason)));

const table = new RefitTable(
  document.getElementById("refit") as HTMLElement,
  { post, kept: editor.getState(), keep: (state) => editor.setState(state) },
  makeSpeech(document.getElementById("spoken") as HTMLElement),
);

window.addEventListener("message", (event: MessageEvent<unknown>) => {
  const message = readToRefitTable(event.data);
  if (message !== undefined) table.receive(message);
  else tellFault("A message was not understood.");
});

post({ kind: "ready" });
