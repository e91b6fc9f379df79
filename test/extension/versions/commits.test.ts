import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { type Repository, repositoryOf } from "../../../src/build/versions/repository";
import {
  ago,
  commitOf,
  commitsIn,
  commitsTouching,
  headOf,
  namedCommits,
} from "../../../src/extension/versions/commits";
import { gitExecutable } from "../../../src/extension/versions/gitPath";
import { GitFolder } from "./gitFolder";

vi.setConfig({ testTimeout: 60_000, hookTimeout: 60_000 });

describe("a repository with a history", () => {
  const folder = new GitFolder();
  let repository: Repository;
  let first: string;
  let second: string;
  let last: string;
  beforeAll(async () => {
    folder.write({ "crown.headpiece.ts": "1", "parts/ström fern.ts": "1", "notes.txt": "1" });
    first = folder.commit("Crown: a first ring");
    folder.git("tag", "-a", "dress-rehearsal", "-m", "As it was worn");
    folder.write({ "parts/ström fern.ts": "2" });
    second = folder.commit("Fern: wider leaves\n\nThey were lost at the back of the hall.");
    folder.git("branch", "storm/ways");
    folder.write({ "notes.txt": "2" });
    last = folder.commit("Notes only");
    repository = await repositoryOf(folder.at("parts/ström fern.ts"));
  });
  afterAll(() => folder.remove());

  test("is found from a folder within it", () => {
    expect(repository.top).toBe(folder.path);
  });

  test("HEAD is its last commit", async () => {
    const { short, ...head } = (await headOf(repository.git))!;
    expect(head).toEqual({ hash: last, subject: "Notes only", seconds: Date.UTC(2026, 0, 3) / 1000 });
    expect(last.startsWith(short)).toBe(true);
  });

  test("lists the commits that touch a design or its inputs, newest first, each with its first line", async () => {
    const inputs = [folder.at("crown.headpiece.ts"), folder.at("parts/ström fern.ts")];
    const found = await commitsTouching(repository.git, repository.top, inputs);
    expect(found.map(({ hash, subject }) => [hash, subject])).toEqual([
      [second, "Fern: wider leaves"],
      [first, "Crown: a first ring"],
    ]);
    expect(found[0].seconds - found[1].seconds).toBe(86_400);
    const design = await commitsTouching(repository.git, repository.top, inputs.slice(0, 1));
    expect(design.map(({ hash }) => hash)).toEqual([first]);
  });

  test("files outside of it, or gone, are left out", async () => {
    const elsewhere = join(mkdtempSync(join(tmpdir(), "anadem-elsewhere-")), "far.ts");
    writeFileSync(elsewhere, "");
    const inputs = [elsewhere, folder.at("gone.ts"), folder.at("crown.headpiece.ts"), folder.path];
    expect((await commitsTouching(repository.git, repository.top, inputs)).map(({ hash }) => hash)).toEqual([
      first,
    ]);
    expect(await commitsTouching(repository.git, repository.top, [elsewhere])).toEqual([]);
    rmSync(join(elsewhere, ".."), { recursive: true });
  });

  test("names branches and tags, a tag by the commit that it is of", async () => {
    const named = await namedCommits(repository.git);
    expect(new Map(named.map(({ name, kind, subject }) => [name, [kind, subject]]))).toEqual(
      new Map([
        ["main", ["branch", "Notes only"]],
        ["storm/ways", ["branch", "Fern: wider leaves"]],
        ["dress-rehearsal", ["tag", "Crown: a first ring"]],
      ]),
    );
    const tag = named.find(({ name }) => name === "dress-rehearsal")!;
    expect(first.startsWith(tag.short)).toBe(true);
  });

  test.each([
    ["HEAD", () => last],
    [" HEAD~2 ", () => first],
    ["storm/ways", () => second],
    ["dress-rehearsal", () => first],
    ["main@{0}", () => last],
  ])("knows the commit of %j", async (text, hash) => {
    expect((await commitOf(repository.git, text))?.hash).toBe(hash());
  });

  test.each(["", "  ", "nowhere", "HEAD~9", "HEAD:notes.txt", "a b", "HEAD..main", "\0"])(
    "knows none of %j",
    async (text) => {
      expect(await commitOf(repository.git, text)).toBeUndefined();
    },
  );

  test("what looks like an option is no revision and does nothing", async () => {
    for (const text of [`--output=${folder.at("written")}`, "-h", "--all", "--git-dir"]) {
      expect(await commitOf(repository.git, text)).toBeUndefined();
    }
    expect(existsSync(folder.at("written"))).toBe(false);
  });

  test("a file whose name looks like a pattern is only itself", async () => {
    folder.write({ "[n]otes*.ts": "1" });
    const hash = folder.commit("A strange name");
    expect(
      (await commitsTouching(repository.git, repository.top, [folder.at("[n]otes*.ts")])).map(
        (one) => one.hash,
      ),
    ).toEqual([hash]);
  });

  test("a file that was renamed is followed to its older names", async () => {
    const text = Array.from({ length: 20 }, (_, i) => `line ${i}`).join("\n");
    folder.write({ "reeds/ström ring.ts": text });
    const made = folder.commit("A ring of reeds");
    folder.git("mv", "reeds/ström ring.ts", "R100");
    const once = folder.commit("Another name");
    folder.git("mv", "R100", "wreath.ts");
    folder.write({ "wreath.ts": `${text}\none more` });
    const twice = folder.commit("And another");
    const found = await commitsTouching(repository.git, repository.top, [folder.at("wreath.ts")]);
    expect(found.map(({ hash }) => hash)).toEqual([twice, once, made]);
  });

  test("nothing that the repository's settings name is run", async () => {
    const marker = folder.at("ran");
    folder.write({ "run.sh": `#!/bin/sh\ntouch ${marker}\n` });
    folder.git("update-index", "--chmod=+x", "--add", "run.sh");
    for (const key of ["core.fsmonitor", "core.pager", "log.showSignature", "gpg.program"]) {
      folder.git("config", key, key === "log.showSignature" ? "true" : folder.at("run.sh"));
    }
    await commitsTouching(repository.git, repository.top, [folder.at("crown.headpiece.ts")]);
    await namedCommits(repository.git);
    await commitOf(repository.git, "HEAD");
    expect(existsSync(marker)).toBe(false);
  });
});

