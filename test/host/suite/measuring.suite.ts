import { strict as assert } from "node:assert";
import { after, before, describe, it } from "mocha";
import * as vscode from "vscode";
import { at, open, remove, textOf, until, write } from "./support";

/** Titles of the guides that are open. */
const guides = () =>
  vscode.window.tabGroups.all
    .flatMap(({ tabs }) => tabs)
    .filter(
      ({ input }) => input instanceof vscode.TabInputWebview && input.viewType.endsWith("anadem.measuring"),
    )
    .map(({ label }) => label);

describe("measuring", () => {
  const file = at("measured.wearer.json");
  const text = '{\n  "name": "Measured",\n  "units": "mm",\n  "girth": { "readings": [560, 562] }\n}\n';
  before(() => write(file, text));
  after(async () => {
    await vscode.commands.executeCommand("workbench.action.closeAllEditors");
    await remove(file);
  });

  it("opens one guide of a wearer, from a file, a row or the editor", async () => {
    await vscode.commands.executeCommand("anadem.measureWearer", file);
    await until("the guide is open", () => guides().length === 1);
    assert.deepEqual(guides(), ["Measure measured.wearer.json"]);
    await vscode.commands.executeCommand("anadem.measureWearer", {
      kind: "party",
      party: "wearer",
      uri: file,
    });
    await open(file);
    await vscode.commands.executeCommand("anadem.measureWearer");
    await until("the guide is in front", () =>
      vscode.window.tabGroups.all.some(({ activeTab }) => activeTab?.label === guides()[0]),
    );
    assert.equal(guides().length, 1);
    assert.equal(textOf(file), text);
  });

  it("opens one for somebody new, and writes nothing before that is asked for", async () => {
    await vscode.commands.executeCommand("anadem.measureWearer", { name: "Newcomer", folders: [] });
    await until("the second guide is open", () => guides().includes("Measure Newcomer"));
    const found = await vscode.workspace.findFiles("**/newcomer*.wearer.json");
    assert.deepEqual(found, []);
  });
});
