import { describe, expect, test } from "vitest";
import { type BuildChange, Builds, planPause } from "../../../src/extension/builds/builds";
import type { PlanFinding } from "../../../src/print/planFinding";
import { FakeClock, settled } from "../fakeClock";
import { FakeEngine, meshOf, planFactsWith } from "../fakeEngine";
import { reportPlan, reportWith } from "../states";

const wreath = "/court/wreath.headpiece.ts";
const found: PlanFinding = {
  id: "thin-support",
  severity: "note",
  text: "the support under reed 4 peels",
  topic: "support",
  value: 28,
  unit: "",
  file: wreath,
  line: 12,
  column: 3,
};
const slower = { ...reportPlan, hours: 14 };

function rig() {
  const clock = new FakeClock();
  const engine = new FakeEngine();
  engine.plansByHand = true;
  const changes: BuildChange[] = [];
  const faults: unknown[] = [];
  const builds = new Builds({
    engine: () => engine,
    mayBuild: () => true,
    requestFor: () => ({ timeLimitSeconds: 10 }),
    changed: (_record, change) => changes.push(change),
    failed: (error) => faults.push(error),
    clock,
  });
  const built = async () => {
    const done = builds.build(wreath);
    engine.last.end({ report: reportWith({}) });
    const record = await done;
    await clock.pass(planPause);
    return record;
  };
  return { clock, engine, builds, changes, faults, built };
}

describe("the plan of a print", () => {
  test("is asked for after a good build, and the build does not wait for it", async () => {
    const { built, engine, changes } = rig();
    const record = await built();
    expect(record.status).toBe("built");
    expect(record.report?.plan).toBeUndefined();
    expect(engine.plans.map(({ design }) => design)).toEqual([wreath]);
    expect(changes).toEqual(["started", "ended"]);
  });

  test("grows, then stands in the report, and its findings among the messages", async () => {
    const { built, engine, changes } = rig();
    const record = await built();
    const [plan] = engine.plans;
    plan.tell({ kind: "plan", plan: planFactsWith(reportPlan) });
    plan.tell({ kind: "planBody", body: "supports", mesh: meshOf(1) });
    expect(record.plan).toMatchObject({ version: record.version, facts: { isWhole: false } });
    expect(record.plan?.bodies.get("supports")?.positions.byteLength).toBe(36);
    expect(record.messages, "as long as it may still change").toEqual([]);
    plan.tell({ kind: "plan", plan: { ...planFactsWith(slower, [found]), isWhole: true } });
    expect(record.plan?.bodies.has("supports"), "bodies stay when more is known").toBe(true);
    plan.end({ plan: slower, messages: [] });
    await settled();
    expect(record.report?.plan).toBe(slower);
    expect(Object.keys(record.report ?? {}).slice(-3)).toEqual(["plan", "messages", "cautions"]);
    expect(record.messages).toEqual([found]);
    expect(changes.slice(2)).toEqual(["plan", "planBody", "plan", "planned"]);
  });

  test("waits until the piece has stayed as it is for a while", async () => {
    const { clock, engine, builds } = rig();
    const save = async () => {
      const done = builds.build(wreath);
      engine.last.end({ report: reportWith({}) });
      await done;
      await clock.pass(planPause / 2);
    };
    for (let i = 0; i < 4; i++) await save();
    expect(engine.plans).toEqual([]);
    await clock.pass(planPause / 2);
    expect(engine.plans.length).toBe(1);
  });

  test("of an older text is dropped by a newer build, whatever it still tells", async () => {
    const { built, clock, engine, changes } = rig();
    await built();
    const [old] = engine.plans;
    old.tell({ kind: "plan", plan: planFactsWith(slower, [found]) });
    await clock.pass(100);
    const record = await built();
    const after = changes.length;
    old.tell({ kind: "plan", plan: planFactsWith(slower, [found]) });
    old.tell({ kind: "planBody", body: "props", mesh: meshOf(1) });
    old.end({ plan: slower, messages: [] });
    await settled();
    expect(changes.slice(after)).toEqual([]);
    expect(record.report?.plan).toBeUndefined();
    expect(record.messages).toEqual([]);
    engine.plans[1].tell({ kind: "plan", plan: planFactsWith(reportPlan) });
    expect(record.plan).toMatchObject({ version: record.version, facts: { plan: { hours: 12.5 } } });
    expect(record.plan?.bodies.size).toBe(0);
  });

  test("is gone with its findings while a newer build goes on", async () => {
    const { built, clock, engine, builds } = rig();
    const record = await built();
    engine.plans[0].tell({ kind: "plan", plan: planFactsWith(reportPlan, [found]) });
    engine.plans[0].end({ plan: reportPlan, messages: [] });
    await settled();
    expect(record.messages).toEqual([found]);
    await clock.pass(100);
    const done = builds.build(wreath);
    engine.last.end({ report: reportWith({}) });
    await done;
    expect(record.messages).toEqual([]);
    expect(record.report?.plan).toBeUndefined();
  });

  test("that goes wrong is waited for no longer; the piece stands, and the log has the reason", async () => {
    const { built, engine, changes, faults } = rig();
    const record = await built();
    engine.plans[0].tell({ kind: "plan", plan: planFactsWith(reportPlan, [found]) });
    const fault = new Error("the kernel is not at hand");
    engine.plans[0].fail(fault);
    await settled();
    expect(record).toMatchObject({ status: "built", plan: { facts: { isWhole: true } } });
    expect(record.report?.plan).toBeUndefined();
    expect(faults).toEqual([fault]);
    expect(changes.at(-1)).toBe("planned");
  });

  test("that gives way to a newer build is no fault", async () => {
    const { built, engine, faults } = rig();
    await built();
    engine.plans[0].fail(new DOMException("a newer build", "AbortError"));
    await settled();
    expect(faults).toEqual([]);
  });

  test("is not asked for where the build failed", async () => {
    const { builds, engine } = rig();
    const done = builds.build(wreath);
    engine.last.end({ ok: false, report: undefined });
    await done;
    expect(engine.plans).toEqual([]);
    await builds.planned(wreath);
  });

  test("is waited for: the newest, where one gave way", async () => {
    const { built, clock, engine, builds } = rig();
    await built();
    let hours: number | undefined;
    const waiting = builds.planned(wreath).then(({ report }) => {
      hours = report?.plan?.hours;
    });
    await clock.pass(100);
    await built();
    engine.plans[0].fail(new DOMException("a newer build", "AbortError"));
    await settled();
    expect(hours).toBeUndefined();
    engine.plans[1].end({ plan: slower, messages: [] });
    await waiting;
    expect(hours).toBe(14);
  });
});
