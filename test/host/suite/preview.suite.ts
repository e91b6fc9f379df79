import { strict as assert } from "node:assert";
import { after, before, describe, it } from "mocha";
import * as vscode from "vscode";
import { api, at, builtAs, ended, isGood, open, remove, save, textOf, until, write } from "./support";

const text = (
  name = "Seen",
  thickness = 5,
) => `import { band, count, headpiece, length, onHead, tube } from "anadem";

export default headpiece({
  name: ${JSON.stringify(name)},
  wearer: "minnow.wearer.json",
  parameters: {
    spikes: count(3, { least: 1, most: 8 }),
    reach: length(30, { least: 20, most: 60, help: "of each spike" }), // mm
  },
  make({ head, parameters: { spikes, reach } }) {
    const ring = band("ring", head.girthLine.raised(12), { width: 16, thickness: ${thickness} });
    return [
      ring,
      head.around(spikes, (azimuth, i) =>
        tube(\`spike \${i + 1}\`, [onHead({ azimuth, elevation: 5 }), onHead({ azimuth, elevation: 24, lift: reach })], {
          radius: [5, 3],
        }),
      ),
    ];
  },
});
`;

describe("preview", () => {
  const design = at("seen.headpiece.ts");
  const preview = async () => (await api()).previews.find((each) => each.design === design.toString());
  const version = async () => (await api()).lastBuild(design.fsPath)!.version;
  /** Waits until the solid of the last build is on the screen. */
  const solidDrawn = async () =>
    until("the solid is drawn", async () => {
      const drawn = (await preview())?.drawn;
      return drawn?.what === "solid" && drawn.version === (await version()) ? drawn : undefined;
    });
  before(async () => {
    await write(design, text());
    await open(design);
    await builtAs(design, "Seen");
  });
  after(async () => {
    await vscode.commands.executeCommand("workbench.action.closeAllEditors");
    await remove(design);
  });

  it("is made ready and draws the solid, first and after a save", async () => {
    await vscode.commands.executeCommand("anadem.showPreview", design);
    await until("the view is ready", async () => (await preview())?.isReady);
    await solidDrawn();
    const before = await version();
    await save(design, text("Thicker", 8));
    await builtAs(design, "Thicker");
    assert.ok((await version()) > before);
    await solidDrawn();
  });

  it("is one for all designs that follow, and one more where it is locked", async () => {
    await vscode.commands.executeCommand("anadem.showPreview", design);
    assert.equal((await api()).previews.length, 1);
    const { actions } = await api();
    await actions.showPreview(design, { isLocked: true });
    assert.deepEqual(
      (await api()).previews.map(({ isLocked }) => isLocked),
      [false, true],
    );
  });

  it("moved parameters build live and leave the file", async () => {
    const { designs } = await api();
    const before = textOf(design);
    await designs.setValues(design, { spikes: 5 });
    const moved = await ended(
      design,
      "five spikes are built",
      ({ report }) => report!.parts.filter(({ name }) => name.startsWith("spike")).length === 5,
    );
    assert.deepEqual(moved.values, { spikes: 5 });
    assert.equal(textOf(design), before);
    await vscode.commands.executeCommand("anadem.resetParameters", design);
    const reset = await ended(
      design,
      "three are built again",
      ({ report }) => report!.parts.filter(({ name }) => name.startsWith("spike")).length === 3,
    );
    assert.deepEqual(reset.values, {});
  });

  it("moved parameters are written into the file, as an edit that is undone at once", async () => {
    const { designs } = await api();
    const before = textOf(design);
    await designs.setValues(design, { spikes: 6, reach: 41.5 });
    assert.equal(await vscode.commands.executeCommand("anadem.writeParameters", design), true);
    const written = before.replace("count(3,", "count(6,").replace("length(30,", "length(41.5,");
    assert.equal(textOf(design), written, "nothing else was touched");
    const state = await ended(
      design,
      "the file's values are built",
      (each) => isGood(each) && each.header!.parameters.some((parameter) => parameter.default === 6),
    );
    assert.deepEqual(state.values, {});
    await open(design);
    await vscode.commands.executeCommand("undo");
    const document = await vscode.workspace.openTextDocument(design);
    assert.equal(document.getText(), before, "one undo takes all back");
    await document.save();
    await ended(
      design,
      "it is as before",
      (each) => isGood(each) && each.header!.parameters.some((parameter) => parameter.default === 3),
    );
  });
});
