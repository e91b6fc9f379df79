import type { Message, Place } from "../../message";
import { make } from "./dom";
import { icon } from "./icons";
import { placeText, wholePlace } from "./textEquivalent";

const severityWords = { error: "Error", warning: "Warning", note: "Note" } as const;

/**
 * A message as a row: sign, sentence, what to do, and the places it names as links. `goTo` shows a place in the editor.
 */
export function makeMessageRow(message: Message, goTo: (place: Place) => void): HTMLElement {
  const place = wholePlace(message);
  const text = place === undefined ? make("span", { text: message.text }) : link(message.text, place, goTo);
  text.classList.add("message-text");
  if (place !== undefined) text.append(" ", make("span", { class: "message-place", text: placeText(place) }));
  return make(
    "div",
    { class: `message is-${message.severity}` },
    icon(message.severity),
    make(
      "div",
      { class: "message-body" },
      make("span", { class: "visually-hidden", text: `${severityWords[message.severity]}: ` }),
      text,
      message.suggestion !== undefined &&
        make("p", { class: "message-suggestion", text: message.suggestion }),
      ...(message.notes ?? []).map((note) => {
        const at = wholePlace(note);
        return make(
          "p",
          { class: "message-note" },
          note.text,
          at !== undefined && " ",
          at !== undefined && link(placeText(at) ?? "", at, goTo),
        );
      }),
    ),
  );
}

function link(text: string, place: Place, goTo: (place: Place) => void): HTMLElement {
  const button = make("button", {
    class: "link",
    text,
    title: `Go to ${placeText(place)}`,
    attributes: { type: "button", "data-place": placeText(place) },
  });
  button.addEventListener("click", () => goTo(place));
  return button;
}
