import { spawn } from "node:child_process";
import { readdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test, vi } from "vitest";
import { Engine } from "../../../src/build/engine";
import {
  createEngineClient,
  type EngineClient,
  EngineLostError,
} from "../../../src/build/service/engineClient";
import type { BuildEvent, ServiceRequest } from "../../../src/build/service/protocol";
import { checkNames } from "../../../src/checks/finding";
import { noGap } from "../../../src/checks/fit/innerGaps";
import { meshVolume } from "../../../src/geometry/measure";
import type { TriangleMesh } from "../../../src/geometry/mesh";
import { unpackMesh } from "../../../src/geometry/packedMesh";
import { DesignFolder, mark } from "../designFolder";
import { bundleEngine, measuredWearer } from "./engineRig";

vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

const name = "ring.headpiece.ts";
let rig: Awaited<ReturnType<typeof bundleEngine>>;
let client: EngineClient;
let folder: DesignFolder;
beforeAll(async () => {
  rig = await bundleEngine();
  client = createEngineClient({ script: rig.script });
});
afterAll(async () => {
  await client.dispose();
  rig.remove();
});
beforeEach(() => {
  folder = new DesignFolder();
  folder.write({
    "marin.wearer.json": measuredWearer("Marin", 560),
    "ebb.wearer.json": measuredWearer("Ebb", 610),
    [name]: design(),
  });
});
afterEach(() => {
  client.forget(folder.file(name));
  folder.remove();
});

/** A ring with rays. */
const design = ({ lift = 20, head = "", make = "" } = {}) =>
  `import { band, count, headpiece, onHead, tube } from "anadem";
${head}
export default headpiece({
  name: "Tide ring",
  wearer: "marin.wearer.json",
  parameters: { rays: count(3, { least: 0, most: 9 }) },
  make({ head, parameters: { rays } }) {
    ${make}
    const ring = band("ring", head.girthLine.raised(12), { radius: 5 });
    return [
      ring,
      head.around(rays, (azimuth, i) =>
        tube(\`ray \${i}\`, [ring.atAzimuth(azimuth), onHead({ azimuth, elevation: 40, lift: i === 1 ? ${lift} : 20 })], {
          radius: 4,
        })),
    ];
  },
});
`;

async function build(
  more: Partial<ServiceRequest> = {},
  options: { signal?: AbortSignal; resend?: boolean } = {},
) {
  const events: BuildEvent[] = [];
  const outcome = await client.build(
    { design: folder.file(name), ...more },
    (event) => events.push(event),
    options,
  );
  const kinds = events.map(({ kind }) => kind).filter((kind) => kind !== "progress");
  const one = <K extends BuildEvent["kind"]>(kind: K) =>
    events.find((event) => event.kind === kind) as Extract<BuildEvent, { kind: K }>;
  return { outcome, events, kinds, one };
}

function lives(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}

/** Processes that run a script of the rig's folder. */
function processesOf(scripts: string): number[] {
  return readdirSync("/proc")
    .filter((entry) => /^\d+$/.test(entry))
    .flatMap((entry) => {
      try {
        return readFileSync(join("/proc", entry, "cmdline"), "utf8").includes(scripts) ? [Number(entry)] : [];
      } catch {
        return [];
      }
    });
}

/** Edges that do not run once each way. */
function openEdges({ triangles }: TriangleMesh): number {
  const edges = new Set<string>();
  for (let t = 0; t < triangles.length; t += 3) {
    for (let i = 0; i < 3; i++) edges.add(`${triangles[t + i]}>${triangles[t + ((i + 1) % 3)]}`);
  }
  return [...edges].filter((edge) => !edges.has(edge.split(">").reverse().join(">"))).length;
}

/** What comes after the solid: the plate, the gap at each vertex, and an answer to each question. */
const measured = ["plate", "gaps", ...checkNames.map(() => "check")];

