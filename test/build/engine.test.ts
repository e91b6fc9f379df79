import { createRequire } from "node:module";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test, vi } from "vitest";
import { type Build, type BuildRequest, Engine } from "../../src/build/engine";
import { writeStl } from "../../src/export/stl";
import { auditStl } from "../../src/export/stlAudit";
import type { Message } from "../../src/message";
import { bundleEvaluator, realEvaluator } from "./bundleEvaluator";
import { DesignFolder } from "./designFolder";

vi.setConfig({ testTimeout: 300_000, hookTimeout: 300_000 });

const kernel = createRequire(import.meta.url).resolve("manifold-3d/manifold.wasm");
const name = "ring.headpiece.ts";

let engine: Engine;
let removeBundle: () => void;
let folder: DesignFolder;
beforeAll(async () => {
  const { entry, remove } = await bundleEvaluator(realEvaluator);
  removeBundle = remove;
  engine = new Engine({ evaluator: entry, kernel });
});
afterAll(async () => {
  await engine.dispose();
  removeBundle();
});
beforeEach(() => {
  folder = new DesignFolder();
  folder.write({
    "marin.wearer.json": JSON.stringify({ name: "Marin", units: "mm", girth: 560 }),
    "big.wearer.json": JSON.stringify({ name: "Ebb", units: "mm", girth: 610 }),
  });
});
afterEach(() => folder.remove());

/** A ring with more parts; `head`: before the headpiece; `more`: more of its declarations. */
const design = ({ parts = "", head = "", more = 'wearer: "marin.wearer.json",', make = "" } = {}) =>
  `import { band, count, cut, headpiece, hole, length, onHead, resting, solid, tube } from "anadem";
import { primitives } from "@jscad/modeling";
${head}
export default /*@@*/headpiece({
  name: "Tide ring",
  ${more}
  parameters: { height: length(12, { least: 0, most: 40 }), rays: count(2, { least: 0, most: 20_000 }) },
  make({ head, parameters: { height, rays }, random }) {
    ${make}
    const ring = band("ring", head.girthLine.raised(height), { radius: 5 });
    return [
      ring,
      head.around(rays, (azimuth, i) =>
        tube(\`ray \${i}\`, [ring.atAzimuth(azimuth), onHead({ azimuth, elevation: 40, lift: 20 })], { radius: 4 })),
      ${parts}
    ];
  },
});
`;

const build = (text: string, more: Partial<BuildRequest> = {}): Promise<Build> => {
  folder.write({ [name]: text });
  return engine.build({ design: folder.file(name), ...more });
};

/** The one error of a build that failed, which must stand at its mark. */
async function errorAtMark(text: string, more: Partial<BuildRequest> = {}): Promise<Message> {
  const { ok, messages, solid } = await build(text, more);
  expect(ok).toBe(false);
  const errors = messages.filter(({ severity }) => severity === "error");
  expect(errors).toHaveLength(1);
  const { file, line, column } = errors[0];
  expect({ text: errors[0].text, file, line, column }).toEqual({
    text: errors[0].text,
    ...folder.place(name),
  });
  if (errors[0].id !== "loose-piece" && errors[0].id !== "inside-head") expect(solid).toBeUndefined();
  return errors[0];
}

