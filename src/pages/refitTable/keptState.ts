import { columnNames, type Sorting } from "./columns";
import type { KeptTable } from "./protocolChecks";
import { readKeptTable } from "./protocolChecks";

/** What outlives a reload: what the table is of, and how it was looked at. No figures. */
export interface KeptState {
  readonly table?: KeptTable;
  readonly sorting?: Sorting;
  /** Keys of the rows that are unfolded. */
  readonly open: readonly string[];
  /** Of the table, CSS pixels. */
  readonly scroll: number;
}

export const usualState: KeptState = { open: [], scroll: 0 };

/** The state as it was kept, with what is missing or unreadable as usual. */
export function readKeptState(value: unknown): KeptState {
  if (typeof value !== "object" || value === null) return usualState;
  const { sorting, open, scroll } = value as Record<string, unknown>;
  const table = readKeptTable(value);
  const order = readSorting(sorting);
  return {
    ...(table && { table }),
    ...(order && { sorting: order }),
    open: Array.isArray(open) ? open.filter((key): key is string => typeof key === "string") : [],
    scroll: typeof scroll === "number" && scroll >= 0 && Number.isFinite(scroll) ? scroll : 0,
  };
}

function readSorting(value: unknown): Sorting | undefined {
  if (typeof value !== "object" || value === null) return undefined;
  const { column, isDescending } = value as Record<string, unknown>;
  const known = columnNames.find((name) => name === column);
  return known && typeof isDescending === "boolean" ? { column: known, isDescending } : undefined;
}
