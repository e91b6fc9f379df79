import { spawnSync } from "node:child_process";
import { chmodSync, copyFileSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { root } from "../../src/tools/setup.mjs";
import { GitFolder } from "../extension/versions/gitFolder";
import { CommandLine, designText, wearerText } from "./commandLine";

const recipes = join(root, "samples", "continuous-integration");
const design = "head pieces/ring.headpiece.ts";
const report = "head pieces/ring.report.json";

let line: CommandLine;
let git: GitFolder;
beforeAll(async () => {
  line = await CommandLine.create();
  git = new GitFolder();
  git.write({
    [design]: designText(),
    "head pieces/marin.wearer.json": wearerText,
    "other.headpiece.ts": "this is no design, and has no report",
  });
  const built = await line.run(["build", git.at(design), "--report", "--out", line.path("out")]);
  expect(built.code).toBe(0);
}, 120_000);
afterAll(() => {
  line.remove();
  git.remove();
});

const anadem = () => `${process.execPath} ${join(line.programs, "anadem.mjs")}`;

/** Runs a program in the repository, as `git` of `GitFolder` does. */
function run(program: string, words: readonly string[], more: NodeJS.ProcessEnv = {}) {
  const own = Object.entries(process.env).filter(([name]) => !name.startsWith("GIT_"));
  const env = {
    ...Object.fromEntries(own),
    GIT_CONFIG_GLOBAL: "/dev/null",
    GIT_CONFIG_NOSYSTEM: "1",
    ...Object.fromEntries(
      ["AUTHOR", "COMMITTER"].flatMap((who) => [
        [`GIT_${who}_NAME`, "The Tide Court"],
        [`GIT_${who}_EMAIL`, "court@tide.invalid"],
      ]),
    ),
    ...more,
  };
  const { status, stdout, stderr } = spawnSync(program, words, { cwd: git.path, encoding: "utf8", env });
  return { code: status, out: stdout, err: stderr };
}

const commit = (message: string) => run("git", ["commit", "--quiet", "-m", message], { ANADEM: anadem() });

describe("the pre-commit hook", () => {
  beforeAll(() => {
    mkdirSync(git.at(".git/hooks"), { recursive: true });
    copyFileSync(join(recipes, "pre-commit"), git.at(".git/hooks/pre-commit"));
    chmodSync(git.at(".git/hooks/pre-commit"), 0o755);
  });

  test("a report that matches is committed", () => {
    git.git("add", "--all");
    expect(commit("Ring with its report")).toMatchObject({ code: 0 });
  });

  test("a design that was changed is not, and it is told in a sentence what changed", () => {
    git.write({ [design]: designText().replace("length(30", "length(45") });
    git.git("add", "--all");
    const { code, err } = commit("Longer rays");
    expect(code).toBe(1);
    expect(err).toMatch(/the committed report no longer matches: (?:heavier|lighter) by /);
    expect(err).toContain(`${design} no longer makes ${report}`);
    expect(git.git("log", "-1", "--format=%s")).toBe("Ring with its report");
    expect(run("ls", [git.at(".git")]).out).not.toContain("anadem-check");
  });

  test("what is staged counts, not what lies in the folder; with its new report it is committed", async () => {
    const built = await line.run(["build", git.at(design), "--report", "--out", line.path("out")]);
    expect(built.code).toBe(0);
    git.git("add", "--all");
    git.write({ [design]: "not staged, and no design" });
    expect(commit("Longer rays")).toMatchObject({ code: 0 });
    git.git("checkout", "--quiet", "--", design);
  });

  test("a wearer that was changed is checked too; a file that no design reads is not", () => {
    git.write({ "notes.md": "notes" });
    git.git("add", "--all");
    expect(run("git", ["commit", "--quiet", "-m", "Notes"], { ANADEM: "false" })).toMatchObject({ code: 0 });
    git.write({ "head pieces/marin.wearer.json": wearerText.replace("570", "585") });
    git.git("add", "--all");
    expect(commit("A larger head")).toMatchObject({ code: 1 });
    git.git("reset", "--quiet", "--hard");
  });
});

describe("the workflow", () => {
  // A YAML reader that comes with the test tools.
  const { load } = createRequire(import.meta.url)("js-yaml") as { load: (text: string) => Workflow };
  interface Workflow {
    readonly on: object;
    readonly permissions: object;
    readonly jobs: Record<
      string,
      {
        readonly "runs-on": string;
        readonly steps: readonly { readonly run?: string; readonly with?: object }[];
      }
    >;
  }
  const workflow = load(readFileSync(join(recipes, "check-headpieces.yml"), "utf8"));
  const scripts = Object.values(workflow.jobs).flatMap(({ steps }) =>
    steps.flatMap(({ run: one }) => one ?? []),
  );
  /** `npx --no-install anadem …` as the runner would find it. */
  const environment = () => {
    const bin = line.path("bin");
    mkdirSync(bin, { recursive: true });
    writeFileSync(join(bin, "npx"), `#!/bin/sh\nshift 2\nexec ${anadem()} "$@"\n`, { mode: 0o755 });
    return { PATH: `${bin}:${process.env.PATH}` };
  };
  const bash = (script: string, more: NodeJS.ProcessEnv = {}) =>
    run("bash", ["-e", "-o", "pipefail", "-c", script], { ...environment(), ...more });

  test("reads as one, with leave to read only", () => {
    expect(Object.keys(workflow.on)).toEqual(["push", "pull_request"]);
    expect(workflow.permissions).toEqual({ contents: "read" });
    const [job] = Object.values(workflow.jobs);
    expect(job.steps.some((step) => JSON.stringify(step.with) === '{"fetch-depth":0}')).toBe(true);
    expect(scripts).toHaveLength(3);
  });

  test("its check passes with a good report, and fails with a stale one", () => {
    const check = scripts.find((script) => script.includes("--check"))!;
    expect(bash(check).code).toBe(0);
    const good = readFileSync(git.at(report), "utf8");
    git.write({ [report]: good.replace(/"massPrintedG": [\d.]+/, '"massPrintedG": 5') });
    const { code, err } = bash(check);
    expect(code).toBe(1);
    expect(err).toContain("the committed report no longer matches: heavier by ");
    git.write({ [report]: good });
  });

  test("its comparison writes what a pull request shows", () => {
    const compare = scripts.find((script) => script.includes("compare"))!;
    const summary = line.path("summary.md");
    const against = git.git("rev-list", "--max-parents=0", "HEAD");
    expect(bash(compare, { AGAINST: against, GITHUB_STEP_SUMMARY: summary }).code).toBe(0);
    expect(readFileSync(summary, "utf8")).toMatch(/^### ring against [0-9a-f]{40} /);
  });
});
