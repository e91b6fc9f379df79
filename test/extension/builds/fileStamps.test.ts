import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { FileStamps } from "../../../src/extension/builds/fileStamps";

const folder = mkdtempSync(join(tmpdir(), "anadem-stamps-"));
afterAll(() => rmSync(folder, { recursive: true }));

test("what the editor wrote is no news, what others wrote is, and so is what is gone", async () => {
  const file = join(folder, "a.wearer.json");
  const stamps = new FileStamps();
  writeFileSync(file, "{}");
  stamps.expect(file);
  expect(await stamps.isNews(file)).toBe(false);
  stamps.see(file);
  expect(await stamps.isNews(file)).toBe(false);
  writeFileSync(file, '{ "girth": 556 }');
  expect(await stamps.isNews(file)).toBe(true);
  expect(await stamps.isNews(file)).toBe(false);
  rmSync(file);
  expect(await stamps.isNews(file)).toBe(true);
});

test("a file that was never seen is news", async () => {
  expect(await new FileStamps().isNews(join(folder, "b.ts"))).toBe(true);
});
