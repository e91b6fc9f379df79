import { spawn } from "node:child_process";
import { mkdirSync, readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { rename, rm, writeFile } from "node:fs/promises";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { type FileSystem, placeFiles } from "../../src/build/placeFiles";
import { MessageError } from "../../src/message";
import { bundleEvaluator } from "./bundleEvaluator";
import { DesignFolder } from "./designFolder";

let folder: DesignFolder;
beforeEach(() => {
  folder = new DesignFolder();
});
afterEach(() => folder.remove());

const read = (name: string) => readFileSync(folder.file(name), "utf8");
const names = (under = "") => readdirSync(folder.file(under)).sort();

/** The disk, with steps of it replaced. */
const diskWith = (over: Partial<FileSystem>): FileSystem => ({
  mkdir: async (path) => mkdirSync(path, { recursive: true }),
  write: (path, content) => writeFile(path, content, { flag: "wx" }),
  rename,
  isFolder: async (path) => statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false,
  remove: (path) => rm(path, { force: true }),
  ...over,
});

const failure = (code: string) => Object.assign(new Error(code), { code });

/** The n-th call (from 0) fails, after what the call would have done by half. */
const failingWrite = (nth: number, code: string): FileSystem["write"] => {
  let calls = 0;
  return async (path, content) => {
    if (calls++ < nth) return writeFile(path, content);
    await writeFile(path, content.slice(0, 2));
    throw failure(code);
  };
};

async function messageOf(placing: Promise<void>) {
  const error = await placing.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  expect(error).toBeInstanceOf(MessageError);
  const { messages } = error as MessageError;
  expect(messages).toHaveLength(1);
  return messages[0];
}

test("writes bytes and texts into folders that it makes", async () => {
  await placeFiles([
    { path: folder.file("out/deep/crown.stl"), content: new Uint8Array([1, 2, 255]) },
    { path: folder.file("out/crown.report.md"), content: "Koralle für die Bühne\n" },
  ]);
  expect([...readFileSync(folder.file("out/deep/crown.stl"))]).toEqual([1, 2, 255]);
  expect(read("out/crown.report.md")).toBe("Koralle für die Bühne\n");
  expect(names("out")).toEqual(["crown.report.md", "deep"]);
  expect(names("out/deep")).toEqual(["crown.stl"]);
});

test("replaces the last files", async () => {
  folder.write({ "crown.stl": "old" });
  await placeFiles([{ path: folder.file("crown.stl"), content: "new" }]);
  expect(read("crown.stl")).toBe("new");
  expect(process.listenerCount("SIGINT")).toBe(0);
});

describe("a failure leaves the last good files and nothing else", () => {
  beforeEach(() => folder.write({ "a.stl": "old a", "b.json": "old b" }));
  const files = () => [
    { path: folder.file("a.stl"), content: "new a" },
    { path: folder.file("b.json"), content: "new b" },
  ];
  const expectOld = () => {
    expect([read("a.stl"), read("b.json")]).toEqual(["old a", "old b"]);
    expect(names()).toEqual(["a.stl", "b.json"]);
  };

  test.each([
    [0, "ENOSPC", "a.stl", "the disk is full"],
    [1, "ENOSPC", "b.json", "the disk is full"],
    [1, "EACCES", "b.json", "is not allowed"],
    [0, "EROFS", "a.stl", "can only be read"],
    [0, "EIO", "a.stl", "EIO"],
  ])("write %i fails with %s", async (nth, code, name, reason) => {
    const fileSystem = diskWith({ write: failingWrite(nth, code) });
    const message = await messageOf(placeFiles(files(), { fileSystem }));
    expect(message).toMatchObject({ id: "file-not-written", severity: "error", file: folder.file(name) });
    expect(message.text).toContain(folder.file(name));
    expect(message.text).toContain(reason);
    expectOld();
  });

  test("the first rename fails", async () => {
    const fileSystem = diskWith({ rename: () => Promise.reject(failure("EBUSY")) });
    const message = await messageOf(placeFiles(files(), { fileSystem }));
    expect(message.text).toMatch(/another program holds it/);
    expectOld();
  });

  test("aborted before, and between two files", async () => {
    await expect(placeFiles(files(), { signal: AbortSignal.abort(new Error("stop")) })).rejects.toThrow(
      "stop",
    );
    expectOld();
    const abort = new AbortController();
    const fileSystem = diskWith({
      write: async (path, content) => {
        await writeFile(path, content);
        abort.abort(new Error("stop"));
      },
    });
    await expect(placeFiles(files(), { signal: abort.signal, fileSystem })).rejects.toThrow("stop");
    expectOld();
  });

  test("a folder stands where a file should go", async () => {
    mkdirSync(folder.file("c.3mf"));
    const message = await messageOf(placeFiles([...files(), { path: folder.file("c.3mf"), content: "c" }]));
    expect(message.text).toMatch(/there is a folder of that name/);
    rmSync(folder.file("c.3mf"), { recursive: true });
    expectOld();
  });

  test("a file stands where a folder should be", async () => {
    const path = folder.file("a.stl/deep/c.3mf");
    const message = await messageOf(placeFiles([...files(), { path, content: "c" }]));
    expect(message.text).toMatch(/is a file, not a folder/);
    expectOld();
  });

  test("two files of one name", async () => {
    const again = { path: folder.file("x/../a.stl"), content: "c" };
    expect((await messageOf(placeFiles([...files(), again]))).text).toMatch(/two files/);
    expectOld();
  });

  test("Ctrl-C while writing ends the process by that signal", async () => {
    const { entry, remove } = await bundleEvaluator(new URL("./slowWriter.ts", import.meta.url).pathname);
    const writer = spawn(process.execPath, [entry, folder.path], { stdio: ["ignore", "pipe", "inherit"] });
    await new Promise((resolve) => writer.stdout.once("data", resolve));
    expect(names().length).toBe(3);
    const ended = new Promise((resolve) => writer.once("exit", (_, signal) => resolve(signal)));
    writer.kill("SIGINT");
    expect(await ended).toBe("SIGINT");
    expectOld();
    remove();
  });
});
