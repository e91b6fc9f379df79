import { copyFileSync, existsSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { root } from "../../src/tools/setup.mjs";
import { CommandLine } from "./commandLine";

let line: CommandLine;
beforeAll(async () => {
  line = await CommandLine.create();
});
afterAll(() => line.remove());

test("a blank sheet is written once, and again only when it may be replaced", async () => {
  const first = await line.run(["measure"]);
  expect(first.code).toBe(0);
  expect(first.out).toContain("measuring-sheet.html");
  const text = line.read("measuring-sheet.html");
  expect(text).toContain("Head girth");
  const second = await line.run(["measure"]);
  expect(second.code).toBe(2);
  expect(second.err).toContain("--replace");
  line.write("measuring-sheet.html", "mine");
  expect((await line.run(["measure", "--out", "other.html"])).code).toBe(0);
  expect(line.read("measuring-sheet.html")).toBe("mine");
  expect((await line.run(["measure", "--replace"])).code).toBe(0);
  expect(line.read("measuring-sheet.html")).toBe(text);
});

test("the sheet of a wearer holds its readings and tells what is missing", async () => {
  copyFileSync(join(root, "samples/minnow.wearer.json"), line.path("minnow.wearer.json"));
  const { code, out } = await line.run(["measure", "minnow.wearer.json", "--json"]);
  expect(code).toBe(0);
  const { ok, report, files } = JSON.parse(out);
  expect(ok).toBe(true);
  expect(report.measured[0]).toMatchObject({ measure: "girth", value: 53.5, readings: [53.4, 53.6] });
  expect(report.missing).toHaveLength(8);
  expect(files).toEqual([{ path: line.path("minnow.measuring-sheet.html"), kind: "measuring-sheet" }]);
  expect(line.read("minnow.measuring-sheet.html")).toContain("Pip, the Minnow");
});

test("readings are taken down: a new file, then more of them, with a warning where they differ", async () => {
  const made = await line.run([
    "measure",
    "maris.wearer.json",
    "--name",
    "Maris",
    "--units",
    "cm",
    "--reading",
    "length=19,1",
  ]);
  expect(made.code).toBe(0);
  expect(made.err).toContain("girth");
  expect(JSON.parse(line.read("maris.wearer.json"))).toEqual({
    name: "Maris",
    units: "cm",
    length: { readings: [19.1] },
  });
  const more = await line.run([
    "measure",
    "maris.wearer.json",
    "--reading",
    "girth=56.7",
    "--reading",
    "Girth=57.6cm",
  ]);
  expect(more.code).toBe(0);
  expect(more.out).toContain("57.15 cm");
  expect(more.err).toMatch(/maris\.wearer\.json:4:12: warning: .*differ by 0\.9 cm/);
  expect(JSON.parse(line.read("maris.wearer.json")).girth).toEqual({ readings: [56.7, 57.6] });
});

test("what cannot be is refused, and the file stays", async () => {
  const text = line.read("minnow.wearer.json");
  const cases: [string[], number, RegExp][] = [
    [["minnow.wearer.json", "--reading", "grith=53"], 2, /did you mean "girth"/],
    [["minnow.wearer.json", "--reading", "girth=wide"], 2, /no length/],
    [["minnow.wearer.json", "--reading", "girth"], 2, /missing/],
    [["minnow.wearer.json", "--reading", "girth=535mm"], 2, /write 53\.5 cm/],
    [["minnow.wearer.json", "--reading", "length=183"], 1, /no human has/],
    [["minnow.wearer.json", "--reading", "girth=53", "--units", "cm"], 2, /already/],
    [["minow.wearer.json", "--reading", "girth=53"], 2, /--name/],
    [["new.wearer.json", "--name", "N", "--units", "feet", "--reading", "girth=53"], 2, /mm, cm or in/],
    [["new.json", "--name", "N", "--reading", "girth=530"], 2, /new\.wearer\.json/],
    [["--reading", "girth=53"], 2, /needs the wearer's file/],
    [["minnow.wearer.json", "--name", "N"], 2, /goes with --reading/],
    [["nobody.wearer.json"], 2, /there is no file/],
  ];
  for (const [words, code, said] of cases) {
    const ran = await line.run(["measure", ...words]);
    expect(ran.err, words.join(" ")).toMatch(said);
    expect(ran.code, words.join(" ")).toBe(code);
  }
  expect(line.read("minnow.wearer.json")).toBe(text);
  expect(existsSync(line.path("new.wearer.json"))).toBe(false);
});
