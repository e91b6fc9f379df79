import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  realpathSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { type Version, versionOf } from "../../../src/build/versions/version";
import { type Message, MessageError } from "../../../src/message";
import { GitFolder } from "../../extension/versions/gitFolder";

let git: GitFolder;
beforeEach(() => {
  git = new GitFolder();
});
afterEach(() => git.remove());

const design = "ring.headpiece.ts";

/** What git's objects give of a design, looked at and removed. */
async function inVersion<T>(name: string, asked: string, look: (version: Version) => T): Promise<T> {
  const version = await versionOf(git.at(name), asked);
  try {
    return look(version);
  } finally {
    version.remove();
  }
}

async function trouble(name: string, asked: string, executable?: string): Promise<Message> {
  try {
    (await versionOf(git.at(name), asked, executable)).remove();
  } catch (error) {
    if (error instanceof MessageError) return error.messages[0];
    throw error;
  }
  throw new Error("a version was found");
}

const textIn = (version: Version, path: string) => readFileSync(join(dirname(version.design), path), "utf8");

describe("what is taken from a commit", () => {
  test("is laid out as in the repository, as it was committed, and removed again", async () => {
    git.write({ "a/ring.headpiece.ts": "old", "b/shared.ts": "export {};\r\n", "b/notes.txt": "no source" });
    git.commit("first");
    git.write({ "a/ring.headpiece.ts": "new", "b/late.ts": "later" });
    const where = await inVersion("a/ring.headpiece.ts", "HEAD", (version) => {
      expect(textIn(version, "ring.headpiece.ts")).toBe("old");
      expect(textIn(version, "../b/shared.ts")).toBe("export {};\r\n");
      expect(existsSync(join(dirname(version.design), "../b/notes.txt"))).toBe(false);
      expect(existsSync(join(dirname(version.design), "../b/late.ts"))).toBe(false);
      return version.design;
    });
    expect(existsSync(where)).toBe(false);
    expect(existsSync(join(dirname(where), "../.."))).toBe(false);
  });

  test("a scan that a data file names comes along, others do not", async () => {
    git.write({
      "d/ring.headpiece.ts": "",
      "d/marin.wearer.json": '{ "scan": { "file": "../scans/marin.stl" } }',
      "scans/marin.stl": "solid",
      "scans/other.stl": "solid",
    });
    git.commit("first");
    await inVersion("d/ring.headpiece.ts", "HEAD", (version) => {
      expect(textIn(version, "../scans/marin.stl")).toBe("solid");
      expect(existsSync(join(dirname(version.design), "../scans/other.stl"))).toBe(false);
    });
  });

  test("no hook, filter or monitor of the repository runs, and no option hides in a revision", async () => {
    const touched = git.at("touched");
    const script = git.at(".git/run.sh");
    git.write({ [design]: "text", ".gitattributes": "*.ts filter=own diff=own\n" });
    git.commit("first");
    writeFileSync(script, `#!/bin/sh\ntouch "${touched}"\ncat\n`, { mode: 0o755 });
    for (const setting of [
      "filter.own.smudge",
      "filter.own.clean",
      "diff.own.textconv",
      "core.fsmonitor",
      "core.pager",
      "diff.external",
    ]) {
      git.git("config", setting, script);
    }
    for (const hook of ["post-checkout", "reference-transaction", "post-index-change"]) {
      writeFileSync(git.at(`.git/hooks/${hook}`), `#!/bin/sh\ntouch "${touched}"\n`, { mode: 0o755 });
    }
    await inVersion(design, "HEAD", (version) => expect(textIn(version, design)).toBe("text"));
    for (const asked of [
      `--output=${touched}`,
      `--upload-pack=${script}`,
      "-h",
      "HEAD\0",
      "",
      "HEAD; touch touched",
    ]) {
      expect((await trouble(design, asked)).id).toBe("unknown-revision");
    }
    expect(existsSync(touched)).toBe(false);
  });

  test("variables that a hook leaves behind lead nowhere else", async () => {
    const other = new GitFolder();
    git.write({ [design]: "mine" });
    git.commit("first");
    const before = { ...process.env };
    process.env.GIT_DIR = other.at(".git");
    process.env.GIT_INDEX_FILE = other.at("index");
    try {
      await inVersion(design, "HEAD", (version) => expect(textIn(version, design)).toBe("mine"));
    } finally {
      process.env = before;
      other.remove();
    }
  });

  test("symbolic links within the repository are followed, those that lead out of it are not", async () => {
    git.write({ "a/ring.headpiece.ts": "", "lib/deep/tide.ts": "tide" });
    symlinkSync("../lib", git.at("a/linked"));
    symlinkSync("../lib/deep/tide.ts", git.at("a/tide.ts"));
    symlinkSync("/etc/hostname", git.at("a/out.ts"));
    symlinkSync("loop.ts", git.at("a/loop.ts"));
    git.commit("links");
    await inVersion("a/ring.headpiece.ts", "HEAD", (version) => {
      expect(textIn(version, "linked/deep/tide.ts")).toBe("tide");
      expect(textIn(version, "tide.ts")).toBe("tide");
      for (const name of ["out.ts", "loop.ts"]) {
        expect(existsSync(join(dirname(version.design), name))).toBe(false);
      }
    });
  });

  test("spaces, quotes and letters composed otherwise in a path", async () => {
    const composed = 'Hof "ä"/ébène ring.headpiece.ts'.normalize("NFC");
    git.write({ [composed]: "text" });
    git.commit("first");
    const other = composed.normalize("NFD");
    git.write({ [other]: "text" });
    await inVersion(composed, "HEAD", (version) => expect(readFileSync(version.design, "utf8")).toBe("text"));
    await inVersion(other, "HEAD", (version) => expect(readFileSync(version.design, "utf8")).toBe("text"));
  });

  test("a file outside the repository is told as one that is in no commit, unless it was given", async () => {
    git.write({ "a/ring.headpiece.ts": "" });
    git.commit("first");
    await inVersion("a/ring.headpiece.ts", "HEAD", (version) => {
      const own = join(dirname(version.design), "near.ts");
      const inputs = [version.design, own, "/court/marin.wearer.json", "/court/hall.printer.json"];
      const told = version.told({ messages: [], inputs }, ["/court/hall.printer.json"]);
      expect(told).toMatchObject([{ id: "outside-repository", severity: "error" }]);
      expect(told[0].text).toContain("/court/marin.wearer.json");
    });
  });

  test("of too many files the farthest are left out, which is told where the piece then fails", async () => {
    const many = Array.from({ length: 4_000 }, (_, i) => [`far/${i}.ts`, ""]);
    git.write({ ...Object.fromEntries(many), "a/ring.headpiece.ts": "", "a/near.ts": "near" });
    git.commit("first");
    await inVersion("a/ring.headpiece.ts", "HEAD", (version) => {
      expect(textIn(version, "near.ts")).toBe("near");
      const told = version.told({ messages: [], inputs: [version.design] }, []);
      expect(told).toMatchObject([{ id: "version-left-out", severity: "warning" }]);
      expect(told[0].text).toContain("2 files of HEAD were left out");
    });
  });

  test("limits of the repository are those of the commit; none is looked for above the folder of a version", async () => {
    git.write({ "a/ring.headpiece.ts": "", "anadem.limits.json": '{ "tightPlay": 1 }' });
    git.commit("first");
    git.write({ "anadem.limits.json": '{ "tightPlay": 2 }' });
    await inVersion("a/ring.headpiece.ts", "HEAD", (version) => {
      expect(textIn(version, "../anadem.limits.json")).toContain("1");
      expect(textIn(version, "../../anadem.limits.json")).toBe("{}");
    });
  });

  test("folders of processes that were ended at once are swept", async () => {
    git.write({ [design]: "" });
    git.commit("first");
    // No process has an id so large.
    const left = mkdtempSync(join(tmpdir(), "anadem-version-4194999-"));
    await inVersion(design, "HEAD", () => {});
    expect(existsSync(left)).toBe(false);
  });
});

