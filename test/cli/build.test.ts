import { readdirSync, readFileSync, statSync } from "node:fs";
import { basename, join } from "node:path";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { auditStl } from "../../src/export/stlAudit";
import { CommandLine, designText, wearerText } from "./commandLine";

let line: CommandLine;
beforeAll(async () => {
  line = await CommandLine.create();
  line.write("marin.wearer.json", wearerText);
}, 120_000);
afterAll(() => line.remove());
beforeEach(() => {
  line.write("ring.headpiece.ts", designText());
});

const design = "ring.headpiece.ts";
const files = (folder: string) => readdirSync(line.path(folder)).sort();
const bytesOf = (folder: string) =>
  Object.fromEntries(files(folder).map((name) => [name, readFileSync(join(line.path(folder), name))]));

describe("a good design", () => {
  test("gives its files, a report to read, and exit code 0", async () => {
    const { code, out, err } = await line.run(["build", design, "--out", "first"]);
    expect({ code, err }).toEqual({ code: 0, err: "" });
    expect(out).toContain("Tide ring for Marin");
    expect(out).toContain(join("first", "ring.stl"));
    expect(files("first")).toEqual([
      "ring.drawing.svg",
      "ring.plate.3mf",
      "ring.plate.stl",
      "ring.report.json",
      "ring.report.md",
      "ring.sight.svg",
      "ring.stl",
      "ring.workshop.html",
    ]);
    const audit = auditStl(readFileSync(line.path("first/ring.stl")));
    expect(audit).toMatchObject({ closed: true, pieces: 1 });
    expect(line.read("first/ring.drawing.svg")).toContain("<svg");
    const report = JSON.parse(line.read("first/ring.report.json"));
    // The bar that the project sets itself for the STL against its report.
    expect(Math.abs(audit.volumeMm3 / 1000 / report.volumeCm3 - 1)).toBeLessThan(1e-4);
  });

  test("goes to out beside the design unless told otherwise", async () => {
    line.write("elsewhere/far.headpiece.ts", designText({ wearer: "../marin.wearer.json" }));
    expect((await line.run(["build", join("elsewhere", "far.headpiece.ts")])).code).toBe(0);
    expect(files("elsewhere/out")).toContain("far.stl");
  });

  test("made twice: the same bytes of all files, wherever they go", async () => {
    // The first was made by the test before.
    await line.run(["build", line.path(design), "--out", "deep/again"]);
    const [a, b] = [bytesOf("first"), bytesOf("deep/again")];
    expect(Object.keys(b)).toEqual(Object.keys(a));
    for (const name of Object.keys(a)) expect(a[name].equals(b[name]), name).toBe(true);
  });

  test("--json: one object on standard output and nothing else", async () => {
    const { code, out } = await line.run(["build", design, "--json", "--out", "json"]);
    expect(code).toBe(0);
    const told = JSON.parse(out);
    expect(told).toMatchObject({
      ok: true,
      messages: [],
      report: { headpiece: "Tide ring", wearer: "Marin" },
    });
    expect(told.report).toEqual(JSON.parse(line.read("json/ring.report.json")));
    expect(told.files.map(({ kind }: { kind: string }) => kind).sort()).toEqual([
      "drawing-svg",
      "plate-3mf",
      "plate-stl",
      "report-json",
      "report-markdown",
      "sight-svg",
      "stl",
      "workshop-html",
    ]);
    for (const { path } of told.files) expect(statSync(path).isFile()).toBe(true);
    expect(told.files.map(({ path }: { path: string }) => basename(path)).sort()).toEqual(files("json"));
  });
});

describe("a faulty design", () => {
  const loose = designText({ part: 'tube("stray", [[0, 0, 300], [0, 0, 340]], { radius: 4 }),' });
  const place = () => {
    const before = loose.slice(0, loose.indexOf('tube("stray"')).split("\n");
    return `${design}:${before.length}:${before[before.length - 1].length + 1}`;
  };

  test("is told on the error stream as file:line:column: severity: text, with a hint; exit code 1", async () => {
    line.write(design, loose);
    const { code, out, err } = await line.run(["build", design, "--out", "none"]);
    expect({ code, out }).toEqual({ code: 1, out: "" });
    const [message, hint] = err.split("\n");
    expect(message).toMatch(new RegExp(`^${place().replace(/\./g, "\\.")}: error: "stray" `));
    expect(hint).toMatch(/^ {2}hint: \S/);
    expect(() => files("none")).toThrow();
  });

  test("--json: still one object", async () => {
    line.write(design, loose);
    const { code, out, err } = await line.run(["build", design, "--json", "--out", "none"]);
    expect(code).toBe(1);
    expect(JSON.parse(out)).toMatchObject({
      ok: false,
      messages: [{ id: "loose-piece", severity: "error", part: "stray", file: line.path(design) }],
      report: null,
      files: [],
    });
    expect(err).toContain("error:");
  });

  test("leaves the last good files as they are", async () => {
    await line.run(["build", design, "--out", "kept", "--report"]);
    const before = { ...bytesOf("kept"), report: Buffer.from(line.read("ring.report.json")) };
    for (const text of [
      loose,
      "export default 3;",
      "this is no design",
      designText({ head: 'throw new Error("tide");' }),
    ]) {
      line.write(design, text);
      expect((await line.run(["build", design, "--out", "kept", "--report"])).code).toBe(1);
    }
    const after = { ...bytesOf("kept"), report: Buffer.from(line.read("ring.report.json")) };
    expect(Object.keys(after)).toEqual(Object.keys(before));
    for (const [name, bytes] of Object.entries(before)) {
      expect(bytes.equals(after[name as keyof typeof after]), name).toBe(true);
    }
  });

  test("a time limit ends an endless design", async () => {
    line.write(design, designText({ head: "for (;;);" }));
    const { code, err } = await line.run(["build", design, "--time-limit", "0.5"]);
    expect(code).toBe(1);
    expect(err).toMatch(/^ring\.headpiece\.ts:2:\d+: error: .*0\.5 s/);
  });

  test("a folder in the place of a file is told, and nothing is written", async () => {
    line.write("blocked/ring.stl/inside", "");
    const { code, out } = await line.run(["build", design, "--json", "--out", "blocked"]);
    expect(code).toBe(1);
    expect(JSON.parse(out)).toMatchObject({ ok: false, messages: [{ id: "file-not-written" }], files: [] });
    expect(files("blocked")).toEqual(["ring.stl"]);
  });
});

