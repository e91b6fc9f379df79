import "./refitTable.css";
import { takeEditorSide } from "../../preview/panel/editorSide";
import { makeSpeech } from "../../preview/panel/speech";
import type { FromRefitTable } from "./protocol";
import { readToRefitTable } from "./protocolChecks";
import { RefitTable } from "./refitTable";

const editor = takeEditorSide<FromRefitTable>();

const table = new RefitTable(
  document.getElementById("refit") as HTMLElement,
  editor,
  makeSpeech(document.getElementById("spoken") as HTMLElement),
);

window.addEventListener("message", (event: MessageEvent<unknown>) => {
  const message = readToRefitTable(event.data);
  if (message !== undefined) table.receive(message);
  else editor.tellFault("A message was not understood.");
});

editor.post({ kind: "ready" });