describe("a good design", () => {
  test("becomes one closed piece that knows its parts", async () => {
    const stages: string[] = [];
    const made = await build(design(), { progress: (stage) => stages.push(stage) });
    expect(made.messages).toEqual([]);
    expect(made.ok).toBe(true);
    expect(auditStl(writeStl(made.solid!.mesh))).toMatchObject({ closed: true, pieces: 1, insideOut: 0 });
    expect(made.result!.parts.map((part) => part.name)).toEqual(["ring", "ray 0", "ray 1"]);
    expect(new Set(made.solid!.mesh.partOfTriangle)).toEqual(new Set([-1, 0, 1, 2]));
    // Limits of fit and wear may be written beside it at any time.
    const files = ["marin.wearer.json", name, "anadem.limits.json"].map((file) => folder.file(file));
    expect(made.inputs.toSorted()).toEqual(files.toSorted());
    expect([...new Set(stages)]).toEqual([
      "reading the design",
      "running the design",
      "building the head",
      "sweeping",
      "uniting",
    ]);
  });

  test("is held to the limits of its folder, or of the nearest one above", async () => {
    folder.write({ "anadem.limits.json": '{ "massAdvised": 7 }' });
    const made = await build(design());
    expect(made.parties?.workspaceLimits).toEqual({ massAdvised: 7 });
    folder.write({ "anadem.limits.json": '{\n  "massAdvised": "7"\n}' });
    const wrong = await build(design());
    expect(wrong.ok).toBe(false);
    expect(wrong.messages[0]).toMatchObject({
      id: "not-a-number",
      file: folder.file("anadem.limits.json"),
      line: 2,
    });
    expect(wrong.inputs).toContain(folder.file("anadem.limits.json"));
  });

  test("twice, and in another engine: the same bytes", async () => {
    const first = writeStl((await build(design())).solid!.mesh);
    await build(design({ more: 'wearer: "big.wearer.json",' }));
    const again = writeStl((await build(design())).solid!.mesh);
    const { entry, remove } = await bundleEvaluator(realEvaluator);
    const other = new Engine({ evaluator: entry, kernel });
    const fresh = writeStl((await other.build({ design: folder.file(name) })).solid!.mesh);
    await other.dispose();
    remove();
    expect(Buffer.from(again).equals(first)).toBe(true);
    expect(Buffer.from(fresh).equals(first)).toBe(true);
  });

  test("cuts count parts right: triangles of what comes after a cut keep their part", async () => {
    const { ok, solid, result } = await build(
      design({
        parts: `hole("hole", { at: ring.atAzimuth(-90), diameter: 3, facing: "up" }),
      tube("late", [ring.atAzimuth(90), onHead({ azimuth: 90, elevation: 45, lift: 30 })], { radius: 4 }),`,
      }),
    );
    expect(ok).toBe(true);
    const late = result!.parts.findIndex((part) => part.name === "late");
    const { positions, triangles, partOfTriangle } = solid!.mesh;
    // Only the late tube stands on the wearer's right and above the ring.
    let seen = 0;
    for (let t = 0; t < partOfTriangle.length; t++) {
      const at = 3 * triangles[3 * t];
      if (positions[at] < 40 || positions[at + 2] < 75) continue;
      expect(partOfTriangle[t]).toBe(late);
      seen++;
    }
    expect(seen).toBeGreaterThan(10);
  });

  test("resting tubes are laid on the head", async () => {
    const { ok, result, messages } = await build(
      design({
        parts: `resting([tube("kelp", [onHead({ azimuth: -60, elevation: 8, lift: 25 }), onHead({ azimuth: 0, elevation: 10, lift: 25 }), onHead({ azimuth: 60, elevation: 8, lift: 25 })], { radius: 4 })]),`,
      }),
    );
    expect(messages.filter(({ severity }) => severity === "error")).toEqual([]);
    expect(ok).toBe(true);
    const kelp = result!.parts.find((part) => part.name === "kelp");
    expect(kelp).toMatchObject({ kind: "tube" });
    expect(kelp?.kind === "tube" && kelp.shape.path.points.length).toBeGreaterThan(3);
  });

  test("changed by one part, in the quick way: as large as afresh", async () => {
    await build(design(), { incremental: true });
    const quick = await build(design().replace("lift: 20", "lift: 24"), { incremental: true });
    const exact = await build(design().replace("lift: 20", "lift: 24"));
    const volume = (made: Build) => auditStl(writeStl(made.solid!.mesh)).volumeMm3;
    expect(Math.abs(volume(quick) / volume(exact) - 1)).toBeLessThan(1e-5);
  });
});

