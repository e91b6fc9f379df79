import { readFileSync } from "node:fs";
import { afterAll, beforeAll, expect, test } from "vitest";
import { readStl } from "../../src/export/stl";
import { auditStl } from "../../src/export/stlAudit";
import { CommandLine } from "./commandLine";

let line: CommandLine;
beforeAll(async () => {
  line = await CommandLine.create();
}, 120_000);
afterAll(() => line.remove());

/** The mean man of ANSUR II, mm (Gordon et al. 2014, NATICK/TR-15/007). */
const man = { girth: 574.4, length: 199.5, breadth: 154.3, crownHeight: 131.2 };

/** Length of the convex outline of a mesh's level section, mm: a tape around the head, taken on the file alone. */
function girthAt({ positions, triangles }: ReturnType<typeof readStl>, z: number): number {
  const points: [number, number][] = [];
  for (let i = 0; i < triangles.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      const [a, b] = [3 * triangles[i + k], 3 * triangles[i + ((k + 1) % 3)]];
      const [za, zb] = [positions[a + 2] - z, positions[b + 2] - z];
      if (za * zb > 0 || za === zb) continue;
      const t = za / (za - zb);
      points.push([
        positions[a] + t * (positions[b] - positions[a]),
        positions[a + 1] + t * (positions[b + 1] - positions[a + 1]),
      ]);
    }
  }
  points.sort((p, q) => p[0] - q[0] || p[1] - q[1]);
  const half = (list: [number, number][]) => {
    const hull: [number, number][] = [];
    for (const p of list) {
      while (hull.length > 1) {
        const [a, b] = hull.slice(-2);
        if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0) break;
        hull.pop();
      }
      hull.push(p);
    }
    return hull.slice(0, -1);
  };
  const hull = [...half(points), ...half(points.toReversed())];
  return hull.reduce((sum, p, i) => {
    const q = hull[(i + 1) % hull.length];
    return sum + Math.hypot(q[0] - p[0], q[1] - p[1]);
  }, 0);
}

test("exports a closed head form whose measures are the given ones, and tells them", async () => {
  line.write("man.wearer.json", JSON.stringify({ name: "Fisher", units: "mm", ...man }));
  const { code, out } = await line.run(["head", "man.wearer.json", "--json"]);
  expect(code).toBe(0);
  const told = JSON.parse(out);
  expect(told).toMatchObject({ ok: true, messages: [] });
  expect(told.files.map(({ kind }: { kind: string }) => kind)).toEqual(["stl", "report-json"]);
  const [stl, json] = told.files.map(({ path }: { path: string }) => readFileSync(path));
  expect(JSON.parse(json.toString())).toEqual(told.report);
  expect(auditStl(stl)).toMatchObject({ closed: true, pieces: 1, voids: 0, insideOut: 0 });

  const mesh = readStl(stl);
  const axis = (k: number) =>
    Array.from({ length: mesh.positions.length / 3 }, (_, i) => mesh.positions[3 * i + k]);
  // The origin lies between the tragions: the crown height is the top.
  expect(Math.abs(Math.max(...axis(2)) - man.crownHeight)).toBeLessThan(0.5);
  const girths = Array.from({ length: 41 }, (_, i) => girthAt(mesh, 20.03 + i));
  expect(Math.abs(Math.max(...girths) - man.girth)).toBeLessThan(0.5);

  const text = JSON.stringify(told.report);
  for (const value of Object.values(man)) expect(text).toContain(String(value));
});

test("tells the measures for a person, with what was estimated", async () => {
  line.write("few.wearer.json", JSON.stringify({ name: "Ebb", units: "cm", girth: 57 }));
  const { code, out } = await line.run(["head", "few.wearer.json", "--out", "heads"]);
  expect(code).toBe(0);
  expect(out).toContain("Ebb");
  expect(out).toMatch(/girth +570\.0 mm +given/);
  expect(out).toMatch(/breadth +[\d.]+ mm +estimated/);
  expect(auditStl(readFileSync(line.path("heads/few.head.stl"))).closed).toBe(true);
});

test("a wearer that cannot be: at the field's line, exit code 1, nothing written, also with --json", async () => {
  line.write("wrong.wearer.json", '{\n  "name": "Ebb",\n  "units": "mm",\n  "girth": 57\n}\n');
  const plain = await line.run(["head", "wrong.wearer.json", "--out", "wrong"]);
  expect({ code: plain.code, out: plain.out }).toEqual({ code: 1, out: "" });
  expect(plain.err).toMatch(/^wrong\.wearer\.json:4:\d+: error: .*57.*\n {2}hint: /);
  const json = await line.run(["head", "wrong.wearer.json", "--json", "--out", "wrong"]);
  expect(json.code).toBe(1);
  expect(JSON.parse(json.out)).toMatchObject({
    ok: false,
    messages: [{ field: "girth" }],
    report: null,
    files: [],
  });
  expect(() => readFileSync(line.path("wrong/wrong.head.stl"))).toThrow();
});

test("a file that cannot be written, with --json: one object", async () => {
  line.write("ebb.wearer.json", JSON.stringify({ name: "Ebb", units: "mm", girth: 570 }));
  line.write("taken", "a file");
  const { code, out } = await line.run(["head", "ebb.wearer.json", "--json", "--out", "taken"]);
  expect(code).toBe(1);
  expect(JSON.parse(out)).toMatchObject({ ok: false, messages: [{ id: "file-not-written" }], files: [] });
  expect(line.read("taken")).toBe("a file");
});
