import { strict as assert } from "node:assert";
import { after, before, describe, it } from "mocha";
import * as vscode from "vscode";
import type { Report } from "../../../src/export/report";
import { api, at, builtAs, open, rangeOf, remove, save, textOf, until, write } from "./support";
import { ringDesign, spikeHelper } from "./trials";

describe("around the code", () => {
  const design = at("around.headpiece.ts");
  const helper = at("parts/around.ts");
  const text = ringDesign({
    name: "Around",
    imports: 'import { group } from "anadem";\nimport { spike } from "./parts/around";\n',
    // biome-ignore lint/suspicious/noTemplateCurlyInString: it is the text of a design
    more: ", [10, 30, 50].map((azimuth) => group(`at ${azimuth}`, [spike(azimuth)]))",
  });
  let report: Report;
  before(async () => {
    await write(helper, spikeHelper());
    await write(design, text);
    await open(design);
    await builtAs(design, "Around");
    report = (await (await api()).designs.planned(design)).report!;
  });
  after(async () => {
    await vscode.commands.executeCommand("workbench.action.closeAllEditors");
    await remove(design);
    await remove(helper);
  });

  it("lenses tell wearer, mass, size and plate, and offer what can be done", async () => {
    const lenses = await until("the lenses are there", async () => {
      const found = await vscode.commands.executeCommand<vscode.CodeLens[]>(
        "vscode.executeCodeLensProvider",
        design,
        20,
      );
      const own = found.filter(({ command }) => command?.title.includes(" g · "));
      return own.length > 0 ? found : undefined;
    });
    const titles = lenses.map(({ command }) => command!.title);
    assert.ok(titles.includes("$(account) Pip, the Minnow"), titles.join());
    const figures = /([\d.]+) g · (\d+) × (\d+) × (\d+) mm/.exec(titles.join())!.slice(1).map(Number);
    const { width, depth, height } = report.boxMm;
    for (const [i, value] of [report.massPrintedG, width, depth, height].entries()) {
      assert.ok(Math.abs(figures[i] - value) <= 1, `${figures[i]} is ${value}`);
    }
    assert.ok(titles.includes("Export") && titles.includes("Preview"), titles.join());
    const line = rangeOf(text, "headpiece({").start.line;
    assert.ok(lenses.every(({ range }) => range.start.line === line));
  });

  it("hovers tell what a call made, in an imported file too", async () => {
    const said = async (uri: vscode.Uri, part: string) => {
      const { start } = rangeOf(textOf(uri), part);
      const hovers = await vscode.commands.executeCommand<vscode.Hover[]>(
        "vscode.executeHoverProvider",
        uri,
        start.translate(0, 1),
      );
      return hovers
        .flatMap(({ contents }) => contents.map((each) => (each as vscode.MarkdownString).value))
        .join("\n");
    };
    const ring = report.parts.find(({ name }) => name === "ring")!;
    const spikes = report.parts.filter(({ name }) => name.includes("spike"));
    assert.equal(spikes.length, 3);
    assert.ok((await said(design, 'band("ring"')).includes(`${ring.massPrintedG} g,`));
    await open(helper);
    const helperSaid = await said(helper, 'tube("spike"');
    assert.match(helperSaid, /3 tubes/);
    // A tube from 5 to 3 mm.
    assert.match(helperSaid, /radius 3–5 mm/);
  });

  it("the report page says what the build found", async () => {
    await vscode.commands.executeCommand("anadem.showReport", design);
    await until("its tab is there", () =>
      vscode.window.tabGroups.all
        .flatMap(({ tabs }) => tabs)
        .find(({ label }) => label.includes("around report")),
    );
    const page = vscode.Uri.from({
      scheme: "anadem-report",
      path: "/around report.md",
      query: design.toString(),
    });
    const shown = (await vscode.workspace.openTextDocument(page)).getText();
    assert.match(shown, /^# Around for Pip, the Minnow/);
    assert.ok(shown.includes(`${report.massPrintedG} g`));
    assert.match(shown, /not protect|protective/i, "with the cautions");
  });

  it("tools for language models return the report as it is", async () => {
    const call = async (name: string, input: object) => {
      const { token } = new vscode.CancellationTokenSource();
      const { content } = await vscode.lm.invokeTool(name, { input, toolInvocationToken: undefined }, token);
      return content.map((each) => (each as vscode.LanguageModelTextPart).value);
    };
    const built = JSON.parse((await call("anadem_build", { design: "around" }))[0]);
    assert.ok(built.ok);
    assert.deepEqual(built.report, JSON.parse(JSON.stringify(report)));
    const [fit, json] = await call("anadem_fit", { design: "around", wearer: "kelp-queen" });
    const other = JSON.parse(json).report as Report;
    assert.notEqual(other.wearer, report.wearer);
    assert.ok(other.boxMm.width > report.boxMm.width, "a larger head has a wider ring");
    assert.ok(fit.includes(`${other.massPrintedG} g`), fit);
    const { designs } = await api();
    assert.equal(designs.state(design).report!.wearer, report.wearer, "the editor's own stays");
    await assert.rejects(call("anadem_build", { design: "aruond" }), /did you mean/);
  });

  it("the views open", async () => {
    for (const view of ["headpieces", "wearers", "printers", "materials", "printSettings"]) {
      await vscode.commands.executeCommand(`anadem.${view}.focus`);
    }
  });

  it("another wearer is taken without touching the file, and given back", async () => {
    const { designs } = await api();
    await vscode.commands.executeCommand("anadem.useForDesign", {
      party: "wearer",
      uri: at("kelp-queen.wearer.json"),
    });
    const state = designs.state(design);
    assert.equal(state.status, "built");
    assert.notEqual(state.report!.wearer, report.wearer);
    assert.equal(textOf(design), text);
    await designs.choose(design, "wearer", undefined);
    assert.deepEqual((await designs.planned(design)).report, report);
    await save(design, text);
  });
});
