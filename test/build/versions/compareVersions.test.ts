import { readdirSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { Engine, type EngineFiles } from "../../../src/build/engine";
import { compareVersions } from "../../../src/build/versions/compareVersions";
import type { CompareResult } from "../../../src/build/versions/comparison";
import { meshVolume } from "../../../src/geometry/measure";
import { GitFolder } from "../../extension/versions/gitFolder";
import { bundleEvaluator, realEvaluator } from "../bundleEvaluator";
import { volumeLess } from "./columns";

vi.setConfig({ testTimeout: 300_000, hookTimeout: 300_000 });

// A piece of The Tide Court, in a folder whose name has a space and letters of other alphabets.
const folder = "Gezeiten hof ñ";
const design = `${folder}/ring.headpiece.ts`;

/** A ring with four rays and a block of stone; `rays`: names and radii, `height`: of the block. */
const text = ({
  rays = ["east", "north", "west", "south"],
  height = 20 as number | string,
  more = "",
} = {}) => `
import { primitives } from "@jscad/modeling";
import { band, headpiece, onHead, solid, tube } from "anadem";
import { thickness } from "../shared/thickness";
import reach from "./reach.json";

export default headpiece({
  name: "Tide ring",
  wearer: "../wearers/marin.wearer.json",
  make({ head }) {
    const ring = band("ring", head.girthLine.raised(12), { radius: 5 });
    const ray = (name: string, azimuth: number, radius = thickness) =>
      tube(name, [ring.atAzimuth(azimuth), onHead({ azimuth, elevation: 40, lift: reach.lift })], { radius });
    return [
      ring,
      ${rays.map((name, i) => `ray("${name}", ${90 * i}),`).join("\n      ")}
      solid("stone", primitives.cuboid({ size: [8, 8, ${height}] }), { at: [0, 190, 40 + ${height} / 2] }),
      tube("arm", [ring.atAzimuth(0), [0, 190, 45]], { radius: 4 }),
      ${more}
    ];
  },
});
`;

const shared = (radius: number) => `export const thickness = ${radius};\n`;
const wearer = (name: string, girth: number) =>
  JSON.stringify({ name, units: "mm", girth, ease: { girth: 8 } });
const tmpNames = () =>
  readdirSync(tmpdir()).filter((name) => name.startsWith(`anadem-version-${process.pid}-`));

let git: GitFolder;
let files: EngineFiles;
let removeBundle: () => void;
beforeAll(async () => {
  const { entry, remove } = await bundleEvaluator(realEvaluator);
  removeBundle = remove;
  files = { evaluator: entry, kernel: createRequire(import.meta.url).resolve("manifold-3d/manifold.wasm") };
  git = new GitFolder();
  git.write({
    [design]: text(),
    "shared/thickness.ts": shared(3),
    [`${folder}/reach.json`]: '{ "lift": 30 }',
    "wearers/marin.wearer.json": wearer("Marin", 570),
  });
  git.commit("Ring with four rays");
  git.git("tag", "first");
});
afterAll(() => {
  git.remove();
  removeBundle();
});

const compare = (against: string, more: object = {}): Promise<CompareResult> =>
  compareVersions({ design: git.at(design), against, ...more }, files);

describe("a block that grew, a ray renamed, one added and one gone", () => {
  let result: CompareResult;
  beforeAll(async () => {
    git.write({
      [design]: text({
        rays: ["east", "gull", "west"],
        height: 30,
        more: 'tube("reed", [ring.atAzimuth(45), onHead({ azimuth: 45, elevation: 20, lift: 60 })], { radius: 2.5 }),',
      }),
    });
    result = await compare("first");
  });

  test("names the commit and the right parts", () => {
    expect(result.messages.filter(({ severity }) => severity === "error")).toEqual([]);
    const { comparison } = result;
    expect(comparison?.revision).toEqual({
      asked: "first",
      hash: git.git("rev-parse", "first"),
      subject: "Ring with four rays",
    });
    expect(comparison?.parts).toEqual([
      { name: "gull", change: "changed", what: ["renamed from north"], was: "north" },
      {
        name: "stone",
        change: "changed",
        what: ["surface up to 10 mm away", "1.92 cm³ instead of 1.28 cm³"],
      },
      { name: "reed", change: "added", what: [] },
      { name: "south", change: "removed", what: [] },
    ]);
    expect(comparison?.sentence).toContain("1 tube added (reed); 1 tube removed (south)");
  });

  test("volumes agree with a boolean by lines, which knows no solid kernel", async () => {
    const { comparison, meshes } = result;
    if (!comparison || !meshes) throw new Error("nothing was compared");
    const { old, added, removed } = meshes;
    expect(meshVolume(added)).toBeCloseTo(comparison.added, 0);
    expect(meshVolume(removed)).toBeCloseTo(comparison.removed, 0);
    const engine = new Engine(files);
    const now = (await engine.build({ design: git.at(design) })).solid?.mesh;
    await engine.dispose();
    if (!now) throw new Error("the piece of now was not built");
    expect(volumeLess(now, old, 0.25) / comparison.added).toBeCloseTo(1, 2);
    expect(volumeLess(old, now, 0.25) / comparison.removed).toBeCloseTo(1, 2);
    // The meshes are those of the volumes: what is new lies nowhere inside the old piece, what is gone nowhere else.
    expect(volumeLess(added, old, 0.25) / comparison.added).toBeCloseTo(1, 2);
    expect(volumeLess(removed, old, 0.25)).toBeLessThan(0.005 * comparison.removed);
    expect(volumeLess(removed, now, 0.25) / comparison.removed).toBeCloseTo(1, 2);
    expect(meshVolume(old) + comparison.added - comparison.removed).toBeCloseTo(meshVolume(now), -1);
  });

  test("the stone alone: 8 × 8 × 10 mm more, by hand, and the reed and the lost ray by their distance", () => {
    // Reed and ray stand out farther than the stone grew.
    expect(result.comparison!.added).toBeGreaterThan(640);
    expect(result.comparison!.greatestDistance).toBeGreaterThan(10);
    expect(result.comparison!.greatestWithin).toBeLessThanOrEqual(0.05);
  });

  test("leaves nothing behind", () => expect(tmpNames()).toEqual([]));
});

test("a block alone that grew by 10 mm: 640 mm³ more, nothing less, 10 mm away", async () => {
  const { comparison } = await compare("first", { texts: { [git.at(design)]: text({ height: 30 }) } });
  expect(comparison?.added).toBeCloseTo(640, 1);
  expect(comparison?.removed).toBeCloseTo(0, 3);
  expect(comparison?.greatestDistance).toBeCloseTo(10, 4);
  expect(comparison?.greatestAt[2]).toBeCloseTo(70, 3);
  expect(comparison?.parts.map(({ name }) => name)).toEqual(["stone"]);
});

test("a helper of the commit is taken with it: thicker rays are told, with their radius", async () => {
  git.write({ [design]: text(), "shared/thickness.ts": shared(4) });
  const { comparison } = await compare("first");
  expect(comparison?.parts).toEqual(
    ["east", "north", "west", "south"].map((name) => ({
      name,
      change: "changed",
      what: ["radius 4 mm instead of 3 mm"],
    })),
  );
  expect(comparison?.added).toBeGreaterThan(0);
  expect(comparison?.removed).toBeLessThan(1);
  // Each ray is 1 mm thicker all round, and no point of the old surface moved farther.
  expect(comparison?.greatestDistance).toBeGreaterThan(0.9);
  expect(comparison?.greatestDistance).toBeLessThan(1.5);
});

test("the wearer of the commit is its own, and it is told that the heads differ", async () => {
  git.write({ "shared/thickness.ts": shared(3), "wearers/marin.wearer.json": wearer("Sedge", 590) });
  const { comparison, messages } = await compare("first");
  expect(messages.map(({ id }) => id)).toContain("version-of-other-head");
  expect(comparison?.sameHead).toBe(false);
  const wearerChange = comparison?.changes.find(({ key }) => key === "wearer");
  expect(wearerChange?.sentence).toBe("for Sedge instead of Marin");
  const girth = comparison?.changes.find(({ key }) => key === "head.girth");
  expect(girth?.sentence).toBe("girth of the head 590 mm instead of 570 mm");
  expect(comparison?.sentence).toMatch(/^for Sedge instead of Marin; /);
  git.write({ "wearers/marin.wearer.json": wearer("Marin", 570) });
});

test("the same piece: nothing differs, however often it is built", async () => {
  const { ok, comparison, meshes } = await compare("HEAD");
  expect(ok).toBe(true);
  expect(comparison).toMatchObject({
    added: 0,
    removed: 0,
    greatestDistance: 0,
    parts: [],
    changes: [],
    sentence: "the same piece",
  });
  expect(meshes?.added.triangles.length).toBe(0);
});

test("values of parameters are those of the piece of now: the old one has its file's", async () => {
  const taller = text({ height: "height" }).replace(
    "make({ head })",
    "parameters: { height: length(20, { least: 5, most: 60 }) },\n  make({ head, parameters: { height } })",
  );
  git.write({ [design]: taller.replace("headpiece, onHead", "headpiece, length, onHead") });
  git.commit("A parameter");
  for (const moved of [{ values: { height: 35 } }, { settings: { height: "35" } }]) {
    const { comparison } = await compare("HEAD", moved);
    expect(comparison?.parts.map(({ name }) => name)).toEqual(["stone"]);
    // By hand: 8 by 8 mm, 15 mm taller.
    expect(comparison?.added).toBeCloseTo(8 * 8 * 15, 0);
    expect(comparison?.removed).toBeLessThan(0.5);
  }
});

test("what is wrong with the older piece is told at its place in the commit", async () => {
  git.write({ [design]: text({ more: 'tube("stray", [[0, 0, 300], [0, 0, 340]], { radius: 4 }),' }) });
  git.commit("A stray tube");
  git.write({ [design]: text() });
  const result = await compare("HEAD");
  expect(result.ok).toBe(false);
  expect(result.comparison).toBeUndefined();
  const [message] = result.messages.filter(({ severity }) => severity === "error");
  expect(message).toMatchObject({ id: "loose-piece", part: "stray", file: `HEAD:${design}` });
  expect(JSON.stringify(result.messages)).not.toContain(tmpdir());
  expect(tmpNames()).toEqual([]);
});
