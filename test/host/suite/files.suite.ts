import { strict as assert } from "node:assert";
import { readdirSync, readFileSync } from "node:fs";
import { after, before, describe, it } from "mocha";
import * as vscode from "vscode";
import { setTo } from "./settings";
import { api, at, builtAs, open, remove, textOf, until, write } from "./support";
import { ringDesign } from "./trials";

/**
 * What a binary STL holds: 80 bytes that say nothing, the number of triangles, and for each 50 bytes: normal, three
 * corners, two bytes. Source: Library of Congress, Sustainability of Digital Formats, fdd000505.
 */
function readStl(file: string): { triangles: number; box: number[]; openEdges: number } {
  const bytes = readFileSync(file);
  const triangles = bytes.readUInt32LE(80);
  assert.equal(bytes.length, 84 + 50 * triangles);
  const least = [Infinity, Infinity, Infinity];
  const most = [-Infinity, -Infinity, -Infinity];
  const edges = new Map<string, number>();
  for (let i = 0; i < triangles; i++) {
    const corners = [0, 1, 2].map((corner) => {
      const start = 84 + 50 * i + 12 + 12 * corner;
      const at = [0, 4, 8].map((offset) => bytes.readFloatLE(start + offset));
      at.forEach((value, axis) => {
        least[axis] = Math.min(least[axis], value);
        most[axis] = Math.max(most[axis], value);
      });
      return at.join(" ");
    });
    corners.forEach((from, corner) => {
      const to = corners[(corner + 1) % 3];
      const [key, way] = from < to ? [`${from}|${to}`, 1] : [`${to}|${from}`, -1];
      edges.set(key, (edges.get(key) ?? 0) + way);
    });
  }
  const openEdges = [...edges.values()].filter((sum) => sum !== 0).length;
  return { triangles, box: most.map((value, axis) => value - least[axis]), openEdges };
}

describe("files", () => {
  const design = at("written.headpiece.ts", "fresh");
  before(async () => {
    await write(at("own.wearer.json", "fresh"), '{ "name": "Own", "units": "cm", "girth": 56 }\n');
    await write(design, ringDesign({ name: "Written", wearer: "own.wearer.json" }));
  });
  after(async () => {
    await setTo("outputFolder", undefined);
    await vscode.commands.executeCommand("workbench.action.closeAllEditors");
    for (const name of ["written.headpiece.ts", "own.wearer.json"]) await remove(at(name, "fresh"));
  });

  it("are exported to the folder of the setting: a closed STL, the same on its plate, reports, a drawing, a workshop sheet", async () => {
    await setTo("outputFolder", "made");
    await open(design);
    await builtAs(design, "Written");
    const { report } = await (await api()).designs.planned(design);
    await vscode.commands.executeCommand("anadem.export", design);
    const made = at("made", "fresh").fsPath;
    const names = readdirSync(made).sort();
    assert.deepEqual(names, [
      "written.drawing.svg",
      "written.plate.3mf",
      "written.plate.stl",
      "written.report.json",
      "written.report.md",
      "written.sight.svg",
      "written.stl",
      "written.workshop.html",
    ]);
    assert.equal(readStl(`${made}/written.plate.stl`).openEdges, 0);
    const { box, openEdges } = readStl(`${made}/written.stl`);
    assert.equal(openEdges, 0);
    const { width, depth, height } = report!.boxMm;
    [width, depth, height].forEach((value, axis) => {
      assert.ok(Math.abs(box[axis] - value) < 0.06, `${box[axis]} mm is ${value} mm`);
    });
    assert.deepEqual(JSON.parse(readFileSync(`${made}/written.report.json`, "utf8")), report);
    await remove(at("made", "fresh"));
    await setTo("outputFolder", undefined);
  });

  it("the report for git is written beside the design, and a task finds it the same", async () => {
    await vscode.commands.executeCommand("anadem.keepReport", design);
    const kept = at("written.report.json", "fresh");
    assert.equal(JSON.parse(textOf(kept)).headpiece, "Written");
    assert.deepEqual(
      readdirSync(at(".", "fresh").fsPath).filter((name) => name === "made" || name === "out"),
      [],
    );
    assert.equal(await runTask(await taskFor("written")), 0);
    assert.equal(readStl(at("out/written.stl", "fresh").fsPath).openEdges, 0);
    await remove(kept);
    await remove(at("out", "fresh"));
  });

  it("a task that fails puts what was wrong among the problems", async () => {
    const bad = at("bad.headpiece.ts", "fresh");
    const text = ringDesign({
      name: "Bad",
      wearer: "own.wearer.json",
      options: "{ width: -1, thickness: 5 }",
    });
    await write(bad, text);
    assert.notEqual(await runTask(await taskFor("bad")), 0);
    const [problem] = await until("the problem is there", () => {
      const found = vscode.languages.getDiagnostics(bad);
      return found.length > 0 ? found : undefined;
    });
    assert.equal(problem.severity, vscode.DiagnosticSeverity.Error);
    assert.equal(text.split("\n")[problem.range.start.line].trim().startsWith("const ring = band("), true);
    await remove(bad);
  });
});

const taskFor = (name: string) =>
  until(`the task for ${name} is offered`, async () =>
    (await vscode.tasks.fetchTasks({ type: "anadem" })).find(
      (task) => task.definition.design === `${name}.headpiece.ts`,
    ),
  );

/** Runs a task; resolves to the exit code of its process. */
async function runTask(task: vscode.Task): Promise<number | undefined> {
  let listening: vscode.Disposable | undefined;
  const code = new Promise<number | undefined>((resolve) => {
    listening = vscode.tasks.onDidEndTaskProcess(({ execution, exitCode }) => {
      if (execution.task.name === task.name) resolve(exitCode);
    });
  });
  await vscode.tasks.executeTask(task);
  const ended = await code;
  listening?.dispose();
  return ended;
}