describe("a design under another name", () => {
  test("renamed since and committed: the older name is found and told", async () => {
    git.write({ "old.headpiece.ts": "a design of some length\nwith lines\nthat stay\n" });
    git.commit("first");
    git.git("mv", "old.headpiece.ts", "new.headpiece.ts");
    git.commit("renamed");
    await inVersion("new.headpiece.ts", "HEAD~1", (version) => {
      expect(version.messages).toMatchObject([{ id: "design-renamed", severity: "note" }]);
      expect(version.messages[0].text).toContain("old.headpiece.ts");
      expect(readFileSync(version.design, "utf8")).toContain("that stay");
    });
  });

  test("not in the commit: the nearest path is named", async () => {
    git.write({ "a/tide-ring.headpiece.ts": "one", "Reed.headpiece.ts": "two" });
    git.commit("first");
    git.write({ "a/tide-rings.headpiece.ts": "", "b/tide-ring.headpiece.ts": "", "reed.headpiece.ts": "" });
    for (const [name, near] of [
      ["a/tide-rings.headpiece.ts", "a/tide-ring.headpiece.ts"],
      ["b/tide-ring.headpiece.ts", "a/tide-ring.headpiece.ts"],
      ["reed.headpiece.ts", "Reed.headpiece.ts"],
    ]) {
      const message = await trouble(name, "HEAD");
      expect(message).toMatchObject({ id: "not-in-commit", file: git.at(name) });
      expect(message.text).toContain(name);
      expect(message.suggestion).toContain(near);
    }
  });
});

