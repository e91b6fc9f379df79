import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import type { RefitRow } from "../../../src/build/refit/refitRow";
import { type RefitEvents, type RefitRequest, refit } from "../../../src/build/refit/refitting";
import { CommandLine } from "../../cli/commandLine";

vi.setConfig({ testTimeout: 300_000, hookTimeout: 300_000 });

const wearer = (name: string, girth: number) =>
  JSON.stringify({
    name,
    units: "mm",
    girth,
    length: Math.round(girth / 2.9),
    breadth: Math.round(girth / 3.75),
    crownHeight: 128,
    ease: { girth: 8 },
  });

/** A foam band: light to build, and safe to wear. */
const bandText = ({ name = "Foam band", wearer = 'wearer: "marin.wearer.json",', radius = 5 } = {}) =>
  `import { band, headpiece, length } from "anadem";
export default headpiece({
  name: "${name}",
  ${wearer}
  parameters: { radius: length(${radius}, { least: 2, most: 20 }) },
  make: ({ head, parameters: { radius } }) => [band("ring", head.girthLine.raised(12), { radius })],
});
`;

let line: CommandLine;
let script: string;
const out = (...names: string[]) => join(line.folder, ...names);
const run = (request: Partial<RefitRequest>, events?: RefitEvents) =>
  refit(
    {
      designs: [line.path("band.headpiece.ts")],
      wearers: ["ebb", "marin"].map((name) => line.path(`${name}.wearer.json`)),
      processes: 2,
      ...request,
    },
    script,
    events,
  );
const filesBelow = (folder: string): string[] =>
  readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name));
const hashOf = (file: string) => createHash("sha256").update(readFileSync(file)).digest("hex");
const shortly = ({ wearerName, verdict, kept }: RefitRow) => [wearerName, verdict, kept];

beforeAll(async () => {
  line = await CommandLine.create();
  script = join(line.programs, "anadem.mjs");
  line.write("marin.wearer.json", wearer("Marin", 570));
  line.write("ebb.wearer.json", wearer("Ebb", 610));
  line.write("band.headpiece.ts", bandText());
});
afterAll(() => line.remove());

describe("rows", () => {
  let rows: readonly RefitRow[];
  const folder = () => out("rows");
  beforeAll(async () => {
    ({ rows } = await run({ folder: folder(), pictures: true }));
  });

  test("begin with the wearer whom the design names, and tell what changed from there", () => {
    expect(rows.map(({ wearerName }) => wearerName)).toEqual(["Marin", "Ebb"]);
    expect(rows[0].changes).toBeUndefined();
    expect(rows[1].changes?.map(({ key }) => key)).toContain("massPrintedG");
    const [marin, ebb] = rows;
    expect(marin).toMatchObject({
      headpiece: "Foam band",
      verdict: "wear",
      passes: true,
      fits: true,
      kept: false,
    });
    expect(marin.wayOn?.passes).toBe(true);
    expect(marin.girthEase).toBe(8);
    expect(Math.abs(marin.girthPlay! - 8)).toBeLessThan(0.5);
    expect(ebb.mass!).toBeGreaterThan(marin.mass!);
    expect(marin.hours!).toBeGreaterThan(0);
    expect(marin.filament!.grams).toBeGreaterThanOrEqual(marin.mass!);
    expect(marin.plate).toMatchObject({ fits: true });
  });

  test("have small pictures", () => {
    for (const { picture } of rows) {
      expect(picture).toMatch(/^<svg [^>]*><title>Foam band on \w+<\/title>.*<\/svg>$/s);
      expect(picture!.length).toBeLessThan(15_000);
    }
  });

  test("have files ready to print, the same bytes as anadem build makes", async () => {
    const names = rows[1].files.map((file) => file.slice(folder().length + 1)).sort();
    expect(names).toEqual(
      ["plate.3mf", "plate.stl", "report.json", "report.md", "stl"].map(
        (ending) => `band/ebb/band.${ending}`,
      ),
    );
    const { code } = await line.run([
      "build",
      "band.headpiece.ts",
      "--wearer",
      "ebb.wearer.json",
      "--out",
      "single",
    ]);
    expect(code).toBe(0);
    for (const ending of ["stl", "plate.stl", "plate.3mf"]) {
      expect(hashOf(out("rows", "band", "ebb", `band.${ending}`))).toBe(
        hashOf(out("single", `band.${ending}`)),
      );
    }
  });

  test("that are good are kept; a change makes only its own rows anew", async () => {
    const stl = out("rows", "band", "ebb", "band.stl");
    const made = statSync(stl).mtimeMs;
    const again = await run({ folder: folder(), pictures: true });
    expect(again.rows.map(shortly)).toEqual([
      ["Marin", "wear", true],
      ["Ebb", "wear", true],
    ]);
    expect(again.rows.map((row) => ({ ...row, kept: false }))).toEqual(rows);
    expect(statSync(stl).mtimeMs).toBe(made);
    line.write("ebb.wearer.json", wearer("Ebb", 612));
    expect((await run({ folder: folder() })).rows.map(({ kept }) => kept)).toEqual([true, false]);
    rmSync(stl);
    expect((await run({ folder: folder() })).rows.map(({ kept }) => kept)).toEqual([true, false]);
    expect(existsSync(stl)).toBe(true);
    const limits = line.write("anadem.limits.json", JSON.stringify({ leastGap: 0.1 }));
    const limited = await run({ folder: folder() });
    rmSync(limits);
    expect(limited.rows.map(({ kept }) => kept)).toEqual([false, false]);
    expect((await run({ folder: folder(), afresh: true })).rows.map(({ kept }) => kept)).toEqual([
      false,
      false,
    ]);
  });
});

