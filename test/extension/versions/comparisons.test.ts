import { beforeEach, describe, expect, test } from "vitest";
import type { CompareRequest, CompareResult, Comparison } from "../../../src/build/versions/comparison";
import {
  Comparisons,
  type ComparisonWorld,
  comparisonPause,
} from "../../../src/extension/versions/comparisons";
import { FakeClock, settled } from "../fakeClock";

const design = "/court/wreath.headpiece.ts";
const hash = "0a1b2c3d".padEnd(40, "0");
const mesh = { positions: new Float32Array(9), triangles: new Uint32Array(3) };

const comparison = (more: Partial<Comparison> = {}): Comparison => ({
  design,
  revision: { asked: "HEAD", hash, subject: "First" },
  added: 100,
  removed: 0,
  greatestDistance: 2,
  greatestAt: [0, 0, 0],
  parts: [],
  changes: [],
  sentence: "heavier",
  ...more,
});
const good: CompareResult = {
  ok: true,
  comparison: comparison(),
  meshes: { old: mesh, added: mesh, removed: mesh },
  messages: [],
};
const bad: CompareResult = {
  ok: false,
  messages: [{ id: "thrown", severity: "error", text: "the piece of now does not build" }],
};

/** A world in which comparisons end when the test says so. */
class World implements ComparisonWorld {
  readonly clock = new FakeClock();
  readonly runs: {
    readonly request: CompareRequest;
    readonly signal: AbortSignal;
    readonly tell: (stage: string) => void;
    readonly end: (result: CompareResult) => void;
    readonly fail: (error: unknown) => void;
  }[] = [];
  readonly failures: unknown[] = [];
  told = 0;
  change = 1;
  built = true;
  moved = false;

  compare(request: CompareRequest, tell: (stage: string) => void, signal: AbortSignal) {
    return new Promise<CompareResult>((end, fail) => {
      signal.addEventListener("abort", () => fail(signal.reason));
      this.runs.push({ request, signal, tell, end, fail });
    });
  }
  requestFor = (path: string) => ({ design: path, wearer: "/court/minnow.wearer.json" });
  changeOf = () => this.change;
  hasMovedValues = () => this.moved;
  isBuilt = () => this.built;
  changed = () => {
    this.told++;
  };
  failed = (error: unknown) => {
    this.failures.push(error);
  };
}

let world: World;
let comparisons: Comparisons;
beforeEach(() => {
  world = new World();
  comparisons = new Comparisons(world);
});
const compared = async () => {
  const asked = comparisons.compare(design, "HEAD");
  world.runs[0].end(good);
  return asked;
};

describe("a comparison", () => {
  test("tells what goes on, then what came of it", async () => {
    world.moved = true;
    const asked = comparisons.compare(design, "HEAD");
    expect(comparisons.of(design)).toMatchObject({ asked: "HEAD", stage: "starting", isOutdated: false });
    expect(world.runs[0].request).toEqual({ design, wearer: "/court/minnow.wearer.json", against: "HEAD" });
    world.runs[0].tell("building the old piece");
    expect(comparisons.of(design)?.stage).toBe("building the old piece");
    world.runs[0].end(good);
    const outcome = await asked;
    expect(outcome).toEqual(comparisons.of(design));
    expect(outcome).toMatchObject({
      result: { comparison: good.comparison, hasMovedValues: true },
      messages: [],
    });
    expect(outcome?.stage).toBeUndefined();
    expect(world.told).toBe(3);
  });

  test("that is ended meanwhile is called off and forgotten", async () => {
    const asked = comparisons.compare(design, "HEAD");
    comparisons.end(design);
    expect(world.runs[0].signal.aborted).toBe(true);
    expect(await asked).toBeUndefined();
    expect(comparisons.of(design)).toBeUndefined();
    expect(world.failures).toEqual([]);
    const { told } = world;
    comparisons.end(design);
    expect(world.told).toBe(told);
  });

  test("with another commit takes the place of the one before", async () => {
    const first = comparisons.compare(design, "HEAD");
    const second = comparisons.compare(design, "spring");
    expect(world.runs.map(({ signal }) => signal.aborted)).toEqual([true, false]);
    world.runs[1].end({
      ...good,
      comparison: comparison({ revision: { asked: "spring", hash, subject: "" } }),
    });
    expect(await first).toBeUndefined();
    expect((await second)?.asked).toBe("spring");
  });

  test("that comes to nothing keeps its messages, and is not tried again by itself", async () => {
    const asked = comparisons.compare(design, "HEAD");
    world.runs[0].end(bad);
    expect(await asked).toEqual({ asked: "HEAD", isOutdated: false, messages: bad.messages });
    comparisons.onBuild(design);
    await world.clock.pass(10 * comparisonPause);
    expect(world.runs).toHaveLength(1);
  });

  test("that goes wrong is a message and goes into the log", async () => {
    const asked = comparisons.compare(design, "HEAD");
    const fault = new Error("the process ended");
    world.runs[0].fail(fault);
    expect(await asked).toMatchObject({ messages: [{ id: "engine-fault", severity: "error" }] });
    expect((await asked)?.messages[0].text).toContain("the process ended");
    expect(world.failures).toEqual([fault]);
  });
});