describe("no such version", () => {
  test("no commit yet", async () => {
    git.write({ [design]: "" });
    expect((await trouble(design, "HEAD")).id).toBe("no-commit");
  });

  test("no repository", async () => {
    const folder = realpathSync(mkdtempSync(join(tmpdir(), "anadem-bare-")));
    try {
      writeFileSync(join(folder, design), "");
      await expect(versionOf(join(folder, design), "HEAD")).rejects.toMatchObject({
        messages: [{ id: "no-repository" }],
      });
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  test("an unknown revision: the nearest branch or tag is named; a range is told to be one", async () => {
    git.write({ [design]: "" });
    git.commit("first");
    git.git("branch", "dress-rehearsal");
    expect(await trouble(design, "dres-rehearsal")).toMatchObject({
      id: "unknown-revision",
      suggestion: 'did you mean "dress-rehearsal"?',
    });
    expect((await trouble(design, "main..dress-rehearsal")).text).toContain("range");
    expect((await trouble(design, "main:ring.headpiece.ts")).id).toBe("unknown-revision");
  });

  test("a shallow clone says that it is one", async () => {
    git.write({ [design]: "1" });
    git.commit("first");
    git.write({ [design]: "2" });
    git.commit("second");
    const clone = realpathSync(mkdtempSync(join(tmpdir(), "anadem-shallow-")));
    try {
      git.git("clone", "--quiet", "--depth=1", `file://${git.path}`, join(clone, "c"));
      await expect(versionOf(join(clone, "c", design), "HEAD~1")).rejects.toMatchObject({
        messages: [{ id: "unknown-revision", suggestion: expect.stringContaining("--unshallow") }],
      });
    } finally {
      rmSync(clone, { recursive: true });
    }
  });

  test("a clone without its files says so, and fetches nothing", async () => {
    git.write({ [design]: "1", "helper.ts": "old" });
    git.commit("first");
    git.write({ "helper.ts": "new" });
    git.commit("second");
    git.git("config", "uploadpack.allowFilter", "true");
    const clone = realpathSync(mkdtempSync(join(tmpdir(), "anadem-partial-")));
    try {
      git.git("clone", "--quiet", "--filter=blob:none", `file://${git.path}`, join(clone, "c"));
      await expect(versionOf(join(clone, "c", design), "HEAD~1")).rejects.toMatchObject({
        messages: [{ id: "commit-incomplete" }],
      });
    } finally {
      rmSync(clone, { recursive: true });
    }
  });

  test("a design in a folder that became a repository of its own", async () => {
    const inner = new GitFolder();
    inner.write({ [design]: "" });
    inner.commit("inner");
    git.write({ "a.ts": "" });
    git.git("-c", "protocol.file.allow=always", "submodule", "--quiet", "add", inner.path, "inner");
    git.commit("outer");
    // The design of a submodule belongs to that repository.
    await inVersion(`inner/${design}`, "HEAD", (version) => expect(version.revision.subject).toBe("inner"));
    inner.remove();
  });

  test("a repository of somebody else, which git does not read: told with what would make it", async () => {
    git.write({ [design]: "" });
    git.commit("first");
    const foreign = git.at("git-of-another.sh");
    // What git's own tests set to take every repository for another person's.
    writeFileSync(foreign, '#!/bin/sh\nGIT_TEST_ASSUME_DIFFERENT_OWNER=1 exec git "$@"\n', { mode: 0o755 });
    const before = { ...process.env };
    Object.assign(process.env, { GIT_CONFIG_GLOBAL: "/dev/null", GIT_CONFIG_NOSYSTEM: "1" });
    try {
      const message = await trouble(design, "HEAD", foreign);
      expect(message).toMatchObject({ id: "git-untrusted", file: git.at(design) });
      expect(message.suggestion).toContain(`safe.directory ${git.path}`);
    } finally {
      process.env = before;
    }
  });

  test("no git where it was said to be", async () => {
    git.write({ [design]: "" });
    const message = await trouble(design, "HEAD", "no-such-git-anywhere");
    expect(message).toMatchObject({ id: "git-not-found" });
    expect(message.text).toContain("no-such-git-anywhere");
    mkdirSync(git.at("empty"));
    expect((await trouble(design, "HEAD", git.at("empty"))).id).toBe("git-not-found");
  });
});
