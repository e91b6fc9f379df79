import { make, setAttribute } from "../../preview/panel/dom";
import { type ColumnName, columnNames, columns, type Sorting } from "./columns";
import { sign } from "./signs";

/** The head of the table: a button a column that can be sorted by. */
export function makeTableHead(sortBy: (column: ColumnName) => void): {
  readonly element: HTMLTableSectionElement;
  update(sorting: Sorting | undefined): void;
} {
  const heads = columnNames.map((column) => {
    const { title, help } = columns[column];
    const button = make("button", { class: "sort", title: help, attributes: { type: "button" } }, title);
    const arrow = make("span", { class: "sort-sign" });
    button.append(arrow);
    button.addEventListener("click", () => sortBy(column));
    const head = make("th", { class: `cell-${column}`, attributes: { scope: "col" } }, button);
    return { column, head, arrow };
  });
  const plainHead = (text: string, name: string) =>
    make("th", { class: `cell-${name} plain-head`, text, attributes: { scope: "col" } });
  const element = make(
    "thead",
    {},
    make(
      "tr",
      {},
      plainHead("Picture", "picture"),
      ...heads.map(({ head }) => head),
      plainHead("What changed", "changed"),
    ),
  );
  return {
    element,
    update(sorting) {
      for (const { column, head, arrow } of heads) {
        const way = sorting?.column === column ? (sorting.isDescending ? "descending" : "ascending") : "none";
        if (head.getAttribute("aria-sort") === way) continue;
        setAttribute(head, "aria-sort", way);
        arrow.replaceChildren(...(way === "none" ? [] : [sign(way === "ascending" ? "up" : "down")]));
      }
    },
  };
}
