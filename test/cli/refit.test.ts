import { execFileSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { afterAll, beforeAll, expect, test } from "vitest";
import { CommandLine, ended } from "./commandLine";

const heads = [548, 562, 577, 590, 604];
const design = `import { band, headpiece } from "anadem";
export default headpiece({
  name: "Foam band",
  wearer: "cast/head-562.wearer.json",
  make: ({ head }) => [band("ring", head.girthLine.raised(12), { radius: 5 })],
});
`;
const command = ["refit", "band.headpiece.ts", "--wearers", "cast"];

let line: CommandLine;
beforeAll(async () => {
  line = await CommandLine.create();
  line.write("band.headpiece.ts", design);
  for (const girth of heads) {
    const wearer = {
      name: `Head ${girth}`,
      units: "mm",
      girth,
      length: Math.round(girth / 2.9),
      breadth: Math.round(girth / 3.75),
      crownHeight: 128,
    };
    line.write(`cast/head-${girth}.wearer.json`, JSON.stringify(wearer));
  }
  line.write("cast/more/deep.wearer.json", "not looked at");
});
afterAll(() => line.remove());

const rowsMade = (folder: string) =>
  heads.filter((girth) => existsSync(line.path(join(folder, "band", `head-${girth}`, "row.json"))));
const litter = (folder: string) =>
  readdirSync(line.path(folder), { recursive: true }).filter((name) => /\.tmp$|\.lock$/.test(String(name)));

/** Processes that do jobs of the programs under test. */
const jobProcesses = () =>
  execFileSync("ps", ["-eo", "args="], { encoding: "utf8" })
    .split("\n")
    .filter((text) => text.includes(line.programs) && text.includes("job-process"));

test("makes one table of a folder of wearers, for the eye, as JSON and as Markdown", async () => {
  const { code, out, err } = await line.run([...command, "--out", "made"]);
  expect(err).toBe("");
  expect(code).toBe(0);
  const lines = out.split("\n").filter((text) => text.startsWith("  Foam band  "));
  expect(lines.map((text) => text.match(/Head \d+/)![0])).toEqual(
    [562, 548, 577, 590, 604].map((girth) => `Head ${girth}`),
  );
  expect(out).toContain("Against the first wearer of the design");
  expect(out).toContain("5 rows: 5 pass.");
  expect(out).toContain("This is costume, not protective equipment");
  const table = JSON.parse(line.read("made/refit.json"));
  expect(table.rows.map(({ wearerName }: { wearerName: string }) => wearerName)[0]).toBe("Head 562");
  expect(line.read("made/refit.md").match(/^\| Foam band \|/gm)).toHaveLength(5);
  const again = await line.run([...command, "--out", "made", "--json"]);
  const { ok, rows, cautions, files } = JSON.parse(again.out);
  expect([ok, rows.length, cautions.length > 5, files.length]).toEqual([true, 5, true, 2]);
  expect(rows.every(({ kept }: { kept: boolean }) => kept)).toBe(true);
  // The same pieces give the same table, whenever they were made.
  expect(JSON.parse(line.read("made/refit.json"))).toEqual(table);
});

test("killed by its id half way, it goes on from there, and comes to the same table", async () => {
  const child = line.start([...command, "--out", "killed", "--processes", "1"]);
  while (rowsMade("killed").length < 2) await wait(10);
  process.kill(child.pid!, "SIGKILL");
  expect((await ended(child)).signal).toBe("SIGKILL");
  // Its processes end by themselves.
  while (jobProcesses().length > 0) await wait(100);
  const before = rowsMade("killed").length;
  expect(before).toBeLessThan(heads.length);
  const { code, out } = await line.run([...command, "--out", "killed", "--json"]);
  expect(code).toBe(0);
  const { rows } = JSON.parse(out);
  expect(rows.filter(({ kept }: { kept: boolean }) => kept)).toHaveLength(before);
  expect(litter("killed")).toEqual([]);
  const stl = (folder: string) =>
    heads.map((girth) => readFileSync(line.path(`${folder}/band/head-${girth}/band.stl`)).toString("base64"));
  expect(stl("killed")).toEqual(stl("made"));
});

test("two at once in one folder do not spoil each other", async () => {
  const both = await Promise.all(
    [1, 2].map(() => line.run([...command, "--out", "both", "--processes", "1"])),
  );
  expect(both.map(({ code }) => code)).toEqual([0, 0]);
  expect(litter("both")).toEqual([]);
  const { out } = await line.run([...command, "--out", "both", "--json"]);
  expect(JSON.parse(out).rows.every(({ kept }: { kept: boolean }) => kept)).toBe(true);
});

test("Ctrl-C says what is kept", async () => {
  const child = line.start([...command, "--out", "stopped", "--processes", "1"]);
  const end = ended(child);
  while (rowsMade("stopped").length < 1) await wait(10);
  child.kill("SIGINT");
  const { code, err } = await end;
  expect(code).toBe(130);
  expect(err).toMatch(/stopped; [1-4] of 5 rows are kept in stopped/);
  expect(litter("stopped")).toEqual([]);
});

test("a wearer that is wrong is told with its line, and the exit code says so", async () => {
  const wrong = line.write(
    "wrong.wearer.json",
    '{\n  "name": "Wrack",\n  "units": "mm",\n  "girth": "wide"\n}\n',
  );
  const { code, out, err } = await line.run([...command, "--wearers", wrong, "--out", "made"]);
  expect(code).toBe(1);
  expect(err).toContain("wrong.wearer.json:4:");
  expect(out).toContain("6 rows: 5 pass, 1 failed; 5 were good already.");
});

test("wrong use is told", async () => {
  const without = await line.run(["refit", "band.headpiece.ts"]);
  expect([without.code, without.err]).toEqual([2, expect.stringContaining("--wearers")]);
  line.write("empty/readme.txt", "");
  const empty = await line.run(["refit", "band.headpiece.ts", "--wearers", "empty"]);
  expect([empty.code, empty.err]).toEqual([2, expect.stringContaining("no *.wearer.json lies in")]);
  const none = await line.run([...command, "--processes", "none"]);
  expect([none.code, none.err]).toEqual([2, expect.stringContaining("whole number from 1")]);
});
