import { make } from "../../preview/panel/dom";
import { makeMessageRow } from "./messageRow";
import type { PageDeeds } from "./pageDeeds";
import type { RowFigures } from "./protocol";
import { errorsFirst, girthText } from "./rowWords";

/** What unfolds below a row: all reasons, all that changed, where it is printed, all messages. */
export function rowDetail(figures: RowFigures, deeds: Pick<PageDeeds, "goTo">): HTMLElement {
  const { reasons, changes, plate, girthPlay, girthEase, wayOn, messages } = figures;
  const facts = [
    ...(girthPlay !== undefined && girthEase !== undefined
      ? [`${girthText(girthPlay)} of girth to spare; the ease asks for ${girthText(girthEase)}`]
      : []),
    ...(wayOn !== undefined ? [`Goes on: ${wayOn}`] : []),
    ...(plate ? [[plate.printer, plate.summary].filter((text) => text !== "").join(": ")] : []),
  ];
  return make(
    "div",
    { class: "detail-parts" },
    listOf("Reasons", reasons),
    changes && listOf("Against the first row", changes.all),
    listOf("Fit and plate", facts),
    messages.length > 0 &&
      section(
        "Messages",
        ...errorsFirst(messages).map((message) => makeMessageRow(message, (place) => deeds.goTo(place))),
      ),
  );
}

const listOf = (title: string, texts: readonly string[]): HTMLElement | undefined =>
  texts.length === 0 ? undefined : section(title, ...texts.map((text) => make("li", { text })));

function section(title: string, ...rows: readonly HTMLElement[]): HTMLElement {
  return make(
    "section",
    { class: "detail-part" },
    make("h2", { text: title }),
    make("ul", { attributes: { role: "list" } }, ...rows),
  );
}
