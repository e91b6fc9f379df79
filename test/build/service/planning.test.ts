import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test, vi } from "vitest";
import { createEngineClient, type EngineClient } from "../../../src/build/service/engineClient";
import type { PlanEvent } from "../../../src/build/service/protocol";
import { DesignFolder } from "../designFolder";
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
    "small.printer.json": JSON.stringify({
      name: "Small",
      plate: { shape: "rectangular", width: 110, depth: 110 },
      height: 150,
      nozzle: 0.4,
    }),
    [name]: design(),
  });
});
afterEach(() => {
  client.forget(folder.file(name));
  folder.remove();
});

/** A ring with a ray before and behind. `print`: the design's own print settings. */
const design = ({ lift = 20, print = "{}", make = "" } = {}) =>
  `import { band, headpiece, onHead, tube } from "anadem";
export default headpiece({
  name: "Tide ring",
  wearer: "marin.wearer.json",
  print: ${print},
  make({ head }) {
    ${make}
    const ring = band("ring", head.girthLine.raised(12), { radius: 5 });
    return [
      ring,
      head.around(2, (azimuth, i) =>
        tube(\`ray \${i}\`, [ring.atAzimuth(azimuth), onHead({ azimuth, elevation: 10, lift: ${lift} })], {
          radius: 4,
        })),
    ];
  },
});
`;

const built = (more: { printer?: string } = {}) =>
  client.build({ design: folder.file(name), ...more }, () => {});

async function plan(signal?: AbortSignal, onEvent: (event: PlanEvent) => void = () => {}) {
  const events: PlanEvent[] = [];
  const hear = (event: PlanEvent) => {
    events.push(event);
    onEvent(event);
  };
  const outcome = await client.plan(folder.file(name), hear, signal);
  const plans = events.flatMap((event) => (event.kind === "plan" ? [event.plan] : []));
  const bodies = events.flatMap((event) => (event.kind === "planBody" ? [event] : []));
  return { events, outcome, plans, bodies, last: plans.at(-1)! };
}

/** The plan of the design as it stands above, asked for once. */
let asked: ReturnType<typeof askedFor> | undefined;
async function askedFor() {
  const { report } = await built();
  return { report, ...(await plan()) };
}
function usual(): NonNullable<typeof asked> {
  asked ??= askedFor();
  return asked;
}

