import {
  among,
  type Guard,
  isFlag,
  isFromOne,
  isName,
  isNotNegative,
  isNumber,
  isOneOf,
  isRecord,
  isShare,
  isText,
  isWhole,
  listOf,
  maybe,
  withFields,
} from "../../messageGuards";
import type { FromRefitTable, Scope, ToRefitTable } from "./protocol";
import { refitTableCommands } from "./protocol";

/** Run-time checks of what the extension and the page tell each other: nothing of the other side is believed unseen. */

/** What came from the extension, or undefined where it is not a message of ours, whole and well-formed. */
export const readToRefitTable = (value: unknown): ToRefitTable | undefined =>
  isOneOf(toPage, value) ? (value as ToRefitTable) : undefined;

/** What came from the page, or undefined where it is not a message of ours, whole and well-formed. */
export const readFromRefitTable = (value: unknown): FromRefitTable | undefined =>
  isOneOf(fromPage, value) ? (value as FromRefitTable) : undefined;

/** What the table was of when the window was closed: what a serializer of the panel needs. */
export interface KeptTable {
  readonly scope: Scope;
  /** Of the design, as text. */
  readonly design?: string;
}

/** The table in the state that the page keeps with `setState`; undefined where there is none. */
export function readKeptTable(state: unknown): KeptTable | undefined {
  if (!isRecord(state) || !isRecord(state.table)) return undefined;
  const { scope, design } = state.table;
  if (!isScope(scope)) return undefined;
  return { scope: scope as Scope, ...(isName(design) && { design: design as string }) };
}

const isScope = among("design", "all");

const maybePlace = { file: maybe(isText), line: maybe(isFromOne), column: maybe(isFromOne) };

const isMessage = withFields({
  ...maybePlace,
  id: isName,
  severity: among("error", "warning", "note"),
  text: isText,
  suggestion: maybe(isText),
  notes: maybe(listOf(withFields({ ...maybePlace, text: isText }))),
});

const isFigures = withFields({
  headpiece: isText,
  wearer: isText,
  verdict: among("wear", "adjust", "dont", "failed"),
  passes: isFlag,
  reasons: listOf(isText),
  girthPlay: maybe(isNumber),
  girthEase: maybe(isNumber),
  chance: maybe(isShare),
  mass: maybe(isNotNegative),
  box: maybe(withFields({ width: isNotNegative, depth: isNotNegative, height: isNotNegative })),
  plate: maybe(withFields({ printer: isText, fits: isFlag, summary: isText })),
  hours: maybe(isNotNegative),
  wayOn: maybe(isText),
  changes: maybe(withFields({ short: isText, all: listOf(isText) })),
  picture: maybe(isText),
  messages: listOf(isMessage),
});

const isPlace = withFields({
  key: isName,
  label: isText,
  state: among("waiting", "current", "outdated"),
  isChosen: isFlag,
});

const toPage = {
  table: withFields({
    scope: isScope,
    design: maybe(withFields({ uri: isName, label: isText })),
    groups: listOf(withFields({ design: isName, label: isText, rows: listOf(isPlace) })),
    run: withFields({
      phase: among("idle", "running", "paused", "cancelled", "failed"),
      done: isWhole,
      all: isWhole,
      trouble: maybe(isText),
    }),
    messages: listOf(isMessage),
    cautions: listOf(isText),
  }),
  row: withFields({ key: isName, figures: isFigures }),
  notice: withFields({
    title: isText,
    text: isText,
    action: maybe(withFields({ label: isName, command: among(...refitTableCommands) })),
  }),
} satisfies Record<ToRefitTable["kind"], Guard>;

const fromPage = {
  ready: isRecord,
  show: withFields({ key: isName }),
  goTo: withFields({ place: withFields({ file: isName, line: isFromOne, column: isFromOne }) }),
  scope: withFields({ scope: isScope }),
  cancel: isRecord,
  again: isRecord,
  export: isRecord,
  command: withFields({ command: among(...refitTableCommands) }),
  fault: withFields({ text: isText }),
} satisfies Record<FromRefitTable["kind"], Guard>;
