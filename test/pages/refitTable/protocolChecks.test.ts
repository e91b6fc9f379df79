import { expect, test } from "vitest";
import { readFromRefitTable, readToRefitTable } from "../../../src/pages/refitTable/protocolChecks";
import { figures, place, table } from "./rows";

test("messages to the page are taken whole, and refused where a field is wrong", () => {
  const good = [
    table([place("a"), place("b", { state: "waiting", isChosen: true })]),
    { kind: "row", key: "a", figures: figures() },
    { kind: "row", key: "a", figures: figures({ girthPlay: undefined, chance: undefined, box: undefined }) },
    { kind: "notice", title: "No wearers", text: "None.", action: { label: "New", command: "newWearer" } },
  ];
  for (const message of good) expect(readToRefitTable(structuredClone(message))).toEqual(message);
  const bad: unknown[] = [
    undefined,
    [],
    { kind: "toString" },
    { kind: "row", key: "", figures: figures() },
    { kind: "row", key: "a", figures: figures({ mass: -1 }) },
    { kind: "row", key: "a", figures: figures({ chance: 1.2 }) },
    { kind: "row", key: "a", figures: { ...figures(), verdict: "good" } },
    {
      kind: "row",
      key: "a",
      figures: figures({ messages: [{ id: "x", severity: "bad" as "error", text: "" }] }),
    },
    table([place("a", { state: "old" as "current" })]),
    table([], { run: { phase: "idle", done: 0.5, all: 1 } }),
    { kind: "notice", title: "x", text: "y", action: { label: "z", command: "rm" } },
  ];
  for (const message of bad) expect(readToRefitTable(message), JSON.stringify(message)).toBeUndefined();
});

test("messages from the page are taken whole, and refused where a field is wrong", () => {
  const good = [
    { kind: "ready" },
    { kind: "show", key: "a" },
    { kind: "goTo", place: { file: "/court/a.ts", line: 3, column: 1 } },
    { kind: "scope", scope: "all" },
    { kind: "cancel" },
    { kind: "again" },
    { kind: "export" },
    { kind: "command", command: "manageTrust" },
    { kind: "fault", text: "x" },
  ];
  for (const message of good) expect(readFromRefitTable(message)).toEqual(message);
  const bad: unknown[] = [
    { kind: "run" },
    { kind: "show" },
    { kind: "goTo", place: { file: "/court/a.ts", line: 0, column: 1 } },
    { kind: "scope", scope: "every" },
    { kind: "command", command: "workbench.action.quit" },
  ];
  for (const message of bad) expect(readFromRefitTable(message), JSON.stringify(message)).toBeUndefined();
});
