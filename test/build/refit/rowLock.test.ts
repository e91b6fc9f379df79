import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { hostname, tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { afterEach, beforeEach, expect, test } from "vitest";
import { alone, sweep } from "../../../src/build/refit/rowLock";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "anadem-lock-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

test("works in a folder one after the other", async () => {
  let [inside, most] = [0, 0];
  const work = () =>
    alone(folder, async () => {
      most = Math.max(most, ++inside);
      await wait(5);
      inside--;
    });
  await Promise.all(Array.from({ length: 6 }, work));
  expect(most).toBe(1);
  expect(readdirSync(folder)).toEqual([]);
});

test("takes over from a process that is gone, with what it left half written", async () => {
  // No process has an id above the greatest that Linux and macOS give out (4,194,304).
  writeFileSync(join(folder, ".row.lock"), `99999999 ${hostname()}`);
  writeFileSync(join(folder, ".crown.stl.0123456789ab.tmp"), "half");
  writeFileSync(join(folder, ".hidden.tmp"), "of somebody else");
  await alone(folder, async () => {
    expect(existsSync(join(folder, ".crown.stl.0123456789ab.tmp"))).toBe(false);
  });
  expect(readdirSync(folder)).toEqual([".hidden.tmp"]);
});

test("sweeps folders below, but not where a process writes", async () => {
  const [dead, live] = [join(folder, "crown", "marin"), join(folder, "crown", "ebb")];
  for (const each of [dead, live]) {
    mkdirSync(each, { recursive: true });
    writeFileSync(join(each, ".row.json.0123456789ab.tmp"), "half");
  }
  let swept: Promise<void> | undefined;
  await alone(live, async () => {
    writeFileSync(join(live, ".row.json.0123456789ac.tmp"), "being written");
    swept = sweep(folder);
    await wait(60);
    expect(existsSync(join(live, ".row.json.0123456789ac.tmp"))).toBe(true);
  });
  await swept;
  expect([...readdirSync(dead), ...readdirSync(live)]).toEqual([]);
});