describe("a plan, asked of the engine", () => {
  test("comes in steps: hours and grams first, then the ways up, then whole", async () => {
    const { report, events, plans, outcome, last } = await usual();
    expect(events[0].kind).toBe("plan");
    expect(plans[0].isWhole).toBe(false);
    expect(plans[0].plan.hours).toBeGreaterThan(0);
    expect(plans[0].plan.orientations).toEqual([]);
    expect(plans.map(({ isWhole }) => isWhole)).toEqual(plans.map((_, i) => i === plans.length - 1));
    expect(plans.length).toBeGreaterThan(1);
    // The first answer is already that of the whole plan, and of the build's report.
    expect(last.plan.hours).toBe(plans[0].plan.hours);
    expect(outcome).toEqual({ plan: last.plan, messages: [] });
    expect(last.plan.pieceGrams).toBeCloseTo(report!.massPrintedG, 0);
    expect(last.plan.directionsCompared).toBeGreaterThanOrEqual(500);
    expect(last.pictures).toHaveLength(last.plan.orientations.length);
    for (const picture of last.pictures) expect(picture).toMatch(/^<svg[\s>]/);
  });

  test("has layers that only add up, and a plate frame that is a turn and a shift", async () => {
    const { last } = await usual();
    const { seconds, metres, height } = last.layers;
    expect(height).toBe(0.2);
    expect(seconds).toHaveLength(last.plan.plates[0].layers);
    expect(metres).toHaveLength(seconds.length);
    for (const values of [seconds, metres]) {
      for (let i = 1; i < values.length; i++) expect(values[i]).toBeGreaterThanOrEqual(values[i - 1]);
    }
    expect(seconds.at(-1)! / 3600).toBeCloseTo(last.plan.hours, 2);
    expect(metres.at(-1)!).toBeCloseTo(last.plan.metres, 1);
    const columns = [0, 4, 8].map((at) => last.toHead.slice(at, at + 3));
    const dot = (a: readonly number[], b: readonly number[]) =>
      a.reduce((sum, value, i) => sum + value * b[i], 0);
    columns.forEach((a, i) => {
      columns.forEach((b, j) => {
        expect(dot(a, b)).toBeCloseTo(i === j ? 1 : 0, 9);
      });
    });
    expect(last.toHead.at(-1)).toBe(1);
  });

  test("tells supports as a surface over the plate, each body once while it stays", async () => {
    const { bodies, last } = await usual();
    const kinds = bodies.map(({ body }) => body);
    expect([...kinds].sort()).toEqual(["pieces", "props", "supports"]);
    const supports = bodies.find(({ body }) => body === "supports")!.mesh!;
    expect(last.plan.supports.columns).toBeGreaterThan(0);
    expect(supports.triangles.length).toBeGreaterThan(0);
    expect(supports.positions.every(Number.isFinite)).toBe(true);
    const vertices = supports.positions.length / 3;
    expect(supports.triangles.every((vertex) => vertex < vertices)).toBe(true);
    const heights = supports.positions.filter((_, i) => i % 3 === 2);
    expect(heights.every((z) => z >= -1e-3 && z <= last.plan.plates[0].heightMm)).toBe(true);
    expect(bodies.filter(({ body }) => body !== "supports").every(({ mesh }) => mesh === undefined)).toBe(
      true,
    );
  });

  test("a piece that is too large: the pieces, in the plate's frame", async () => {
    await built({ printer: folder.file("small.printer.json") });
    const { bodies, last } = await plan();
    expect(last.plan.orientation.fits).toBe(false);
    expect(last.plan.pieces!.pieces.length).toBeGreaterThan(1);
    const pieces = bodies.findLast(({ body }) => body === "pieces")!.mesh!;
    expect(pieces.positions.every(Number.isFinite)).toBe(true);
    for (const axis of [0, 1]) {
      const along = pieces.positions.filter((_, i) => i % 3 === axis);
      expect(Math.max(...along)).toBeLessThanOrEqual(55.001);
      expect(Math.min(...along)).toBeGreaterThanOrEqual(-55.001);
    }
    expect(last.findings.find(({ id }) => id === "cut-into-pieces")).toBeDefined();
  });

  test("is of the print settings and the way up that the design names", async () => {
    const { last: before } = await usual();
    folder.write({ [name]: design({ print: "{ layerHeight: 0.3, orientation: { tilt: 180 } }" }) });
    await built();
    const { last } = await plan();
    expect(last.plan.settings.layerHeight).toBe(0.3);
    expect(last.plan.orientation).toMatchObject({ choice: "given", tiltDegrees: 180, words: "upside down" });
    expect(last.plan.plates[0].layers).toBeLessThan(before.plan.plates[0].layers);
  });
});

describe("a plan that is not to be had", () => {
  test("without a build, and of a design that fails: none, and no word", async () => {
    expect(await client.plan(folder.file(name), () => {})).toEqual({ messages: [] });
    folder.write({ [name]: design({ make: 'throw new Error("no");' }) });
    expect((await built()).ok).toBe(false);
    const heard: PlanEvent[] = [];
    expect(await client.plan(folder.file(name), (event) => heard.push(event))).toEqual({ messages: [] });
    expect(heard).toEqual([]);
  });

  test("a newer build ends it, and the next one is of the newer piece", async () => {
    const { last: before } = await usual();
    await built();
    const heard: PlanEvent[] = [];
    let building: ReturnType<typeof built> | undefined;
    const older = client.plan(folder.file(name), (event) => {
      heard.push(event);
      if (building) return;
      folder.write({ [name]: design({ lift: 45 }) });
      building = built();
    });
    await expect(older).rejects.toMatchObject({ name: "AbortError" });
    const heardThen = heard.length;
    expect((await building!).ok).toBe(true);
    const { last } = await plan();
    expect(last.plan.grams).toBeGreaterThan(before.plan.grams);
    expect(heard).toHaveLength(heardThen);
    expect(heard.some((event) => event.kind === "plan" && event.plan.isWhole)).toBe(false);
  });

  test("its signal ends it, and the next one is whole", async () => {
    await built();
    const controller = new AbortController();
    const run = plan(controller.signal, () => controller.abort());
    await expect(run).rejects.toMatchObject({ name: "AbortError" });
    expect((await plan()).last.isWhole).toBe(true);
    const late = new AbortController();
    late.abort();
    await expect(plan(late.signal)).rejects.toMatchObject({ name: "AbortError" });
  });
});
