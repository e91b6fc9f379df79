import { describe, expect, test } from "vitest";
import { EngineLostError } from "../../../src/build/service/engineClient";
import { type BuildChange, Builds } from "../../../src/extension/builds/builds";
import { isOutdated } from "../../../src/extension/builds/designRecord";
import { FakeClock, settled } from "../fakeClock";
import { FakeEngine, factsWith, meshOf } from "../fakeEngine";

const wreath = "/court/wreath.headpiece.ts";

function rig({ trusted = true } = {}) {
  const clock = new FakeClock();
  const engine = new FakeEngine();
  const changes: BuildChange[] = [];
  const faults: unknown[] = [];
  const builds = new Builds({
    engine: () => engine,
    mayBuild: () => trusted,
    requestFor: () => ({ timeLimitSeconds: 10 }),
    changed: (_record, change) => changes.push(change),
    failed: (error) => faults.push(error),
    clock,
  });
  return { clock, engine, builds, changes, faults };
}

const count = (preset: number) => ({ name: "reeds", kind: "count", default: preset, unit: "" }) as const;

describe("one build", () => {
  test("goes from building to built, and its result is fresh", async () => {
    const { builds, engine, changes } = rig();
    const done = builds.build(wreath);
    expect(builds.record(wreath).status).toBe("building");
    engine.last.tell({ kind: "progress", stage: "uniting", share: 0.5 });
    expect(builds.record(wreath)).toMatchObject({ stage: "uniting", share: 0.5 });
    engine.last.end({ inputs: [wreath, "/court/maris.wearer.json"] });
    const record = await done;
    expect(record).toMatchObject({ status: "built", stage: undefined, version: 1 });
    expect(isOutdated(record)).toBe(false);
    expect(builds.using("/court/maris.wearer.json")).toEqual([record]);
    expect(changes).toEqual(["started", "progress", "ended"]);
  });

  test("starts nothing where nothing may run", async () => {
    const { builds, engine } = rig({ trusted: false });
    expect((await builds.build(wreath)).status).toBe("unbuilt");
    expect(engine.builds).toHaveLength(0);
  });

  test("that fails keeps the last good result, marked as outdated", async () => {
    const { builds, engine, clock } = rig();
    const first = builds.build(wreath);
    engine.last.end();
    const record = await first;
    await clock.pass(100);
    builds.touch(record);
    const second = builds.build(wreath);
    engine.last.end({ ok: false, report: undefined, inputs: [wreath], messages: [threw] });
    await second;
    expect(record.status).toBe("failed");
    expect(record.report?.massPrintedG).toBe(84);
    expect(isOutdated(record)).toBe(true);
  });

  test("that fails early still depends on what the last good one used", async () => {
    const { builds, engine, clock } = rig();
    const first = builds.build(wreath);
    engine.last.end({ inputs: [wreath, "/court/maris.wearer.json"] });
    await first;
    await clock.pass(100);
    const second = builds.build(wreath);
    engine.last.end({ ok: false, report: undefined, inputs: [wreath] });
    await second;
    expect(builds.using("/court/maris.wearer.json")).toHaveLength(1);
  });

  test("whose engine is lost says so at the design", async () => {
    const { builds, engine } = rig();
    const done = builds.build(wreath);
    engine.last.fail(new EngineLostError("out of memory"));
    const { status, messages } = await done;
    expect(status).toBe("failed");
    expect(messages[0]).toMatchObject({ id: "engine-lost", severity: "error", file: wreath });
    expect(messages[0].text).toContain("out of memory");
    expect(messages[0].suggestion).toContain("save again");
  });

  test("whose engine goes wrong says so at the design, the log has the rest, and the next one works", async () => {
    const { builds, engine, clock, changes, faults } = rig();
    const done = builds.build(wreath);
    const fault = new Error("the kernel is not at hand\n    at unite (engine.cjs:12:3)");
    engine.last.fail(fault);
    const { status, messages } = await done;
    expect(status).toBe("failed");
    expect(messages).toHaveLength(1);
    expect(messages[0]).toMatchObject({ id: "engine-fault", severity: "error", file: wreath });
    expect(messages[0].text).toMatch(/could not build this design: the kernel is not at hand$/);
    expect(messages[0].suggestion).toContain("restart the engine");
    expect(faults).toEqual([fault]);
    // Problems are taken over when a build ends.
    expect(changes.at(-1)).toBe("ended");
    await clock.pass(100);
    const next = builds.build(wreath);
    engine.last.end();
    expect(await next).toMatchObject({ status: "built", messages: [] });
  });
});

