import type { RowFigures, TableMessage, ToRefitTable } from "./protocol";

/** All that the page was told and shows. */
export interface ShownState {
  readonly table?: TableMessage;
  /** By key, of the rows that are in the table. */
  readonly figures: ReadonlyMap<string, RowFigures>;
  readonly notice?: Extract<ToRefitTable, { kind: "notice" }>;
}

export const nothingShown: ShownState = { figures: new Map() };

/** The state after a message. A row keeps its figures until it gets others or leaves the table. */
export function receive(before: ShownState, message: ToRefitTable): ShownState {
  switch (message.kind) {
    case "notice":
      return { ...before, notice: message };
    case "row": {
      const figures = new Map(before.figures).set(message.key, message.figures);
      return { ...before, figures };
    }
    case "table": {
      const { notice: _, ...others } = before;
      const keys = new Set(message.groups.flatMap(({ rows }) => rows.map(({ key }) => key)));
      const figures = new Map([...before.figures].filter(([key]) => keys.has(key)));
      return { ...others, table: message, figures };
    }
  }
}