describe("after a reload of the window", () => {
  test("it waits for the piece, and is then made again", async () => {
    world.built = false;
    comparisons.resume(design, "0a1b2c3d");
    expect(comparisons.of(design)).toMatchObject({ asked: "0a1b2c3d", stage: "waiting for the piece" });
    await world.clock.pass(5 * comparisonPause);
    expect(world.runs).toHaveLength(0);
    world.built = true;
    comparisons.onBuild(design);
    await world.clock.pass(comparisonPause);
    expect(world.runs.map(({ request }) => request.against)).toEqual(["0a1b2c3d"]);
    world.runs[0].end(good);
    await settled();
    expect(comparisons.of(design)).toMatchObject({
      result: { comparison: good.comparison },
      isOutdated: false,
    });
  });

  test("it is made of a piece that is built already, and leaves one that was asked for since alone", async () => {
    comparisons.resume(design, "0a1b2c3d");
    await world.clock.pass(comparisonPause);
    expect(world.runs).toHaveLength(1);
    comparisons.end(design);
    void comparisons.compare(design, "spring");
    comparisons.resume(design, "0a1b2c3d");
    expect(comparisons.of(design)?.asked).toBe("spring");
  });
});

describe("a save while comparing", () => {
  test("outdates it, and once the piece is built it is compared with the same commit", async () => {
    await compared();
    world.change = 2;
    world.built = false;
    comparisons.onBuild(design);
    expect(comparisons.of(design)?.isOutdated).toBe(true);
    await world.clock.pass(5 * comparisonPause);
    expect(world.runs, "it waits for the build").toHaveLength(1);
    world.built = true;
    comparisons.onBuild(design);
    await world.clock.pass(comparisonPause - 1);
    expect(world.runs).toHaveLength(1);
    await world.clock.pass(1);
    expect(world.runs).toHaveLength(2);
    // HEAD may be another commit by now.
    expect(world.runs[1].request.against).toBe(hash);
    expect(comparisons.of(design)).toMatchObject({ asked: "HEAD", isOutdated: true, stage: "starting" });
    world.runs[1].end(good);
    await settled();
    expect(comparisons.of(design)?.isOutdated).toBe(false);
  });

  test("many in a row are compared once, when they are over", async () => {
    await compared();
    for (let i = 0; i < 20; i++) {
      world.change++;
      comparisons.onBuild(design);
      await world.clock.pass(comparisonPause / 2);
    }
    expect(world.runs).toHaveLength(1);
    await world.clock.pass(comparisonPause);
    expect(world.runs).toHaveLength(2);
  });

  test("calls off the one that runs", async () => {
    void comparisons.compare(design, "HEAD");
    world.change = 2;
    comparisons.onBuild(design);
    expect(world.runs[0].signal.aborted).toBe(true);
    expect(comparisons.of(design)).toMatchObject({ asked: "HEAD" });
    await world.clock.pass(comparisonPause);
    expect(world.runs).toHaveLength(2);
    expect(world.failures).toEqual([]);
  });

  test("that does not build keeps the last comparison, outdated", async () => {
    await compared();
    world.change = 2;
    comparisons.onBuild(design);
    await world.clock.pass(comparisonPause);
    world.runs[1].end(bad);
    await settled();
    expect(comparisons.of(design)).toMatchObject({
      isOutdated: true,
      messages: bad.messages,
      result: { comparison: good.comparison },
    });
  });

  test("of a design that is not compared does nothing", async () => {
    comparisons.onBuild("/court/other.headpiece.ts");
    await world.clock.pass(comparisonPause);
    expect([world.runs, world.told]).toEqual([[], 0]);
  });

  test("after the window is closed nothing begins", async () => {
    await compared();
    world.change = 2;
    comparisons.onBuild(design);
    comparisons.dispose();
    await world.clock.pass(comparisonPause);
    expect(world.runs).toHaveLength(1);
  });
});