describe("where there is nothing to be listed", () => {
  const folder = new GitFolder();
  afterAll(() => folder.remove());

  test("before the first commit there is no HEAD", async () => {
    folder.write({ "a.ts": "1" });
    const repository = await repositoryOf(folder.at("a.ts"));
    expect(await headOf(repository.git)).toBeUndefined();
    expect(await commitsTouching(repository.git, repository.top, [folder.at("a.ts")])).toEqual([]);
    expect(await namedCommits(repository.git)).toEqual([]);
  });
});

test("git's executable: the first absolute path that exists, else the one on the search path", () => {
  expect(gitExecutable(undefined)).toBe("git");
  expect(gitExecutable("git-of-a-folder")).toBe("git");
  expect(gitExecutable(["./git", "/nowhere/git", process.execPath])).toBe(process.execPath);
  expect(gitExecutable(process.execPath)).toBe(process.execPath);
  expect(gitExecutable(42)).toBe("git");
});

test("a subject with signs of its own stays whole", () => {
  const hash = "a".repeat(40);
  expect(commitsIn(`${hash}\x1faaaaaaa\x1f1700000000\x1fCrown: "wider"; ü\0`)).toEqual([
    { hash, short: "aaaaaaa", seconds: 1_700_000_000, subject: 'Crown: "wider"; ü' },
  ]);
  expect(commitsIn("")).toEqual([]);
});

test.each([
  [0, "now"],
  [59, "59 seconds ago"],
  [60, "1 minute ago"],
  [3 * 3600, "3 hours ago"],
  [86_400, "yesterday"],
  [10 * 86_400, "last week"],
  [40 * 86_400, "last month"],
  [800 * 86_400, "2 years ago"],
])("%d s are %s", (passed, words) => {
  expect(ago(1_000_000_000, 1_000_000_000 + passed, "en")).toBe(words);
});