describe("a build that the engine gives up because it was told to forget the design", () => {
  const givenUp = () => new DOMException("a newer build of this design was asked for", "AbortError");

  test("is done again where somebody looks at the design by then", async () => {
    const { builds, engine, clock, faults } = rig();
    const done = builds.build(wreath);
    builds.view(wreath);
    engine.last.fail(givenUp());
    await clock.pass(100);
    expect(engine.builds).toHaveLength(2);
    engine.last.end();
    expect(await done).toMatchObject({ status: "built", version: 2 });
    expect(faults).toEqual([]);
  });

  test("leaves the design unbuilt, and no problem, where nobody does", async () => {
    const { builds, engine, clock, changes, faults } = rig();
    const done = builds.build(wreath);
    builds.view(wreath)();
    engine.last.fail(givenUp());
    await clock.pass(100);
    expect(await done).toMatchObject({ status: "unbuilt", messages: [] });
    expect(builds.isBusy(wreath)).toBe(false);
    expect(engine.builds).toHaveLength(1);
    expect(changes).toEqual(["started", "ended"]);
    expect(faults).toEqual([]);
  });
});

const threw = { id: "design-threw", severity: "error", text: "no" } as const;

describe("of two quick builds", () => {
  test("only the newer shows anything", async () => {
    const { builds, engine, clock } = rig();
    void builds.build(wreath);
    const stale = engine.last;
    const done = builds.build(wreath);
    await clock.pass(100);
    expect(stale.signal.aborted).toBe(true);
    expect(engine.builds).toHaveLength(2);
    engine.last.tell({ kind: "facts", facts: factsWith() });
    stale.tell({ kind: "facts", facts: { ...factsWith(), wearer: "somebody else" } });
    stale.end({ report: undefined, ok: false });
    engine.last.end();
    const record = await done;
    expect(record.facts?.wearer).toBe("Maris");
    expect(record).toMatchObject({ status: "built", version: 2 });
  });

  test("a change during a build leaves its result outdated", async () => {
    const { builds, engine } = rig();
    const done = builds.build(wreath);
    builds.touch(builds.record(wreath));
    engine.last.end();
    expect(isOutdated(await done)).toBe(true);
  });
});

describe("a design that is gone", () => {
  test("has no findings, and a build that still runs changes nothing", async () => {
    const { builds, engine, clock } = rig();
    const first = builds.build(wreath);
    engine.last.end({ ok: false, messages: [threw] });
    await first;
    await clock.pass(100);
    void builds.build(wreath);
    const running = engine.last;
    builds.remove(wreath);
    running.end({ messages: [threw] });
    await settled();
    expect(builds.record(wreath)).toMatchObject({ status: "unbuilt", messages: [], isGone: true });
    expect(engine.forgotten).toEqual([wreath]);
    await clock.pass(100);
    const again = builds.build(wreath);
    engine.last.end();
    expect(await again).toMatchObject({ status: "built", isGone: false });
  });
});

