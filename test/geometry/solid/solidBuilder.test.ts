import { afterEach, beforeAll, describe, expect, test } from "vitest";
import { BodyMaker } from "../../../src/build/bodies";
import { Random } from "../../../src/design/random";
import { writeStl } from "../../../src/export/stl";
import { auditStl } from "../../../src/export/stlAudit";
import { type Kernel, loadKernel } from "../../../src/geometry/solid/kernel";
import { SolidBuilder, type SolidInput, type SolidResult } from "../../../src/geometry/solid/solidBuilder";
import type { TubeShape } from "../../../src/geometry/tubeShape";
import { edited, grownHead, randomTubes } from "../../bench/model";
import { box, cube, inputOf, signedVolume } from "./shapes";

/** What a builder remembers must never show in what it gives. */

let kernel: Kernel;
const handles = new Set<{ isDeleted(): boolean }>();
beforeAll(async () => {
  kernel = await loadKernel();
  watchHandles(kernel);
});

/** Notes every solid that the kernel hands out, so that a test can see which are still held. */
function watchHandles({ Manifold }: Kernel): void {
  for (const owner of [Manifold, Manifold.prototype] as unknown as Record<string, unknown>[]) {
    for (const name of Object.getOwnPropertyNames(owner)) {
      const made = Object.getOwnPropertyDescriptor(owner, name);
      if (
        typeof made?.value !== "function" ||
        !made.writable ||
        name === "constructor" ||
        name === "prototype"
      )
        continue;
      const call = made.value as (...args: unknown[]) => unknown;
      owner[name] = function (this: unknown, ...args: unknown[]) {
        const given = call.apply(this, args);
        if (given instanceof Manifold) handles.add(given as never);
        return given;
      };
    }
  }
}
/** How many are still held. */
function alive(): number {
  for (const handle of handles) if (handle.isDeleted()) handles.delete(handle);
  return handles.size;
}

let builders: SolidBuilder[] = [];
function newBuilder(): SolidBuilder {
  const builder = new SolidBuilder(kernel);
  builders.push(builder);
  return builder;
}
afterEach(() => {
  for (const builder of builders) builder.dispose();
  builders = [];
});

const head = { key: "head", mesh: grownHead(3, 16, 24) };
const seed = 11;
/** Coarse, mm: the bookkeeping is tested, not the surface. */
const tolerance = 1;

function input(tubes: readonly TubeShape[], maker = new BodyMaker(tolerance)): SolidInput {
  const parts = tubes.map((shape, i) => ({ kind: "tube" as const, name: `tube ${i + 1}`, shape }));
  return { ...maker.bodiesOf(parts), head, crumbVolume: 1 };
}

async function afresh(given: SolidInput): Promise<SolidResult> {
  const builder = newBuilder();
  try {
    return await builder.build(given);
  } finally {
    builder.dispose();
  }
}

const bytes = ({ mesh }: SolidResult) => Buffer.from(writeStl(mesh));

/** @param share the most that the volumes may differ by */
function expectSame(quick: SolidResult, exact: SolidResult, context: string, share: number): void {
  expect(auditStl(writeStl(quick.mesh)).closed, context).toBe(true);
  expect(Math.abs(signedVolume(quick.mesh) / signedVolume(exact.mesh) - 1), context).toBeLessThan(share);
  const bodiesOf = ({ pieces }: SolidResult) => pieces.map(({ bodies }) => bodies);
  expect(bodiesOf(quick), context).toEqual(bodiesOf(exact));
  expect(quick.hidden, context).toEqual(exact.hidden);
}

