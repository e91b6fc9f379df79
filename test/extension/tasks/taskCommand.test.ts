import { readFileSync } from "node:fs";
import { createColors } from "picocolors";
import { expect, test } from "vitest";
import { readArguments } from "../../../src/cli/arguments";
import { buildCommand } from "../../../src/cli/buildCommand";
import { messageLines } from "../../../src/cli/messageLines";
import { problemPattern, taskName, taskOf, wordsOf } from "../../../src/extension/tasks/taskCommand";
import type { Message } from "../../../src/message";

const task = (more: Record<string, unknown> = {}) =>
  taskOf({ type: "anadem", command: "build", design: "pieces/coral crown.headpiece.ts", ...more })!;
const read = (more: Record<string, unknown>) => readArguments(wordsOf(task(more)), [buildCommand]);

test("the command line reads a task as it was meant", () => {
  const asked = read({
    wearer: "minnow.wearer.json",
    values: { branches: 12, weave: "tight=er", calm: false },
    out: "-made",
    report: true,
    check: false,
  });
  expect(asked).toMatchObject({
    kind: "run",
    operand: "pieces/coral crown.headpiece.ts",
    options: {
      wearer: "minnow.wearer.json",
      set: ["branches=12", "weave=tight=er", "calm=false"],
      out: "-made",
      report: true,
    },
  });
  expect(asked).not.toHaveProperty("options.check");
});

test("a design that begins with a dash is no option", () => {
  expect(read({ design: "-a.headpiece.ts" })).toMatchObject({ operand: "-a.headpiece.ts" });
});

test("tasks are told apart by design and by what they do", () => {
  expect(taskName(task())).toBe("build pieces/coral crown");
  expect(taskName(task({ check: true }))).toBe("check pieces/coral crown");
});

test.each<[string, Record<string, unknown>]>([
  ["an unknown command", { command: "print" }],
  ["no design", { design: undefined }],
  ["a wearer that is no text", { wearer: 5 }],
  ["a flag that is no flag", { report: "yes" }],
  ["values in a list", { values: [1] }],
  ["a value that is a group", { values: { a: {} } }],
  ["another kind of task", { type: "shell" }],
])("a task with %s is not run", (_, change) => {
  expect(task(change)).toBeUndefined();
});

const lines = (message: Partial<Message>, folder = "/court") =>
  messageLines(
    { id: "loose-piece", severity: "warning", text: "it is loose", ...message },
    folder,
    createColors(false),
  );

test("the problem pattern finds place, severity and text of what the command line prints", () => {
  const pattern = new RegExp(problemPattern);
  const place = { file: "/court/a b.headpiece.ts", line: 12, column: 7 };
  const [first, ...rest] = lines({ ...place, suggestion: "sink it", notes: [{ text: "here", ...place }] });
  expect(pattern.exec(first)?.slice(1)).toEqual(["a b.headpiece.ts", "12", "7", "warning", "it is loose"]);
  // Notes and hints belong to the message above them.
  expect(rest).toHaveLength(2);
  for (const line of rest) expect(pattern.test(line)).toBe(false);
  const [far] = lines({ ...place, severity: "error" }, "/elsewhere");
  expect(pattern.exec(far)?.[1]).toBe("/court/a b.headpiece.ts");
  expect(pattern.exec("C:\\court\\a.headpiece.ts:3:1: error: no: really")?.slice(1)).toEqual([
    "C:\\court\\a.headpiece.ts",
    "3",
    "1",
    "error",
    "no: really",
  ]);
  expect(pattern.test(lines({})[0])).toBe(false);
});

test("the manifest declares this pattern and the keys of a task", () => {
  const manifest = JSON.parse(readFileSync(new URL("../../../package.json", import.meta.url), "utf8"));
  const { problemMatchers, taskDefinitions } = manifest.contributes;
  expect(problemMatchers[0].pattern.regexp).toBe(problemPattern);
  const written: Record<string, unknown> = { type: "anadem", command: "build", design: "a.headpiece.ts" };
  for (const [key, { type }] of Object.entries<{ type: string }>(taskDefinitions[0].properties)) {
    written[key] ??= { string: "a", boolean: true, object: { a: 1 } }[type];
  }
  const words = wordsOf(taskOf(written)!).join(" ");
  expect(words).toBe(
    "build --wearer=a --printer=a --material=a --print=a --out=a --set=a=1 --report --check -- a.headpiece.ts",
  );
});
