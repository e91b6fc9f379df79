import { strict as assert } from "node:assert";
import { after, afterEach, before, describe, it } from "mocha";
import * as vscode from "vscode";
import { tellFigure } from "../mochaRun";
import { setTo } from "./settings";
import {
  api,
  at,
  builtAs,
  ended,
  errorsIn,
  isGood,
  isOf,
  open,
  pause,
  problems,
  problemsIn,
  rangeOf,
  remove,
  save,
  type,
  until,
  write,
} from "./support";
import { ringDesign, spikeHelper } from "./trials";

describe("saves", () => {
  const design = at("saves.headpiece.ts");
  const path = design.fsPath;
  const builds = async () => (await api()).lastBuild(path)?.version ?? 0;
  const reported = async () => (await api()).designs.state(design).report?.headpiece;
  before(async () => {
    await write(design, ringDesign({ name: "Before" }));
    await open(design);
    await builtAs(design, "Before");
  });
  afterEach(() => setTo("rebuild", undefined));
  after(async () => {
    await vscode.commands.executeCommand("workbench.action.closeAllEditors");
    await remove(design);
  });

  it("that follow quickly: only the newest is shown", async () => {
    const { designs } = await api();
    const shown = new Set<string | undefined>();
    const listening = designs.onDidChange((uri) => {
      if (uri.fsPath === path) shown.add(designs.state(design).report?.headpiece);
    });
    // It runs for a second or two, so that the next save comes while it does.
    const slow = "let sum = 0;\nfor (let i = 0; i < 4e8; i++) sum += i % 7;\n";
    const earlier = await builds();
    await save(design, ringDesign({ name: "First", imports: slow }));
    await until("the first is being built", async () => (await builds()) > earlier);
    await save(design, ringDesign({ name: "Second", options: "{ width: 16, thickness: 9 }" }));
    await builtAs(design, "Second");
    assert.equal(await reported(), "Second");
    // Whatever was still on its way from the first would come now.
    await save(design, ringDesign({ name: "Third" }));
    await builtAs(design, "Third");
    listening.dispose();
    const order = ["Before", "First", "Second", "Third"];
    const seen = [...shown].map((name) => order.indexOf(name ?? ""));
    assert.deepEqual(seen, [...seen].sort(), `never an older one after a newer: ${[...shown]}`);
    assert.ok(!shown.has("First"), "the first was never shown");
  });

  it("by the hundreds: the last one stands, and none builds twice", async () => {
    const saves = 200;
    const earlier = await builds();
    const { hostBusy } = await api();
    const began = performance.now();
    let refusals = 0;
    for (let i = 1; i <= saves; i++) {
      const document = await type(design, ringDesign({ name: `Save ${i}` }));
      // An editor that is this busy may refuse to save; whoever wants to have saved asks again.
      while (!(await document.save()) && document.isDirty) {
        refusals++;
        assert.ok(refusals < saves, "saves are taken");
        await pause(20);
      }
    }
    const took = performance.now() - began;
    await builtAs(design, `Save ${saves}`);
    assert.equal(await reported(), `Save ${saves}`);
    const made = (await builds()) - earlier;
    tellFigure("builds of 200 fast saves", made);
    tellFigure("refused fast saves", refusals);
    tellFigure("ms a fast save", took / saves);
    tellFigure("host busy a fast save, ms", ((await api()).hostBusy - hostBusy) / saves);
    // How many give way depends on how long a save takes here; that one save builds twice must never be.
    assert.ok(made <= saves, `${made} builds`);
  });

  it("by another program, by the hundreds: the last one stands", async () => {
    await vscode.commands.executeCommand("workbench.action.closeAllEditors");
    const earlier = await builds();
    for (let i = 1; i <= 200; i++) await write(design, ringDesign({ name: `Write ${i}` }));
    await builtAs(design, "Write 200");
    assert.equal(await reported(), "Write 200");
    assert.ok((await builds()) - earlier < 100);
    await open(design);
  });

  it("of a file that a design imports build every design that uses it", async () => {
    const helper = at("parts/saved.ts");
    const other = at("saves-other.headpiece.ts");
    const imports = 'import { spike } from "./parts/saved";\n';
    await write(helper, spikeHelper());
    await write(other, ringDesign({ name: "Other", imports, more: ", spike(30)" }));
    await open(other);
    await builtAs(other, "Other");
    // Built before, and no longer looked at.
    await open(design);
    await save(design, ringDesign({ name: "Spiked", imports, more: ", spike(10)" }));
    const first = await builtAs(design, "Spiked");
    const { designs } = await api();
    const otherFirst = designs.state(other).report!;
    await open(helper);
    await save(helper, spikeHelper({ options: "{ radius: [10, 8] }" }));
    const isHeavier = (than: number) => (state: { report?: { massPrintedG: number } }) =>
      state.report!.massPrintedG > than;
    await ended(design, "the design is heavier", isHeavier(first.report!.massPrintedG));
    await ended(other, "the other design is heavier", isHeavier(otherFirst.massPrintedG));
    await vscode.commands.executeCommand("workbench.action.closeActiveEditor");
    await remove(other);
    await remove(helper);
    await open(design);
    await save(design, ringDesign({ name: "Plain again" }));
    await builtAs(design, "Plain again");
  });

  it("of limits build the designs in their folder, also where there were none before", async () => {
    const limits = at("anadem.limits.json");
    await save(design, ringDesign({ name: "Held to limits" }));
    const free = await builtAs(design, "Held to limits");
    assert.equal(
      free.report!.wear?.findings.some(({ id }) => id === "heavy"),
      false,
    );
    await write(limits, '{ "massAdvised": 5 }\n');
    await ended(design, "it is found heavy", ({ report }) =>
      report!.wear!.findings.some(({ id }) => id === "heavy"),
    );
    const [heavy] = await problems(design, "that it is heavy", isOf("heavy"));
    assert.match(heavy.message, /more than 5 g/);
    assert.equal(heavy.severity, vscode.DiagnosticSeverity.Warning);
    await remove(limits);
    await ended(
      design,
      "it is light again",
      ({ report }) =>
        report!.wear!.verdict !== undefined && !report!.wear!.findings.some(({ id }) => id === "heavy"),
    );
  });

  it("of a wearer build its designs; one that is gone is told where it is asked for", async () => {
    const wearer = at("tried-on.wearer.json");
    const file = (girth: number) => `{ "name": "Tried on", "units": "cm", "girth": ${girth} }\n`;
    await write(wearer, file(54));
    const text = ringDesign({ name: "Tried on", wearer: "tried-on.wearer.json" });
    await save(design, text);
    const { width } = (await builtAs(design, "Tried on")).report!.boxMm;
    await write(wearer, file(60));
    const wider = await ended(
      design,
      "the ring is wider",
      ({ report }) => report!.wearer === "Tried on" && report!.boxMm.width > width,
    );
    // A head is a closed curve of the same shape: 60 over 54 as wide, less what the band adds on both sides.
    const grown = wider.report!.boxMm.width / width;
    assert.ok(grown > 1.07 && grown < 1.12, `${width} mm became ${wider.report!.boxMm.width} mm`);

    await remove(wearer);
    const gone = await ended(design, "the wearer is missed", ({ status }) => status === "failed");
    const [message] = gone.messages;
    assert.equal(message.id, "file-not-found");
    assert.equal(message.file, path);
    const [problem] = problemsIn(design);
    assert.match(problem.message, /tried-on\.wearer\.json/);
    assert.equal(problem.range.start.line, rangeOf(text, '"tried-on.wearer.json"').start.line);
    assert.equal(gone.report!.boxMm.width, wider.report!.boxMm.width, "the last good result stays");
    assert.ok(gone.isOutdated);

    await write(wearer, file(60));
    await ended(design, "it is good again", isGood);
    assert.deepEqual(errorsIn(design), []);
    await save(design, ringDesign({ name: "Plain again" }));
    await builtAs(design, "Plain again");
    await remove(wearer);
  });

  it("are not waited for while typing, where the setting says so", async () => {
    await setTo("rebuild", "whileTyping");
    const document = await type(design, ringDesign({ name: "Typed" }));
    await builtAs(design, "Typed");
    assert.ok(document.isDirty, "nothing was saved");
    await setTo("rebuild", "off");
    const earlier = await builds();
    await document.save();
    await save(design, ringDesign({ name: "Not asked for" }));
    assert.ok((await api()).designs.state(design).isOutdated);
    assert.equal(await builds(), earlier);
    await vscode.commands.executeCommand("anadem.build", design);
    await builtAs(design, "Not asked for");
  });
});