describe("incremental", () => {
  test(`as the exact build, over random edits (seed ${seed})`, async () => {
    const random = new Random(seed);
    const maker = new BodyMaker(tolerance);
    const builder = newBuilder();
    const tubes = randomTubes(10, seed);
    await builder.build(input(tubes, maker));
    for (let edit = 0; edit < 12; edit++) {
      const at = Math.floor(random.between(0, tubes.length));
      const what = edit % 4;
      if (what === 3 && tubes.length > 4) tubes.splice(at, 1);
      else if (what === 2) tubes.splice(at, 0, randomTubes(1, 100 + edit)[0]);
      else tubes[at] = edited(tubes[at], random.between(-6, 6));
      const given = input(tubes, maker);
      const quick = await builder.build(given, { incremental: true });
      const exact = await afresh(given);
      const context = `seed ${seed}, edit ${edit}`;
      expectSame(quick, exact, context, 1e-5);
    }
    builder.dispose();
  }, 120_000);

  test("as the exact build, one tube after the other, each again; what that leaves behind stays bounded", async () => {
    const maker = new BodyMaker(tolerance);
    const builder = newBuilder();
    const tubes = randomTubes(10, 29);
    await builder.build(input(tubes, maker));
    for (let edit = 0; edit < 48; edit++) {
      const at = (7 * Math.floor(edit / 3)) % tubes.length;
      tubes[at] = edited(tubes[at], edit % 2 ? 3 : -4);
      const given = input(tubes, maker);
      const quick = await builder.build(given, { incremental: true });
      if (edit % 4 !== 0) continue;
      const exact = await afresh(given);
      const context = `edit ${edit}`;
      expectSame(quick, exact, context, 1e-6);
      expect(quick.mesh.triangles.length, context).toBeLessThan(1.7 * exact.mesh.triangles.length);
    }
    builder.dispose();
  }, 120_000);

  test("a rod through all others, again and again, and one of the others between", async () => {
    const builder = newBuilder();
    const beads = Array.from({ length: 12 }, (_, i) => cube([14 * i, 0, 0], 10));
    const rod = (thick: number) => box([-10, -thick / 2, -thick / 2], [170, thick / 2, thick / 2]);
    const volume = async (thick: number) =>
      (await builder.build(inputOf([...beads, rod(thick)]), { incremental: true })).pieces[0].volume;
    // The rod stands free for 60 of its 180 mm.
    expect(await volume(4)).toBeCloseTo(12_000 + 60 * 16, 1);
    expect(await volume(6)).toBeCloseTo(12_000 + 60 * 36, 1);
    expect(await volume(3)).toBeCloseTo(12_000 + 60 * 9, 1);
    expect(await volume(5)).toBeCloseTo(12_000 + 60 * 25, 1);
    beads[5] = cube([70, 0, 0], 12);
    expect(await volume(5)).toBeCloseTo(11_000 + 12 ** 3 + 58 * 25, 1);
    expect(await volume(2)).toBeCloseTo(11_000 + 12 ** 3 + 58 * 4, 1);
    builder.dispose();
  });

  test("another head, other cuts, no head: none is taken from memory", async () => {
    const builder = newBuilder();
    const meshes = [cube([0, 0, 0], 20), cube([15, 0, 0], 20)];
    const build = async (more: Partial<SolidInput>) =>
      signedVolume((await builder.build(inputOf(meshes, more), { incremental: true })).mesh);
    expect(await build({})).toBeCloseTo(14000, 1);
    expect(await build({ head: { key: "1", mesh: cube([0, 0, -10], 20) } })).toBeCloseTo(14000 - 4000, 1);
    expect(await build({ head: { key: "2", mesh: cube([0, 0, -15], 20) } })).toBeCloseTo(14000 - 2000, 1);
    expect(await build({ cuts: [{ kind: "mesh", mesh: cube([0, 0, 10], 10) }] })).toBeCloseTo(14000 - 500, 1);
    expect(await build({})).toBeCloseTo(14000, 1);
    builder.dispose();
  });

  test("all bodies but one gone, then all others", async () => {
    const builder = newBuilder();
    const a = inputOf([cube([0, 0, 0], 20), cube([15, 0, 0], 20), cube([30, 0, 0], 20)]);
    await builder.build(a);
    const one = { ...a, bodies: a.bodies.slice(1, 2) };
    expect((await builder.build(one, { incremental: true })).pieces[0].volume).toBeCloseTo(8000, 1);
    const others = { ...a, bodies: [a.bodies[0], a.bodies[2]] };
    expect((await builder.build(others, { incremental: true })).pieces).toHaveLength(2);
    builder.dispose();
  });
});

