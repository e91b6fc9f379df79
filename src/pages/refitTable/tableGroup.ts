import { make, setText } from "../../preview/panel/dom";
import { type Sorting, sorted } from "./columns";
import type { PageDeeds } from "./pageDeeds";
import type { RowGroup, RunPhase } from "./protocol";
import type { ShownState } from "./shownState";
import { columnCount, makeTableRow, type TableRow } from "./tableRow";

/** What the rows of a design show. */
export interface GroupLook {
  readonly group: RowGroup;
  readonly figures: ShownState["figures"];
  readonly phase: RunPhase;
  readonly sorting: Sorting | undefined;
  readonly open: ReadonlySet<string>;
  /** Its design is named over its rows. */
  readonly isNamed: boolean;
}

/** The rows of one design. */
export interface TableGroup {
  readonly element: HTMLTableSectionElement;
  update(look: GroupLook): void;
}

export function makeTableGroup(deeds: PageDeeds): TableGroup {
  const title = make("th", { attributes: { scope: "rowgroup", colspan: columnCount } });
  const head = make("tr", { class: "group-head" }, title);
  const element = make("tbody", {}, head);
  const rows = new Map<string, TableRow>();
  return {
    element,
    update({ group, figures, phase, sorting, open, isNamed }) {
      const named = group.rows.map(({ key }) => figures.get(key)?.headpiece).find((name) => !!name);
      setText(title, named === undefined ? group.label : `${named} · ${group.label}`);
      head.hidden = !isNamed;
      const keys = new Set(group.rows.map(({ key }) => key));
      for (const [key, { row, detail }] of rows) {
        if (keys.has(key)) continue;
        row.remove();
        detail.remove();
        rows.delete(key);
      }
      const order = sorted(group.rows, sorting, ({ key }) => figures.get(key));
      const nodes: Node[] = [head];
      for (const place of order) {
        let row = rows.get(place.key);
        if (!row) {
          row = makeTableRow(place.key, deeds);
          rows.set(place.key, row);
        }
        row.update({ place, figures: figures.get(place.key), phase, isOpen: open.has(place.key) });
        nodes.push(row.row, row.detail);
      }
      arrange(element, nodes);
    },
  };
}

/** Puts nodes into this order and moves none that stands right; what has the focus keeps it. */
export function arrange(parent: Element, nodes: readonly Node[]): void {
  const focused = document.activeElement;
  let next = parent.firstChild;
  let isMoved = false;
  for (const node of nodes) {
    if (node === next) next = next.nextSibling;
    else {
      parent.insertBefore(node, next);
      isMoved = true;
    }
  }
  while (next) {
    const gone = next;
    next = next.nextSibling;
    gone.remove();
  }
  if (isMoved && focused instanceof HTMLElement && parent.contains(focused)) {
    focused.focus({ preventScroll: true });
  }
}
