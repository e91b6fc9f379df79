import { expect, test } from "vitest";
import { Builds } from "../../../src/extension/builds/builds";
import { textsFor } from "../../../src/extension/builds/openTexts";
import { Rebuilding } from "../../../src/extension/builds/rebuilding";
import { FakeClock } from "../fakeClock";
import { FakeEngine } from "../fakeEngine";

const wreath = "/court/wreath.headpiece.ts";
const stag = "/court/stag.headpiece.ts";
const helper = "/court/parts/antler.ts";

/** Two designs that share a helper; the wreath is looked at. */
async function rig(mode: "onSave" | "whileTyping" | "off" = "onSave") {
  const clock = new FakeClock();
  const engine = new FakeEngine();
  const looked = new Set([wreath]);
  const builds = new Builds({
    engine: () => engine,
    mayBuild: () => true,
    requestFor: () => ({}),
    changed: () => {},
    failed: () => {},
    clock,
  });
  const policy = { mode: () => mode, typingPause: () => 300, isLookedAt: (path: string) => looked.has(path) };
  const rebuilding = new Rebuilding(builds, policy, clock);
  for (const path of [wreath, stag]) {
    const done = builds.build(path);
    engine.last.end({ inputs: [path, helper] });
    await done;
  }
  await clock.pass(100);
  engine.builds.length = 0;
  const asked = () => engine.builds.map(({ request }) => request.design);
  return { clock, engine, builds, rebuilding, looked, asked };
}

test("a saved design is built at once, and no other", async () => {
  const { rebuilding, asked } = await rig();
  rebuilding.saved(wreath);
  expect(asked()).toEqual([wreath]);
});

test("a saved helper builds what is looked at first, then what was built before", async () => {
  const { rebuilding, asked, clock, looked } = await rig();
  looked.clear();
  looked.add(stag);
  rebuilding.saved(helper);
  await clock.pass(0);
  expect(new Set(asked())).toEqual(new Set([wreath, stag]));
});

test("what was never built waits until it is asked for", async () => {
  const { rebuilding, asked, builds, clock } = await rig();
  builds.record("/court/horns.headpiece.ts");
  rebuilding.saved("/court/horns.headpiece.ts");
  await clock.pass(1000);
  expect(asked()).toEqual([]);
});

test("with rebuilding off a save only marks the result as outdated", async () => {
  const { rebuilding, asked, builds } = await rig("off");
  rebuilding.saved(wreath);
  expect(asked()).toEqual([]);
  const { change, reportChange } = builds.record(wreath);
  expect(change).toBeGreaterThan(reportChange);
});

test("typing builds after a pause, and only where the setting says so", async () => {
  const typing = await rig("whileTyping");
  for (let key = 0; key < 10; key++) {
    typing.rebuilding.typed(wreath);
    await typing.clock.pass(100);
  }
  expect(typing.asked()).toEqual([]);
  await typing.clock.pass(300);
  expect(typing.asked()).toEqual([wreath]);
  const saving = await rig("onSave");
  saving.rebuilding.typed(wreath);
  await saving.clock.pass(1000);
  expect(saving.asked()).toEqual([]);
});

test("a swarm of outside changes builds a design once", async () => {
  const { rebuilding, asked, clock } = await rig();
  for (const file of [helper, wreath, helper]) rebuilding.changedOutside(file, "changed");
  await clock.pass(140);
  expect(asked()).toEqual([]);
  await clock.pass(20);
  expect(asked().filter((path) => path === wreath)).toHaveLength(1);
});

test("a deleted design is forgotten, and built again once it is back", async () => {
  const { rebuilding, asked, builds, clock } = await rig();
  rebuilding.changedOutside(wreath, "deleted");
  rebuilding.changedOutside(helper, "deleted");
  await clock.pass(200);
  expect(builds.record(wreath).isGone).toBe(true);
  expect(asked()).toEqual([stag]);
  rebuilding.changedOutside(helper, "changed");
  await clock.pass(200);
  expect(asked()).not.toContain(wreath);
  rebuilding.changedOutside(wreath, "changed");
  await clock.pass(200);
  expect(asked()).toContain(wreath);
});

test("only while typing do unsaved texts stand in for files, and only those in use", () => {
  const open = [
    { path: wreath, isDirty: true, text: () => "typed" },
    { path: helper, isDirty: false, text: () => "saved" },
    { path: "/court/notes.ts", isDirty: true, text: () => "elsewhere" },
  ];
  const inputs = new Set([wreath, helper]);
  expect(textsFor(inputs, true, open)).toEqual({ [wreath]: "typed" });
  expect(textsFor(inputs, false, open)).toBeUndefined();
});