describe("what it is built for", () => {
  const width = ({ solid }: Build) => {
    const { positions } = solid!.mesh;
    let most = 0;
    for (let i = 0; i < positions.length; i += 3) most = Math.max(most, positions[i]);
    return 2 * most;
  };

  test("another wearer, another ease, another parameter change the result", async () => {
    const plain = await build(design());
    const bigger = await build(design(), { wearer: folder.file("big.wearer.json") });
    expect(bigger.parties!.wearer.name).toBe("Ebb");
    expect(width(bigger)).toBeGreaterThan(width(plain) + 3);
    const eased = await build(design({ more: 'wearer: "marin.wearer.json", ease: { offset: 6 },' }));
    expect(eased.head!.easeOffset).toBe(6);
    expect(width(eased) - width(plain)).toBeCloseTo(2 * (6 - plain.head!.easeOffset), 0);
    const fewer = await build(design(), { settings: { rays: "0", height: "20 mm" } });
    expect(fewer.result!.values).toEqual({ rays: 0, height: 20 });
    expect(fewer.result!.parts).toHaveLength(1);
    const valued = await build(design(), { values: { rays: 1 } });
    expect(valued.result!.parts).toHaveLength(2);
  });

  test("girth ease is 2π times the offset", async () => {
    const { head } = await build(design({ more: 'wearer: "marin.wearer.json", ease: { girth: 10 },' }));
    expect(head!.easeOffset).toBeCloseTo(10 / (2 * Math.PI), 9);
  });

  test("no wearer: a mean head, with a warning at the headpiece", async () => {
    const text = design({ more: "" });
    const { ok, messages } = await build(text);
    expect(ok).toBe(true);
    expect(messages).toMatchObject([
      { id: "no-wearer", severity: "warning", file: folder.file(name), line: 4 },
    ]);
  });

  test("a wearer's file that is not there is told where the design names it", async () => {
    const { ok, messages } = await build(design({ more: 'wearer: "marine.wearer.json",' }));
    expect(ok).toBe(false);
    expect(messages).toMatchObject([
      { severity: "error", file: folder.file(name), line: 6, column: 11, length: 20 },
    ]);
    expect(messages[0].text).toContain("marine.wearer.json");
  });

  test("a wearer that cannot be is told at the field", async () => {
    folder.write({ "marin.wearer.json": '{\n "name": "Marin",\n "units": "mm",\n "girth": 56\n}' });
    const { ok, messages, inputs } = await build(design());
    expect(ok).toBe(false);
    expect(messages).toMatchObject([
      { severity: "error", file: folder.file("marin.wearer.json"), line: 4, field: "girth" },
    ]);
    expect(inputs).toContain(folder.file(name));
  });

  test.each([
    [{ raays: "3" }, "unknown-parameter"],
    [{ rays: "three" }, "wrong-value"],
    [{ rays: "2.5" }, "out-of-range"],
    [{ height: "400" }, "out-of-range"],
    [{ height: "" }, "wrong-value"],
  ])("settings %j are refused", async (settings, id) => {
    const { ok, messages } = await build(design(), { settings: settings as Record<string, string> });
    expect(ok).toBe(false);
    expect(messages).toMatchObject([{ id, severity: "error" }]);
    expect(messages[0].suggestion).toBeTruthy();
  });
});