describe("meshes", () => {
  const draft = (key: string, mesh?: ReturnType<typeof meshOf>) =>
    ({ kind: "draft", head: "a head", parts: [{ part: 0, key, ...(mesh && { mesh }) }] }) as const;

  test("are kept only while somebody shows them, and asked for anew after", async () => {
    const { builds, engine, clock } = rig();
    const first = builds.build(wreath);
    engine.last.tell(draft("a", meshOf(1)));
    engine.last.end();
    await first;
    expect(builds.record(wreath).picture).toBeUndefined();
    const close = builds.view(wreath);
    await clock.pass(100);
    const second = builds.build(wreath);
    expect(engine.last.resend).toBe(true);
    engine.last.tell({ kind: "head", key: "a head", mesh: meshOf(3) });
    engine.last.tell(draft("a", meshOf(1)));
    engine.last.end();
    await second;
    await clock.pass(100);
    const third = builds.build(wreath);
    expect(engine.last.resend).toBe(false);
    engine.last.tell(draft("a"));
    engine.last.end();
    await third;
    const kept = builds.record(wreath).picture?.draft;
    expect(kept).toMatchObject({ version: 3 });
    expect(new Float32Array(kept!.parts[0].mesh.positions)[0]).toBe(1);
    close();
    expect(builds.record(wreath).picture).toBeUndefined();
  });

  test("a draft that leaves out what is not at hand is asked for whole", async () => {
    const { builds, engine, clock } = rig();
    builds.view(wreath);
    const first = builds.build(wreath);
    engine.last.tell({ kind: "head", key: "a head", mesh: meshOf(3) });
    engine.last.tell(draft("a", meshOf(1)));
    engine.last.end();
    await first;
    await clock.pass(100);
    void builds.build(wreath);
    engine.last.tell(draft("never seen"));
    engine.last.end();
    await clock.pass(100);
    expect(engine.builds).toHaveLength(3);
    expect(engine.last.resend).toBe(true);
  });
});

describe("a head", () => {
  test("that was sent of a build that gave way, and never heard, is asked for again", async () => {
    const { builds, engine, clock } = rig();
    builds.view(wreath);
    const first = builds.build(wreath);
    engine.last.tell({ kind: "head", key: "a head", mesh: meshOf(3) });
    engine.last.tell({ kind: "draft", head: "a head", parts: [{ part: 0, key: "a", mesh: meshOf(1) }] });
    engine.last.end();
    await first;
    await clock.pass(100);
    void builds.build(wreath);
    // The part is known; the other wearer's head went out with a build that nobody listened to any more.
    engine.last.tell({ kind: "draft", head: "another head", parts: [{ part: 0, key: "a" }] });
    engine.last.end();
    await clock.pass(100);
    expect(engine.builds).toHaveLength(3);
    expect(engine.last.resend).toBe(true);
    engine.last.tell({ kind: "head", key: "another head", mesh: meshOf(4) });
    engine.last.tell({
      kind: "draft",
      head: "another head",
      parts: [{ part: 0, key: "a", mesh: meshOf(1) }],
    });
    engine.last.end();
    await clock.pass(100);
    expect(engine.builds).toHaveLength(3);
    expect(builds.record(wreath).head).toMatchObject({ key: "another head" });
  });
});

describe("moved parameters", () => {
  test("travel with the build; one that the file comes to agree with counts no longer", async () => {
    const { builds, engine, clock } = rig();
    builds.setValues(wreath, { reeds: 40 });
    const first = builds.build(wreath);
    expect(engine.last.request.values).toEqual({ reeds: 40 });
    engine.last.tell({ kind: "facts", facts: factsWith([count(66)]) });
    engine.last.end();
    expect((await first).values).toEqual({ reeds: 40 });
    await clock.pass(100);
    const second = builds.build(wreath);
    engine.last.tell({ kind: "facts", facts: factsWith([count(40)]) });
    engine.last.end();
    expect((await second).values).toEqual({});
  });

  test("one that the file no longer knows is dropped, and the rest built", async () => {
    const { builds, engine, clock } = rig();
    builds.setValues(wreath, { reeds: 40, leaves: 3 });
    void builds.build(wreath);
    const text = 'the design has no parameter "reeds"';
    engine.last.end({
      ok: false,
      report: undefined,
      messages: [{ id: "unknown-parameter", severity: "error", text }],
    });
    await clock.pass(100);
    expect(engine.builds).toHaveLength(2);
    expect(engine.last.request.values).toEqual({ leaves: 3 });
  });

  test("while they are dragged each running build comes to its draft", async () => {
    const { builds, engine, clock } = rig();
    for (let reeds = 40; reeds < 50; reeds++) {
      builds.setValues(wreath, { reeds });
      void builds.build(wreath, "afterPicture");
      await clock.pass(20);
    }
    expect(engine.builds).toHaveLength(1);
    engine.builds[0].tell({ kind: "draft", head: "a head", parts: [] });
    await clock.pass(100);
    expect(engine.builds).toHaveLength(2);
    expect(engine.last.request.values).toEqual({ reeds: 49 });
  });
});