test("what is wrong with a wearer or a design is told in its rows, and stops no other", async () => {
  const broken = line.write(
    "broken.wearer.json",
    '{\n  "name": "Wrack",\n  "units": "mm",\n  "girht": 570\n}\n',
  );
  const design = line.write("broken.headpiece.ts", "export default headpiece({\n");
  const { rows } = await run({
    designs: [design, line.path("band.headpiece.ts")],
    wearers: [broken, line.path("marin.wearer.json")],
  });
  expect(rows.map(({ headpiece, wearerName, verdict }) => [headpiece, wearerName, verdict])).toEqual([
    ["broken", "broken", "failed"],
    ["broken", "marin", "failed"],
    ["Foam band", "Marin", "wear"],
    ["Foam band", "broken", "failed"],
  ]);
  expect(rows[0].messages[0]).toMatchObject({ severity: "error", file: design, line: 2 });
  expect(rows[3].messages[0]).toMatchObject({ severity: "error", file: broken, line: 4 });
});

test("a design that names nobody begins with the first wearer that is given", async () => {
  const design = line.write("nobody.headpiece.ts", bandText({ wearer: "" }));
  const folder = out("nobody");
  const first = await run({ designs: [design], folder });
  expect(first.rows.map(({ wearerName }) => wearerName)).toEqual(["Ebb", "Marin"]);
  expect(first.rows[0].messages).toEqual([]);
  expect((await run({ designs: [design], folder })).rows.map(({ kept }) => kept)).toEqual([true, true]);
});

test("cells are made as they are asked for, each in a folder of its own", async () => {
  const cell = { design: line.path("band.headpiece.ts"), wearer: line.path("marin.wearer.json") };
  const folder = out("cells");
  const small = line.write(
    "small.printer.json",
    JSON.stringify({
      name: "Small plate",
      plate: { shape: "rectangular", width: 130, depth: 130 },
      height: 100,
    }),
  );
  const cells = [
    { ...cell, values: { radius: 7 }, name: "thick" },
    { ...cell, name: "thin" },
    { ...cell, printer: small, name: "cut", isCut: true },
  ];
  const { rows } = await run({ designs: [], wearers: [], cells, folder });
  expect(rows[0].mass!).toBeGreaterThan(1.3 * rows[1].mass!);
  expect(rows.map(({ changes }) => changes)).toEqual([undefined, undefined, undefined]);
  expect(rows[1].files[0]).toBe(join(folder, "band", "marin", "thin", "band.stl"));
  expect(rows[2]).toMatchObject({ passes: true, plate: { fits: false, printer: "Small plate" } });
  expect(rows[2].plate!.pieces).toBeGreaterThan(1);
  expect(rows[2].files.some((file) => file.endsWith("band.piece-A.stl"))).toBe(true);
  const again = await run({ designs: [], wearers: [], cells, folder });
  expect(again.rows.map(({ kept }) => kept)).toEqual([true, true, true]);
  const controller = new AbortController();
  const told: number[][] = [];
  const stopped = run(
    { designs: [], wearers: [], cells, folder },
    {
      signal: controller.signal,
      onRow: () => controller.abort(new DOMException("stop", "AbortError")),
      onStopped: (kept, all) => told.push([kept, all]),
    },
  );
  await expect(stopped).rejects.toThrow("stop");
  expect(told).toEqual([[3, 3]]);
});

test("an abort ends the processes and leaves nothing half written; what was made is kept", async () => {
  const folder = out("aborted");
  const controller = new AbortController();
  const told: number[][] = [];
  const stopped = run(
    { folder, processes: 1 },
    {
      signal: controller.signal,
      onRow: () => controller.abort(new DOMException("stop", "AbortError")),
      onStopped: (kept, all) => told.push([kept, all]),
    },
  );
  await expect(stopped).rejects.toThrow("stop");
  expect(told).toEqual([[1, 2]]);
  expect(jobProcesses()).toEqual([]);
  expect(filesBelow(folder).filter((file) => /\.tmp$|\.lock$/.test(file))).toEqual([]);
  expect((await run({ folder })).rows.map(({ kept }) => kept)).toEqual([true, false]);
});

test("a process killed by its id half way costs nothing but time", async () => {
  const folder = out("killed");
  let killed = 0;
  const { rows } = await run(
    { folder, processes: 1 },
    {
      onRow: () => {
        for (const pid of killed++ === 0 ? jobProcesses() : []) process.kill(pid, "SIGKILL");
      },
    },
  );
  expect(killed).toBe(2);
  expect(rows.map(({ verdict }) => verdict)).toEqual(["wear", "wear"]);
});

/** Ids of the processes that do jobs for this one. */
function jobProcesses(): number[] {
  const list = execFileSync("ps", ["-o", "pid=,args=", "--ppid", String(process.pid)], { encoding: "utf8" });
  return list
    .split("\n")
    .filter((text) => text.includes("job-process"))
    .map((text) => Number.parseInt(text, 10));
}
