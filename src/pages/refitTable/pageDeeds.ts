import type { Place } from "../../message";
import type { ColumnName } from "./columns";
import type { RefitTableCommand, Scope } from "./protocol";

/** What the controls of the page ask for. */
export interface PageDeeds {
  /** Shows the preview of a row. */
  show(key: string): void;
  /** Unfolds or folds a row. */
  toggle(key: string): void;
  goTo(place: Place): void;
  sortBy(column: ColumnName): void;
  setScope(scope: Scope): void;
  cancel(): void;
  again(): void;
  exportFiles(): void;
  command(command: RefitTableCommand): void;
}