describe("a build", () => {
  test("tells head, draft, facts, solid and plate, each as it comes, then the report", async () => {
    const { outcome, kinds, one } = await build();
    expect(outcome).toMatchObject({ ok: true, messages: [] });
    expect(kinds).toEqual(["head", "draft", "facts", "solid", ...measured]);
    expect(one("draft").parts.map(({ mesh }) => mesh !== undefined)).toEqual([true, true, true, true]);
    expect(one("facts").facts.parts.map((part) => part.name)).toEqual(["ring", "ray 0", "ray 1", "ray 2"]);
    expect(outcome.report?.massPrintedG).toBeGreaterThan(5);
    expect(outcome.inputs).toEqual([
      folder.file(name),
      folder.file("marin.wearer.json"),
      folder.file("anadem.limits.json"),
    ]);
    const mesh = unpackMesh(one("solid").packed);
    expect([...new Set(mesh.partOfTriangle)].sort()).toEqual([-1, 0, 1, 2, 3]);
    expect(openEdges(mesh)).toBe(0);
    expect(meshVolume(mesh) / 1000 / outcome.report!.volumeCm3).toBeCloseTo(1, 3);
  });

  test("answers each question of fit and wear as it comes, as the report then has them", async () => {
    const { outcome, events, one } = await build();
    const checks = events.flatMap((event) => (event.kind === "check" ? [event.answer] : []));
    expect(checks.map(({ check }) => check).sort()).toEqual([...checkNames].sort());
    const { wear } = outcome.report!;
    expect(
      checks
        .flatMap(({ findings }) => findings)
        .map(({ text }) => text)
        .sort(),
    ).toEqual(wear!.findings.map(({ text }) => text).sort());
    expect(wear!.findings.filter(({ id }) => id === "no-answer")).toEqual([]);
    // A gap for each vertex of the solid that was sent, and some of them near the head.
    const { gaps } = one("gaps");
    expect(gaps.length).toBe(unpackMesh(one("solid").packed).positions.length / 3);
    expect(gaps.filter((gap) => gap !== noGap && gap < 1000).length).toBeGreaterThan(20);
  });

  test("an edit of one tube sends one mesh; asked to, it sends all again", async () => {
    await build();
    folder.write({ [name]: design({ lift: 34 }) });
    const edited = await build();
    expect(edited.kinds).toEqual(["draft", "facts", "solid", ...measured]);
    expect(edited.one("draft").parts.flatMap(({ part, mesh }) => (mesh ? [part] : []))).toEqual([2]);
    const again = await build({}, { resend: true });
    expect(again.one("draft").parts.every(({ mesh }) => mesh)).toBe(true);
    expect(again.kinds[0]).toBe("head");
  });

  test("takes texts for files, values and another wearer without touching a file", async () => {
    const typed = await build({
      texts: {
        [folder.file(name)]: design().replace("Tide ring", "Typed ring"),
        [folder.file("marin.wearer.json")]: JSON.stringify({ name: "Typed", units: "mm", girth: 575 }),
      },
      values: { rays: 5 },
    });
    expect(typed.one("facts").facts).toMatchObject({ wearer: "Typed", header: { name: "Typed ring" } });
    expect(typed.outcome.report?.parts).toHaveLength(6);
    const { outcome } = await build({ wearer: folder.file("ebb.wearer.json") });
    expect(outcome.report?.wearer).toBe("Ebb");
    expect((await build()).outcome.report).toMatchObject({ wearer: "Marin", headpiece: "Tide ring" });
  });

  test("the incremental solid has the volume of the exact one", async () => {
    await build();
    folder.write({ [name]: design({ lift: 31 }) });
    const { outcome } = await build();
    const engine = new Engine({
      evaluator: join(rig.folder, "evaluator.cjs"),
      kernel: join(rig.folder, "manifold.wasm"),
    });
    const exact = await engine.build({ design: folder.file(name) });
    await engine.dispose();
    expect(outcome.report!.volumeCm3).toBeCloseTo(exact.solid!.pieces[0].volume / 1000, 2);
  });

  test("a newer one cancels the one that runs, and only the newest is told", async () => {
    await build();
    const told: string[] = [];
    const runs = Array.from({ length: 40 }, (_, i) => {
      folder.write({ [name]: design({ lift: 20 + i / 4 }) });
      return client
        .build({ design: folder.file(name) }, ({ kind }) => {
          if (kind !== "progress") told.push(`${i} ${kind}`);
        })
        .then(
          () => "built",
          (error: Error) => error.name,
        );
    });
    const ends = await Promise.all(runs);
    expect(ends.slice(0, -1).every((end) => end === "AbortError")).toBe(true);
    expect(ends.at(-1)).toBe("built");
    expect(told.filter((event) => event.endsWith("solid"))).toEqual(["39 solid"]);
  });

  test("a newer one is the only one told, also where the answer of the older is on its way", async () => {
    await build();
    const heard: string[] = [];
    const older = client.build({ design: folder.file(name) }, ({ kind }) => heard.push(kind));
    const refused = expect(older).rejects.toMatchObject({ name: "AbortError" });
    // Nothing is received here meanwhile, and the engine has finished long before.
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 2000);
    const { outcome, kinds } = await build();
    await refused;
    expect(heard).toEqual([]);
    expect(outcome.ok).toBe(true);
    expect(kinds).toContain("solid");
  });

  test("is cancelled by its signal, and the next one is whole", async () => {
    const controller = new AbortController();
    const run = client.build({ design: folder.file(name) }, () => controller.abort(), {
      signal: controller.signal,
    });
    await expect(run).rejects.toMatchObject({ name: "AbortError" });
    expect((await build()).outcome.ok).toBe(true);
  });

  test("a missing wearer, a throw in a helper, a loop: told, and the next good save works", async () => {
    rmSync(folder.file("marin.wearer.json"));
    const missing = (await build()).outcome;
    expect(missing.messages[0]).toMatchObject({ severity: "error", file: folder.file(name), line: 5 });
    expect(missing.inputs).toContain(folder.file("marin.wearer.json"));
    folder.write({
      "marin.wearer.json": measuredWearer("Marin", 560),
      "helper.ts": `export function reach(n: number): number {\n  if (n > 1) ${mark}throw new Error("no reach");\n  return n;\n}\n`,
      [name]: design({ head: 'import { reach } from "./helper";', make: `const far = ${mark}reach(2);` }),
    });
    const [thrown] = (await build()).outcome.messages;
    expect(thrown).toMatchObject({ severity: "error", file: folder.file("helper.ts"), line: 2 });
    expect(thrown.notes).toContainEqual(expect.objectContaining(folder.place(name)));
    folder.write({ [name]: design({ make: "for (;;);" }) });
    const [looped] = (await build({ timeLimitSeconds: 0.5 })).outcome.messages;
    expect(looped).toMatchObject({ id: "time-limit", line: 8 });
    folder.write({ [name]: design() });
    expect((await build()).outcome.ok).toBe(true);
  });
});