test("the exact build gives the same bytes whatever came before", async () => {
  const tubes = randomTubes(9, 3);
  const given = input(tubes);
  const first = bytes(await afresh(given));
  const builder = newBuilder();
  await builder.build(input([...tubes.slice(0, 4), ...randomTubes(3, 5)]));
  await builder.build(input([edited(tubes[0], 3), ...tubes.slice(1)]), { incremental: true });
  await builder.build(given, { incremental: true });
  const stopped = new AbortController();
  await expect(
    builder.build(input(randomTubes(9, 8)), {
      signal: stopped.signal,
      progress: (share) => share > 0.5 && stopped.abort(),
    }),
  ).rejects.toThrow();
  expect(bytes(await builder.build(given)).equals(first)).toBe(true);
  builder.dispose();
});

describe("stopping", () => {
  test("before the work, and between any two steps; the builder can be used again", async () => {
    const given = input(randomTubes(9, 4));
    const truth = bytes(await afresh(given));
    const steps: number[] = [];
    const whole = newBuilder();
    await whole.build(given, { progress: (share) => steps.push(share) });
    whole.dispose();
    expect(steps.length).toBeGreaterThan(3);
    expect(steps).toEqual(steps.toSorted((a, b) => a - b));
    for (let last = 0; last < steps.length; last++) {
      const builder = newBuilder();
      const stopped = new AbortController();
      let seen = 0;
      const build = builder.build(given, {
        signal: stopped.signal,
        progress: () => {
          if (seen++ === last) stopped.abort(new Error("no longer wanted"));
        },
      });
      await expect(build).rejects.toThrow("no longer wanted");
      expect(seen).toBe(last + 1);
      expect(bytes(await builder.build(given)).equals(truth)).toBe(true);
      builder.dispose();
    }
    expect(alive()).toBe(0);
  });
});

describe("memory", () => {
  test("everything is freed by dispose, also after errors", async () => {
    const builder = newBuilder();
    const tubes = randomTubes(8, 6);
    await builder.build(input(tubes));
    const open = { ...cube([0, 0, 0], 9), triangles: cube([0, 0, 0], 9).triangles.slice(3) };
    for (const more of [
      { cuts: [{ kind: "mesh" as const, mesh: open }] },
      { head: { key: "open", mesh: open } },
      { bodies: inputOf([cube([0, 0, 0], 9), open]).bodies },
    ]) {
      await expect(builder.build({ ...input(tubes), ...more })).rejects.toThrow();
      await expect(builder.build({ ...input(tubes), ...more }, { incremental: true })).rejects.toThrow();
    }
    expect(handles.size).toBeGreaterThan(0);
    builder.dispose();
    expect(alive()).toBe(0);
    builder.dispose();
  });

  test("what is held does not grow over 60 edits", async () => {
    const maker = new BodyMaker(tolerance);
    const builder = newBuilder();
    const tubes = randomTubes(5, 9);
    const held: number[] = [];
    for (let edit = 0; edit < 60; edit++) {
      tubes[edit % 5] = edited(tubes[edit % 5], edit % 2 ? 2 : -2);
      await builder.build(input(tubes, maker), { incremental: edit % 5 !== 0 });
      held.push(alive());
    }
    // After every full build the same: bodies, groups and the head.
    const afterFull = held.filter((_, edit) => edit % 5 === 0);
    expect(new Set(afterFull.slice(1)).size).toBe(1);
    expect(Math.max(...held)).toBeLessThan(4 * afterFull[1]);
    builder.dispose();
    expect(alive()).toBe(0);
  }, 120_000);
});