describe("options", () => {
  const report = async (...words: string[]) => {
    const { code, out, err } = await line.run(["build", design, "--json", "--out", "options", ...words]);
    expect({ code, err: code === 0 ? "" : err }).toEqual({ code: 0, err: "" });
    return JSON.parse(out).report;
  };

  test("--set changes parameters, with or without a unit", async () => {
    const { parameters, parts } = await report("--set", "rays=5", "--set=reach=40 mm");
    expect(JSON.stringify(parts)).toContain('"ray 5"');
    expect(JSON.stringify(parameters)).toContain("40");
  });

  test.each([
    ["raays=5", "unknown-parameter", '"rays"'],
    ["rays=many", "wrong-value", "number"],
    ["rays=99", "out-of-range", "9"],
  ])("--set %s is refused", async (setting, id, hint) => {
    const { code, out } = await line.run(["build", design, "--json", "--set", setting]);
    expect(code).toBe(1);
    const { messages } = JSON.parse(out);
    expect(messages).toMatchObject([{ id, severity: "error" }]);
    expect(messages[0].suggestion).toContain(hint);
  });

  test("--wearer, --printer and --material stand in for the design's own", async () => {
    line.write("big.wearer.json", JSON.stringify({ name: "Big Ebb", units: "mm", girth: 610 }));
    line.write(
      "tiny.printer.json",
      JSON.stringify({ name: "Tiny", plate: { shape: "round", diameter: 90 }, height: 90 }),
    );
    line.write(
      "lead.material.json",
      JSON.stringify({ name: "Lead", density: 11.34, softening: [300, 327], strength: 12, modulus: 16 }),
    );
    const small = await report();
    const big = await report("--wearer", "big.wearer.json");
    expect(big.wearer).toBe("Big Ebb");
    expect(big.boxMm.width).toBeGreaterThan(small.boxMm.width + 2);
    const tiny = await report("--printer", "tiny.printer.json");
    expect(JSON.stringify(tiny)).toContain('"Tiny"');
    const lead = await report("--material", "lead.material.json");
    // Mass is volume times density.
    expect(lead.massSolidG / small.volumeCm3).toBeCloseTo(11.34, 2);
  });

  test("--report keeps a report beside the design; --check holds the design to it and writes nothing", async () => {
    line.write("checked/ring.headpiece.ts", designText({ wearer: "../marin.wearer.json" }));
    const checked = join("checked", "ring.headpiece.ts");
    const none = await line.run(["build", checked, "--check"]);
    expect(none.code).toBe(1);
    expect(none.err).toContain("hint:");
    expect((await line.run(["build", checked, "--report", "--out", "report-out"])).code).toBe(0);
    expect(line.read("checked/ring.report.json")).toBe(line.read("report-out/ring.report.json"));
    const before = files("checked");
    expect(await line.run(["build", checked, "--check"])).toMatchObject({ code: 0, err: "" });
    const differs = await line.run(["build", checked, "--check", "--set", "reach=45"]);
    expect(differs.code).toBe(1);
    expect(differs.err).toMatch(/^checked[\\/]ring\.report\.json:\d+:1: error: /);
    const json = await line.run(["build", checked, "--check", "--json"]);
    expect(JSON.parse(json.out)).toMatchObject({ ok: true, files: [] });
    expect(files("checked")).toEqual(before);
  });
});

describe("warnings", () => {
  test("do not fail a build", async () => {
    line.write(design, designText().replace(/ {2}wearer: .*\n/, ""));
    const { code, err } = await line.run(["build", design, "--out", "warned"]);
    expect(code).toBe(0);
    expect(err).toMatch(/^ring\.headpiece\.ts:3:16: warning: .*names no wearer/);
  });
});
