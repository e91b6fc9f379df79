import { strict as assert } from "node:assert";
import { after, afterEach, describe, it } from "mocha";
import * as vscode from "vscode";
import { setTo } from "./settings";
import {
  api,
  at,
  builtAs,
  errorsIn,
  isOf,
  open,
  problems,
  rangeOf,
  remove,
  save,
  until,
  write,
} from "./support";
import { ringDesign } from "./trials";

describe("mishaps", () => {
  const design = at("mishaps.headpiece.ts");
  /** A good save after it works, and nothing of it stays. */
  async function recovers(name: string): Promise<void> {
    await save(design, ringDesign({ name }));
    const { report } = await builtAs(design, name);
    assert.equal(report!.headpiece, name);
    assert.deepEqual(errorsIn(design), []);
  }
  afterEach(() => setTo("timeLimit", undefined));
  after(async () => {
    await vscode.commands.executeCommand("workbench.action.closeAllEditors");
    await remove(design);
  });

  it("a loop without end is stopped and told at its line", async () => {
    await write(design, ringDesign({ name: "Good" }));
    await open(design);
    await builtAs(design, "Good");
    await setTo("timeLimit", 1);
    const text = ringDesign({ name: "Endless", before: "let turns = 0;\nfor (;;) turns++;\n" });
    await save(design, text);
    const [problem] = await problems(design, "time-limit", isOf("time-limit"));
    assert.equal(problem.range.start.line, rangeOf(text, "for (;;)").start.line);
    assert.match(problem.message, /more than 1 s/);
    const { designs } = await api();
    const state = designs.state(design);
    assert.equal(state.report!.headpiece, "Good", "the last good result stays");
    assert.ok(state.isOutdated);
    await recovers("After the loop");
  });

  it("a throw at top level is told where it was thrown", async () => {
    const text = ringDesign({ name: "Thrown", before: 'throw new Error("no pearls left");\n' });
    await save(design, text);
    const [problem] = await problems(design, "design-threw", isOf("design-threw"));
    assert.match(problem.message, /^no pearls left/);
    assert.deepEqual(problem.range.start, rangeOf(text, "new Error").start);
    await recovers("After the throw");
  });

  it("an engine that is killed is replaced", async () => {
    const before = (await api()).engineProcessId;
    assert.ok(before !== undefined, "an engine runs");
    process.kill(before, "SIGKILL");
    await recovers("After the kill");
    const now = (await api()).engineProcessId;
    assert.ok(now !== undefined && now !== before, `${before} was replaced by ${now}`);
  });

  it("an engine that is killed in the middle of a build is replaced", async () => {
    const { designs } = await api();
    await save(
      design,
      ringDesign({ name: "Long", before: "let turns = 0;\nwhile (turns < 4e8) turns++;\n" }),
    );
    await until("it builds", () => designs.state(design).status === "building");
    const { engineProcessId } = await api();
    assert.ok(engineProcessId !== undefined);
    process.kill(engineProcessId, "SIGKILL");
    await until("the build is over", () => designs.state(design).status !== "building");
    await recovers("After the second kill");
    assert.notEqual((await api()).engineProcessId, engineProcessId);
  });

  it("a build that is cancelled is said to be, and leaves the last good result", async () => {
    const { designs } = await api();
    const before = designs.state(design).report;
    await save(design, ringDesign({ name: "Cancelled", before: "for (;;);\n" }));
    await until("it builds", () => designs.state(design).status === "building");
    await vscode.commands.executeCommand("anadem.cancelBuild", design);
    const state = await until(
      "it is cancelled",
      () => {
        const now = designs.state(design);
        return now.status === "building" ? undefined : now;
      },
      { seconds: 5 },
    );
    assert.equal(state.status, "cancelled");
    assert.deepEqual(state.report, before);
    await recovers("After the cancelling");
  });
});