describe("an export", () => {
  test("writes what the command line writes, byte for byte, after any number of edits", async () => {
    await build();
    folder.write({ [name]: design({ lift: 28 }) });
    await build();
    const out = folder.file("out");
    const { ok, files } = await client.export({
      design: folder.file(name),
      folder: out,
      committedReport: "also",
    });
    expect(ok).toBe(true);
    expect(files.map(({ kind }) => kind)).toEqual([
      "stl",
      "report-json",
      "report-markdown",
      "drawing-svg",
      "sight-svg",
      "plate-stl",
      "plate-3mf",
      "workshop-html",
      "committed-report",
    ]);
    const fresh = createEngineClient({ script: rig.script });
    await fresh.export({ design: folder.file(name), folder: folder.file("again") });
    await fresh.dispose();
    for (const file of readdirSync(out)) {
      expect(readFileSync(join(folder.file("again"), file)).equals(readFileSync(join(out, file))), file).toBe(
        true,
      );
    }
  });

  test("the sheet is the drawing, and none for a design that fails", async () => {
    expect(await client.sheet({ design: folder.file(name) })).toMatch(/^<svg|^<\?xml/);
    folder.write({ [name]: design({ make: 'throw new Error("no");' }) });
    expect(await client.sheet({ design: folder.file(name) })).toBeUndefined();
  });
});

describe("the process", () => {
  test("killed while it waits and while it works: replaced, the work done again", async () => {
    await build();
    const reasons: string[] = [];
    const listener = client.onReplaced(({ reason }) => reasons.push(reason));
    process.kill(client.processId!, "SIGKILL");
    await expect.poll(() => reasons).toEqual(["ended"]);
    let isKilled = false;
    const outcome = await client.build({ design: folder.file(name) }, () => {
      if (isKilled) return;
      isKilled = true;
      process.kill(client.processId!, "SIGKILL");
    });
    expect(outcome.ok).toBe(true);
    expect(reasons).toEqual(["ended", "ended"]);
    listener.dispose();
  });

  test("one that dies each time is given up, with its last words", async () => {
    folder.write({
      "dying.cjs": 'process.on("message", () => { console.error("out of luck"); process.exit(3); });',
    });
    const dying = createEngineClient({ script: folder.file("dying.cjs") });
    const run = dying.build({ design: folder.file(name) }, () => {});
    await expect(run).rejects.toThrow(EngineLostError);
    await expect(run).rejects.toThrow("out of luck");
    await dying.dispose();
  });

  test("one that hangs is replaced", async () => {
    const hung = createEngineClient({ script: rig.script, hangSeconds: 15 });
    expect((await hung.build({ design: folder.file(name) }, () => {})).ok).toBe(true);
    const reasons: string[] = [];
    hung.onReplaced(({ reason }) => reasons.push(reason));
    const first = hung.processId!;
    process.kill(first, "SIGSTOP");
    expect((await hung.build({ design: folder.file(name) }, () => {})).ok).toBe(true);
    expect(reasons).toEqual(["hung"]);
    expect(lives(first)).toBe(false);
    await hung.dispose();
  });

  test.runIf(process.platform === "linux")(
    "none is left after it is disposed of, or its editor is killed",
    async () => {
      const own = await bundleEngine();
      const mine = createEngineClient({ script: own.script });
      await mine.build({ design: folder.file(name) }, () => {});
      expect(processesOf(own.folder).length).toBeGreaterThan(1);
      await mine.dispose();
      await expect.poll(() => processesOf(own.folder), { timeout: 5_000 }).toEqual([]);

      folder.write({
        "editor.cjs": `const { fork } = require("node:child_process");
const engine = fork(${JSON.stringify(own.script)}, [], { serialization: "advanced" });
engine.on("message", ({ kind }) => { if (kind === "built") console.log("built"); });
engine.send({ kind: "build", id: 1, request: { design: ${JSON.stringify(folder.file(name))} } });`,
      });
      const editor = spawn(process.execPath, [folder.file("editor.cjs")], {
        stdio: ["ignore", "pipe", "inherit"],
      });
      await new Promise((resolve) => editor.stdout.once("data", resolve));
      expect(processesOf(own.folder).length).toBeGreaterThan(1);
      editor.kill("SIGKILL");
      await expect.poll(() => processesOf(own.folder), { timeout: 5_000 }).toEqual([]);
      own.remove();
    },
  );
});
