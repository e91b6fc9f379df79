import { strict as assert } from "node:assert";
import { after, describe, it } from "mocha";
import * as vscode from "vscode";
import {
  asText,
  at,
  builtAs,
  codeOf,
  ended,
  errorsIn,
  isGood,
  isOf,
  open,
  problems,
  rangeOf,
  remove,
  save,
  write,
} from "./support";
import { ringDesign, spikeHelper } from "./trials";

describe("findings", () => {
  const design = at("findings.headpiece.ts");
  const helper = at("parts/spike.ts");
  const imports = 'import { spike } from "./parts/spike";\n';
  after(async () => {
    await vscode.commands.executeCommand("workbench.action.closeAllEditors");
    await remove(design);
    await remove(helper);
  });

  it("stand on the exact call with code, help and related line, and go when fixed", async () => {
    const text = ringDesign({ imports, more: ", spike(10)" });
    const bad = spikeHelper({ options: "{ radius: [5, 3], startTip: { point: 9 } }" });
    await write(helper, bad);
    await write(design, text);
    await open(helper);
    await open(design);
    const [problem, ...others] = await problems(helper, "out-of-range", isOf("out-of-range"));
    assert.deepEqual(others, []);
    assert.equal(codeOf(problem), "out-of-range");
    assert.equal(problem.severity, vscode.DiagnosticSeverity.Error);
    const call =
      'tube("spike", [onHead({ azimuth, elevation: 5 }), onHead({ azimuth, elevation: 24, lift: 30 })], { radius: [5, 3], startTip: { point: 9 } })';
    assert.equal(asText(problem.range), asText(rangeOf(bad, call)));
    assert.ok(
      typeof problem.code === "object" && /messages\.md$/.test(problem.code.target.path),
      "links to help",
    );
    const [related] = problem.relatedInformation ?? [];
    assert.equal(related.location.uri.fsPath, design.fsPath);
    assert.equal(asText(related.location.range), asText(rangeOf(text, "spike(10)")));

    await save(helper, spikeHelper());
    await builtAs(design, "Trial");
    assert.deepEqual(errorsIn(helper), []);
    assert.deepEqual(errorsIn(design), []);
  });

  it("maps both frames of a throw in a helper", async () => {
    const text = ringDesign({ imports, more: ", spike(10)" });
    const bad = spikeHelper({ before: 'if (azimuth < 20) throw new Error("the spike broke");' });
    await save(helper, bad);
    const [problem] = await problems(helper, "design-threw", isOf("design-threw"));
    assert.match(problem.message, /^the spike broke/);
    assert.deepEqual(problem.range.start, rangeOf(bad, "new Error").start);
    const [related] = problem.relatedInformation ?? [];
    assert.equal(related.location.uri.fsPath, design.fsPath);
    assert.deepEqual(related.location.range.start, rangeOf(text, "spike(10)").start);
    await save(helper, spikeHelper());
    await builtAs(design, "Trial");
  });

  it("offer a fix that mends them", async () => {
    const bad = spikeHelper({ options: "{ radius: [5, 3], startTip: { point: 9 } }" });
    await save(helper, bad);
    const [problem] = await problems(helper, "out-of-range", isOf("out-of-range"));
    const actions = await vscode.commands.executeCommand<vscode.CodeAction[]>(
      "vscode.executeCodeActionProvider",
      helper,
      problem.range,
      vscode.CodeActionKind.QuickFix.value,
    );
    const fix = actions.find(({ edit, isPreferred }) => edit && isPreferred);
    assert.ok(fix?.edit, `a fix that can be taken at once is among ${actions.map(({ title }) => title)}`);
    assert.ok(await vscode.workspace.applyEdit(fix.edit));
    const document = await vscode.workspace.openTextDocument(helper);
    assert.match(document.getText(), /startTip: \{ point: 5 \}/);
    await document.save();
    await ended(design, "the build is good again", isGood);
    assert.deepEqual(errorsIn(helper), []);
  });
});
