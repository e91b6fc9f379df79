import type { Message, Place } from "../../message";
import { make } from "../../preview/panel/dom";
import { sign } from "./signs";

const severities = {
  error: { word: "Error", sign: "cross" },
  warning: { word: "Warning", sign: "warning" },
  note: { word: "Note", sign: "note" },
} as const;

/** A message as a row: sign, sentence, what to do. The sentence leads to its place, where there is one. */
export function makeMessageRow(message: Message, goTo: (place: Place) => void): HTMLElement {
  const { severity, text, suggestion, notes = [] } = message;
  const told = severities[severity];
  return make(
    "li",
    { class: `message is-${severity}` },
    sign(told.sign),
    make(
      "div",
      {},
      make("span", { class: "visually-hidden", text: `${told.word}: ` }),
      placeLink(text, message, goTo),
      suggestion !== undefined && make("p", { class: "quiet", text: suggestion }),
      ...notes.map((note) => make("p", { class: "quiet" }, placeLink(note.text, note, goTo))),
    ),
  );
}

/** A text that leads to a place in a file, or the text alone where there is none. */
export function placeLink(text: string, at: Partial<Place>, goTo: (place: Place) => void): HTMLElement {
  const { file, line, column = 1 } = at;
  if (file === undefined || file === "" || line === undefined) return make("span", { text });
  const where = `${file.slice(Math.max(file.lastIndexOf("/"), file.lastIndexOf("\\")) + 1)}:${line}`;
  const link = make(
    "button",
    { class: "link", title: `Go to ${where}`, attributes: { type: "button" } },
    text,
    " ",
    make("span", { class: "place", text: where }),
  );
  link.addEventListener("click", () => goTo({ file, line, column }));
  return link;
}