describe("what is wrong is told at its line", () => {
  test.each<[string, string, string]>([
    ["a loose tube", `/*@*/tube("stray", [[0, 0, 300], [0, 0, 350]], { radius: 4 }),`, "loose-piece"],
    ["a tube inside the head", `/*@*/tube("deep", [[0, 0, 20], [0, 30, 40]], { radius: 4 }),`, "inside-head"],
    [
      "a solid inside the head",
      `/*@*/solid("stone", primitives.sphere({ radius: 5 }), { at: [0, 0, 40] }),`,
      "inside-head",
    ],
    [
      "a speck",
      `/*@*/solid("speck", primitives.sphere({ radius: 0.3 }), { at: [0, 0, 300] }),`,
      "loose-piece",
    ],
    [
      "a part that a cut takes whole",
      `ring, cut("all", primitives.cuboid({ size: [9, 9, 9] }), { at: [0, 0, 300], from: extra }),`,
      "open-body",
    ],
    ["a tube too far away", `/*@*/tube("far", [[0, 0, 150], [0, 0, 1e9]], { radius: 4 }),`, "too-far"],
    ["a needle", `/*@*/tube("needle", [[0, 0, 150], [0, 0, 350]], { radius: 1e-9 }),`, "too-thin"],
    ["NaN", `/*@*/tube("a", [[0, 0, 150], [0, Number.NaN, 200]], { radius: 4 }),`, "not-a-number"],
    ["a negative radius", `/*@*/tube("a", [[0, 0, 150], [0, 0, 200]], { radius: -4 }),`, "out-of-range"],
    [
      "two equal points",
      `/*@*/tube("a", [[0, 0, 150], [0, 0, 150], [0, 0, 200]], { radius: 4 }),`,
      "equal-points",
    ],
  ])("%s", async (_, parts, id) => {
    if (id === "open-body") {
      const made = await build(
        design({
          make: 'const extra = /*@*/solid("bead", primitives.sphere({ radius: 2 }), { at: [0, 0, 300] });',
          parts: `extra, ${parts.replace("ring, ", "")}`,
        }),
      );
      expect(made.ok).toBe(false);
      expect(made.messages).toMatchObject([{ id, severity: "error", part: "bead", ...folder.place(name) }]);
      return;
    }
    expect((await errorAtMark(design({ parts }))).id).toBe(id);
  });

  test.each<[string, string]>([
    ["a throw", `throw /*@*/new Error("low tide");`],
    ["an endless loop", `/*@*/for (;;);`],
    ["process.exit", `process./*@*/exit(3);`],
    ["a call of nothing", `(undefined as never as { wave(): void })./*@*/wave();`],
  ])("%s", async (_, head) => {
    const error = await errorAtMark(design({ head }), { timeLimitSeconds: 1 });
    expect(error.text).not.toBe("");
  });

  test.each<[string, string]>([
    ["no default export", "export const piece = 3;\n"],
    ["a default export that is none", "export default { name: 'Ring' };\n"],
    ["a rejected promise", `Promise.reject(new Error("low tide"));\n${design()}`],
    ["no TypeScript", "this is no design\n"],
    ["an import that is not there", `import "./reeds";\n${design()}`],
    ["an import that is not allowed", `import "node:fs";\n${design()}`],
    ["an empty file", ""],
  ])("%s", async (_, text) => {
    const { ok, messages } = await build(text);
    expect(ok).toBe(false);
    const errors = messages.filter(({ severity }) => severity === "error");
    expect(errors.length).toBeGreaterThan(0);
    for (const error of errors) {
      expect(error.file).toBe(folder.file(name));
      expect(error.line).toBeGreaterThan(0);
      expect(error.column).toBeGreaterThan(0);
    }
  });

  test("10,000 tubes end in a clear error or in a piece", async () => {
    const { ok, messages } = await build(design(), { values: { rays: 10_000 }, timeLimitSeconds: 30 });
    const errors = messages.filter(({ severity }) => severity === "error");
    if (!ok) expect(errors[0]).toMatchObject({ file: folder.file(name) });
    expect(errors.every(({ text, suggestion }) => text !== "" && suggestion !== undefined)).toBe(true);
  }, 300_000);

  test("a design that is not there", async () => {
    const { ok, messages } = await engine.build({ design: folder.file("none.headpiece.ts") });
    expect(ok).toBe(false);
    expect(messages[0].text).toContain("none.headpiece.ts");
  });

  test("after all of these the engine builds as before", async () => {
    expect((await build(design())).ok).toBe(true);
  });
});

describe("stopping", () => {
  test("a design that is being run, a solid that is being made, and before anything", async () => {
    const running = new AbortController();
    setTimeout(() => running.abort(new Error("edited")), 300);
    await expect(
      build(design({ head: "for (;;);" }), { signal: running.signal, timeLimitSeconds: 100 }),
    ).rejects.toThrow("edited");

    const uniting = new AbortController();
    await expect(
      build(design(), {
        signal: uniting.signal,
        settings: { rays: "5" },
        progress: (stage) => stage === "uniting" && uniting.abort(new Error("edited again")),
      }),
    ).rejects.toThrow("edited again");

    const early = AbortSignal.abort(new Error("too late"));
    await expect(build(design(), { signal: early })).rejects.toThrow("too late");
    expect((await build(design())).ok).toBe(true);
  });
});
