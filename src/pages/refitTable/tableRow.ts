import { make, setAttribute, setText } from "../../preview/panel/dom";
import { svgPicture } from "../../preview/panel/svgPicture";
import { columnNames, columns } from "./columns";
import { placeLink } from "./messageRow";
import type { PageDeeds } from "./pageDeeds";
import type { RowFigures, RowPlace, RunPhase } from "./protocol";
import { rowDetail } from "./rowDetail";
import { errorsFirst, firstReason, stateWord, verdicts } from "./rowWords";
import { sign } from "./signs";

/** What a row shows. */
export interface RowLook {
  readonly place: RowPlace;
  readonly figures: RowFigures | undefined;
  readonly phase: RunPhase;
  readonly isOpen: boolean;
}

/** A row of the table, and below it what unfolds. */
export interface TableRow {
  readonly row: HTMLTableRowElement;
  readonly detail: HTMLTableRowElement;
  update(look: RowLook): void;
}

/** Columns whose cell is one text. */
const plain = columnNames.filter((name) => name !== "wearer" && name !== "verdict");
/** Picture, the columns, what changed. */
export const columnCount = columnNames.length + 2;

let made = 0;

/** Makes a row; `update` touches the page only where something is other than before. */
export function makeTableRow(key: string, deeds: PageDeeds): TableRow {
  const id = `row-${++made}`;
  const image = make("img", { class: "picture", attributes: { alt: "", width: 88, height: 88 } });
  const picture = svgPicture(image);
  const name = make("span", {});
  const show = make(
    "button",
    { class: "row-show link", title: "Show in the preview", attributes: { type: "button" } },
    name,
  );
  const chosen = make("span", { class: "tag", text: "in the preview" });
  const state = make("span", { class: "tag is-state" });
  const word = make("strong", {});
  const mark = make("span", { class: "verdict-sign" });
  const reason = make("div", { class: "reason" });
  const fold = make(
    "button",
    { class: "fold", attributes: { type: "button", "aria-controls": `${id}-detail` } },
    sign("fold"),
  );
  const cells = new Map(plain.map((column) => [column, make("td", { class: `cell-${column} is-figure` })]));
  const changed = make("td", { class: "cell-changed" });
  const verdictCell = make(
    "td",
    { class: "cell-verdict" },
    make("div", { class: "verdict" }, fold, mark, word),
    reason,
  );
  const row = make(
    "tr",
    { class: "row", attributes: { "data-key": key } },
    make("td", { class: "cell-picture" }, image),
    make("th", { class: "cell-wearer", attributes: { scope: "row" } }, show, chosen, state),
    verdictCell,
    ...cells.values(),
    changed,
  );
  const inside = make("td", { attributes: { colspan: columnCount } });
  const detail = make("tr", { class: "detail", id: `${id}-detail` }, inside);
  fold.addEventListener("click", () => deeds.toggle(key));
  row.addEventListener("click", ({ target }) => {
    const button = (target as Element).closest("button");
    // A click that ends the marking of text is no wish to see the preview.
    if ((button === null || button === show) && !document.getSelection()?.toString()) deeds.show(key);
  });
  row.addEventListener("keydown", (event) => {
    if (event.target !== show || event.ctrlKey || event.altKey || event.metaKey || event.shiftKey) return;
    const isOpen = fold.getAttribute("aria-expanded") === "true";
    if (event.key === (isOpen ? "ArrowLeft" : "ArrowRight") && !fold.hidden) {
      event.preventDefault();
      deeds.toggle(key);
    }
  });

  let shown: RowFigures | undefined;
  let detailOf: RowFigures | undefined;
  const showFigures = (figures: RowFigures | undefined, label: string) => {
    setText(name, figures?.wearer || label);
    if (figures === shown && word.textContent !== "") return;
    shown = figures;
    picture.show(figures?.picture);
    image.hidden = figures?.picture === undefined;
    setAttribute(image, "alt", figures ? `${figures.headpiece} on ${figures.wearer}` : "");
    const verdict = figures && verdicts[figures.verdict];
    mark.replaceChildren(...(verdict ? [sign(verdict.sign)] : []));
    setText(word, verdict?.word ?? "–");
    setAttribute(verdictCell, "data-verdict", figures?.verdict);
    reason.replaceChildren(...reasonOf(figures, deeds));
    verdictCell.title = figures?.reasons.join("\n") ?? "";
    for (const [column, cell] of cells) setCell(cell, figures && columns[column].text(figures));
    const { plate } = figures ?? {};
    cells.get("plate")!.title = plate ? `${plate.printer}: ${plate.summary}` : "";
    setAttribute(cells.get("plate")!, "data-fits", plate && String(plate.fits));
    setText(changed, figures?.changes?.short ?? "");
    changed.title = figures?.changes?.all.join("\n") ?? "";
  };
  return {
    row,
    detail,
    update({ place, figures, phase, isOpen }) {
      showFigures(figures, place.label);
      const hasDetail = figures !== undefined;
      fold.hidden = !hasDetail;
      setAttribute(fold, "aria-expanded", String(isOpen && hasDetail));
      setAttribute(fold, "aria-label", `Details of ${figures?.wearer || place.label}`);
      detail.hidden = !(isOpen && hasDetail);
      if (!detail.hidden && detailOf !== figures && figures) {
        detailOf = figures;
        inside.replaceChildren(rowDetail(figures, deeds));
      }
      const words = stateWord(place.state, phase);
      setText(state, words);
      state.hidden = words === "";
      chosen.hidden = !place.isChosen;
      setAttribute(row, "data-state", place.state);
      setAttribute(row, "aria-current", place.isChosen ? "true" : undefined);
    },
  };
}

/** What is not known is a dash for the eye, and said. */
function setCell(cell: HTMLElement, text: string | undefined): void {
  if (text !== undefined) setText(cell, text);
  else if (cell.querySelector(".visually-hidden") === null) {
    cell.replaceChildren(
      make("span", { text: "–", attributes: { "aria-hidden": "true" } }),
      make("span", { class: "visually-hidden", text: "not known" }),
    );
  }
}

function reasonOf(figures: RowFigures | undefined, deeds: PageDeeds): HTMLElement[] {
  const text = figures && firstReason(figures);
  if (!figures || text === undefined) return [];
  if (figures.verdict !== "failed") return [make("span", { text })];
  return [placeLink(text, errorsFirst(figures.messages)[0] ?? {}, (place) => deeds.goTo(place))];
}
