import "./measuringGuide.css";
import { takeEditorSide } from "../../preview/panel/editorSide";
import { makeSpeech } from "../../preview/panel/speech";
import { GuideView } from "./guideView";
import type { FromGuide } from "./protocol";
import { readToGuide } from "./protocolChecks";

const editor = takeEditorSide<FromGuide>();

const guide = new GuideView(
  document.getElementById("guide") as HTMLElement,
  editor,
  makeSpeech(document.getElementById("spoken") as HTMLElement),
);

window.addEventListener("message", (event: MessageEvent<unknown>) => {
  const message = readToGuide(event.data);
  if (message !== undefined) guide.receive(message);
  else editor.tellFault("A message was not understood.");
});

editor.post({ kind: "ready" });
