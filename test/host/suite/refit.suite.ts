import { strict as assert } from "node:assert";
import { readdirSync } from "node:fs";
import { after, before, describe, it } from "mocha";
import * as vscode from "vscode";
import type { StandingRow } from "../../../src/extension/refit/knownRows";
import { api, at, builtAs, open, pause, remove, save, textOf, type, until, write } from "./support";
import { ringDesign } from "./trials";

const wearer = (girth: number) => `{ "name": "Eel singer", "units": "cm", "girth": ${girth} }\n`;

describe("refit", () => {
  const design = at("refitted.headpiece.ts", "fresh");
  const own = at("eel.wearer.json", "fresh");
  const other = at("urchin.wearer.json", "fresh");
  const table = async () => (await api()).refit;
  const rowOf = (rows: readonly StandingRow[], file: vscode.Uri) =>
    rows.find((row) => row.wearer === file.fsPath);
  /** Waits until the table is made. */
  const madeSo = (what: string, isRight: (rows: readonly StandingRow[]) => boolean) =>
    until(
      what,
      async () => {
        const { phase, rows } = await table();
        const isMade = phase === "idle" && rows.length > 0 && rows.every(({ state }) => state === "current");
        return isMade && isRight(rows) ? rows : undefined;
      },
      {
        seconds: 240,
        tell: () =>
          seen.map(({ wearer, state, row }) => [wearer, state, row?.verdict, row?.messages[0]?.text]),
      },
    );
  let seen: readonly StandingRow[] = [];
  let listening: vscode.Disposable;

  before(async () => {
    await write(own, wearer(56));
    await write(design, ringDesign({ name: "Refitted", wearer: "eel.wearer.json" }));
    await open(design);
    await builtAs(design, "Refitted");
    listening = (await table()).onDidChange(async () => {
      seen = (await table()).rows;
    });
  });
  after(async () => {
    listening.dispose();
    const { designs } = await api();
    await designs.choose(design, "wearer", undefined);
    await vscode.commands.executeCommand("workbench.action.closeAllEditors");
    for (const file of [design, own, other]) await Promise.resolve(remove(file)).catch(() => {});
  });

  it("the command opens the table, and a row comes for each wearer, the design's own first", async () => {
    await vscode.commands.executeCommand("anadem.refit", design);
    assert.ok((await table()).isOpen);
    const wearers = await vscode.workspace.findFiles("**/*.wearer.json");
    const rows = await madeSo("all rows are made", (rows) => rows.length === wearers.length);
    assert.equal(rows[0].wearer, own.fsPath);
    assert.equal(rows[0].row?.wearerName, "Eel singer");
    for (const { row } of rows) {
      assert.ok(row && row.verdict !== "failed", `${row?.wearerName}: ${row?.messages[0]?.text}`);
      assert.ok(row.picture?.startsWith("<svg") || row.picture?.startsWith("<?xml"), "with a picture");
      assert.ok(row.mass! > 3 && row.hours! > 0.1);
    }
    const minnow = rowOf(rows, at("minnow.wearer.json"))!.row!;
    const queen = rowOf(rows, at("kelp-queen.wearer.json"))!.row!;
    assert.ok(minnow.box!.width < queen.box!.width, "a child's ring is smaller");
    assert.ok(queen.changes!.length > 0 && rows[0].row?.changes === undefined);
  });

  it("writes nothing into the person's folders", () => {
    const names = readdirSync(at(".", "fresh").fsPath).filter((name) => !name.startsWith("."));
    assert.deepEqual(names.sort(), ["eel.wearer.json", "refitted.headpiece.ts"]);
  });

  it("what is typed changes nothing until it is saved", async () => {
    const document = await type(own, wearer(60));
    await pause(700);
    const { phase, rows } = await table();
    assert.equal(phase, "idle");
    assert.ok(rows.every(({ state }) => state === "current"));
    assert.ok(document.isDirty);
    await vscode.window.showTextDocument(document);
    await vscode.commands.executeCommand("workbench.action.files.revert");
    await vscode.commands.executeCommand("anadem.refit", design);
  });

  it("a saved wearer's row is made again, and no other", async () => {
    const before = rowOf((await table()).rows, own)!.row!;
    await save(own, wearer(60));
    const outdated = await until("the row is out of date", async () => {
      const row = rowOf((await table()).rows, own);
      return row?.state === "outdated" ? row : undefined;
    });
    assert.equal(outdated.row?.mass, before.mass, "with its last values");
    await vscode.commands.executeCommand("anadem.refit", design);
    const rows = await madeSo("the row is made again", (rows) => {
      const row = rowOf(rows, own)?.row;
      return row !== undefined && row.box!.width > before.box!.width + 5;
    });
    assert.equal(rowOf(rows, own)!.row!.kept, false);
    for (const { wearer, row } of rows) if (wearer !== own.fsPath) assert.ok(row?.kept, `${wearer} was kept`);
  });

  it("a wearer that comes gets a row, and one that goes takes its row with it", async () => {
    await write(other, '{ "name": "Urchin", "units": "cm", "girth": 53 }\n');
    await madeSo("the new wearer's row is made", (rows) => rowOf(rows, other)?.row !== undefined);
    await remove(other);
    await madeSo("its row is gone", (rows) => rowOf(rows, other) === undefined);
  });

  it("a wearer that cannot be read fails in its own row, with the place", async () => {
    await write(other, '{ "name": "Urchin", "units": "cm", "girht": 53 }\n');
    const rows = await madeSo("the row failed", (rows) => rowOf(rows, other)?.row?.verdict === "failed");
    const error = rowOf(rows, other)!.row!.messages.find(({ severity }) => severity === "error")!;
    assert.equal(error.file, other.fsPath);
    assert.ok(error.line! >= 1);
    assert.equal(rows.filter(({ row }) => row?.verdict === "failed").length, 1);
    await remove(other);
    await madeSo("its row is gone", (rows) => rowOf(rows, other) === undefined);
  });

  it("the design is not edited, and its tab is the table's name", async () => {
    assert.match(textOf(design), /wearer: "eel\.wearer\.json"/);
    const labels = vscode.window.tabGroups.all.flatMap(({ tabs }) => tabs.map(({ label }) => label));
    assert.ok(labels.includes("Refit refitted"), labels.join());
  });

  it("ends its work with its tab", async () => {
    await save(own, wearer(57));
    await vscode.commands.executeCommand("workbench.action.closeAllEditors");
    await until("the table is closed", async () => !(await table()).isOpen);
  });
});
