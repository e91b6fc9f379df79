import { strict as assert } from "node:assert";
import { execFileSync } from "node:child_process";
import { after, before, describe, it } from "mocha";
import * as vscode from "vscode";
import { api, at, builtAs, open, remove, save, textOf, until, write } from "./support";
import { ringDesign } from "./trials";

const spikes = (count: number, radius = 5) =>
  Array.from(
    { length: count },
    (_, i) =>
      `, tube("spike ${i + 1}", [onHead({ azimuth: ${60 * i}, elevation: 5 }), onHead({ azimuth: ${60 * i}, elevation: 24, lift: 30 })], { radius: [${radius}, 3] })`,
  ).join("");

describe("versions", () => {
  const folder = at("versions");
  const design = at("versions/court ring.headpiece.ts");
  /** Git as it is in a test: it knows nothing of the machine's settings. */
  const git = (...words: string[]) =>
    execFileSync("git", words, {
      cwd: folder.fsPath,
      encoding: "utf8",
      env: {
        ...process.env,
        GIT_CONFIG_GLOBAL: "/dev/null",
        GIT_CONFIG_NOSYSTEM: "1",
        GIT_AUTHOR_NAME: "The Tide Court",
        GIT_AUTHOR_EMAIL: "court@tide.invalid",
        GIT_COMMITTER_NAME: "The Tide Court",
        GIT_COMMITTER_EMAIL: "court@tide.invalid",
      },
    }).trim();
  const preview = async () => (await api()).previews.find((each) => each.design === design.toString());
  const known = async () => (await api()).comparison(design);
  const compare = (revision: string) =>
    vscode.commands.executeCommand("anadem.compareWithCommit", design, revision);
  /** Waits until the picture shows the piece of now beside this commit. */
  const shownBeside = (hash: string) =>
    until(
      `the picture is beside ${hash}`,
      async () => {
        const comparison = await known();
        const isDone = comparison?.result && !comparison.isOutdated && comparison.stage === undefined;
        return isDone && hash.startsWith((await preview())?.comparedWith ?? "none") ? comparison : undefined;
      },
      { tell: () => known },
    );
  let first: string;

  before(async () => {
    await vscode.workspace.fs.createDirectory(folder);
    await write(at("versions/minnow.wearer.json"), textOf(at("minnow.wearer.json")));
    await write(design, ringDesign({ name: "Two spikes", more: spikes(2) }));
    git("init", "--quiet", "--initial-branch=main");
    git("add", "--all");
    git("commit", "--quiet", "-m", "Ring: two spikes");
    first = git("rev-parse", "HEAD");
    await open(design);
    await builtAs(design, "Two spikes");
  });
  after(async () => {
    await vscode.commands.executeCommand("workbench.action.closeAllEditors");
    await remove(folder);
  });

  it("a piece that is not as it was committed is shown beside the commit, with what was added", async () => {
    await save(design, ringDesign({ name: "Three spikes", more: spikes(3) }));
    await builtAs(design, "Three spikes");
    await compare("HEAD");
    const { asked, result } = await shownBeside(first);
    assert.equal(asked, "HEAD");
    const { comparison } = result!;
    assert.equal(comparison.revision.hash, first);
    assert.equal(comparison.revision.subject, "Ring: two spikes");
    assert.deepEqual(
      comparison.parts.map(({ name, change }) => [name, change]),
      [["spike 3", "added"]],
    );
    // A spike of 30 mm and more whose radius goes from 5 to 3 mm: a frustum of some 1600 mm³, less what the ring has.
    assert.ok(comparison.added > 800 && comparison.added < 3500, `${comparison.added} mm³ added`);
    assert.ok(comparison.removed < 5, `${comparison.removed} mm³ removed`);
    assert.ok(comparison.greatestDistance > 15, `${comparison.greatestDistance} mm away`);
  });

  it("after a save it is compared with the same commit again, also when HEAD has moved on", async () => {
    git("add", "--all");
    git("commit", "--quiet", "-m", "Ring: three spikes");
    await save(design, ringDesign({ name: "Thinner", more: spikes(2, 4) }));
    await until("it is outdated", async () => (await known())?.isOutdated);
    await builtAs(design, "Thinner");
    const { result } = await shownBeside(first);
    const { parts, added, removed } = result!.comparison;
    assert.deepEqual(
      parts.map(({ name, change }) => [name, change]),
      [
        ["spike 1", "changed"],
        ["spike 2", "changed"],
      ],
    );
    assert.ok(removed > 50 && added < 5, `${added} mm³ added, ${removed} mm³ removed`);
  });

  it("with another commit, by its short hash, takes the place of the one before", async () => {
    const second = git("rev-parse", "HEAD");
    await compare(second.slice(0, 9));
    const { result } = await shownBeside(second);
    const removed = result!.comparison.parts.filter(({ change }) => change === "removed");
    assert.deepEqual(
      removed.map(({ name }) => name),
      ["spike 3"],
    );
  });

  it("has the piece of now with its parameters as they were moved", async () => {
    const reaching = ringDesign({
      name: "Reaching",
      imports: 'import { length } from "anadem";\n',
      more: spikes(1).replace("lift: 30", "lift: reach"),
    });
    await save(
      design,
      reaching.replace(
        "make({ head })",
        "parameters: { reach: length(30, { least: 10, most: 90 }) },\n  make({ head, parameters: { reach } })",
      ),
    );
    await builtAs(design, "Reaching");
    git("add", "--all");
    git("commit", "--quiet", "-m", "Ring: a reach");
    const third = git("rev-parse", "HEAD");
    await compare("HEAD");
    assert.deepEqual((await shownBeside(third)).result!.comparison.parts, []);
    const { designs } = await api();
    await designs.setValues(design, { reach: 60 });
    const { result } = await shownBeside(third);
    assert.equal(result!.hasMovedValues, true);
    const { parts, added } = result!.comparison;
    assert.deepEqual(
      parts.map(({ name, change }) => [name, change]),
      [["spike 1", "changed"]],
    );
    assert.ok(added > 800, `${added} mm³ added`);
    await vscode.commands.executeCommand("anadem.resetParameters", design);
  });

  it("with a commit that is not there says so, and shows none", async () => {
    await compare("no-such-tide");
    const comparison = await known();
    assert.equal(comparison?.result, undefined);
    const [message] = comparison!.messages;
    assert.equal(message.severity, "error");
    assert.match(message.text, /no-such-tide/);
    await until("the picture is alone", async () => {
      const shown = await preview();
      return shown !== undefined && shown.comparedWith === undefined;
    });
    await vscode.commands.executeCommand("notifications.clearAll");
  });

  it("ends by its command, and leaves no process behind", async () => {
    await compare("HEAD~2");
    await shownBeside(first);
    // Ended while it is being made again.
    await save(design, ringDesign({ name: "Once more", more: spikes(1) }));
    const ids = await until("a process compares", async () => {
      const { jobProcessIds } = await api();
      return jobProcessIds.length > 0 ? [...jobProcessIds] : undefined;
    });
    await vscode.commands.executeCommand("anadem.endComparison", design);
    assert.equal(await known(), undefined);
    await until("the picture is alone", async () => {
      const shown = await preview();
      return shown !== undefined && shown.comparedWith === undefined;
    });
    await until("its process is gone", async () => (await api()).jobProcessIds.length === 0);
    for (const id of ids) assert.throws(() => process.kill(id, 0), { code: "ESRCH" });
  });
});
