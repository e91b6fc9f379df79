import { beforeAll, describe, expect, it } from "vitest";
import { Random } from "../../src/design/random";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { emptyPlace, TriangleTree } from "../../src/geometry/triangleTree";
import type { Vec3 } from "../../src/geometry/vector";
import type { HeadForm } from "../../src/head/headForm";
import { type ScannedWearer, wearerOfScan } from "../../src/head/scannedHead";
import type { ScanRequest } from "../../src/head/scanRequest";
import { type Wearer, wearerFromDocument } from "../../src/head/wearer";
import { headFormOf } from "../../src/head/wearerHead";
import { MessageError } from "../../src/message";
import {
  ball,
  bent,
  both,
  fineness,
  heads,
  type Movement,
  moved,
  noisy,
  onShoulders,
  partlyTurned,
  randomRotation,
  without,
  withoutFoot,
  withoutTop,
} from "./scanShapes";

function wearerOf(fields: Record<string, unknown>): Wearer {
  const { wearer, messages } = wearerFromDocument({
    name: "Maris",
    units: "mm",
    scan: { file: "maris.obj" },
    ...fields,
  });
  if (!wearer) throw new Error(messages.map(({ text }) => text).join("\n"));
  return wearer;
}

function scanned(
  mesh: TriangleMesh,
  fields: Record<string, unknown>,
  request: Partial<ScanRequest> = {},
): ScannedWearer {
  return wearerOfScan(mesh, wearerOf(fields), { file: "maris.obj", ...request });
}

function refusal(make: () => unknown) {
  try {
    make();
  } catch (error) {
    expect(error).toBeInstanceOf(MessageError);
    return (error as MessageError).messages[0];
  }
  throw new Error("nothing was refused");
}

/** The distance within which 95 % of a mesh's vertices above a level lie from a form's mesh, mm. */
function within(mesh: TriangleMesh, form: HeadForm, level: number): number {
  const tree = new TriangleTree(form.mesh());
  const place = emptyPlace();
  const distances: number[] = [];
  for (let i = 0; i < mesh.positions.length; i += 3) {
    const [x, y, z] = mesh.positions.subarray(i, i + 3);
    if (z >= level) distances.push(tree.nearest(x, y, z, place).distance);
  }
  return distances.sort((a, b) => a - b)[Math.floor(0.95 * distances.length)];
}

/** The scan's pose undone by the matrix that was found. */
function broughtBack({ positions, triangles }: TriangleMesh, m: readonly number[]): TriangleMesh {
  const out = new Float32Array(positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    for (let row = 0; row < 3; row++) {
      out[i + row] =
        m[row] * positions[i] + m[4 + row] * positions[i + 1] + m[8 + row] * positions[i + 2] + m[12 + row];
    }
  }
  return { positions: out, triangles };
}

const anyMovement = (random: Random, mm: number): Movement => ({
  rotation: randomRotation(random),
  size: 1 / mm,
  shift: [0, 1, 2].map(() => random.between(-900, 900) / mm) as unknown as Vec3,
});

const inside = (mesh: TriangleMesh): TriangleMesh => {
  const triangles = mesh.triangles.slice();
  for (let i = 0; i < triangles.length; i += 3)
    [triangles[i + 1], triangles[i + 2]] = [triangles[i + 2], triangles[i + 1]];
  return { positions: mesh.positions, triangles };
};

/** A wall 6 mm inside the skin, joined to it nowhere and facing in. */
const withInnerWall = (mesh: TriangleMesh): TriangleMesh =>
  both(mesh, { ...inside(mesh), positions: mesh.positions.map((value) => 0.93 * value) });

interface Fault {
  readonly what: string;
  readonly mm: number;
  readonly triangles: number;
  readonly make: (mesh: TriangleMesh, form: HeadForm, random: Random) => TriangleMesh;
}

const faults: readonly Fault[] = [
  { what: "open at the neck, in inches", mm: 25.4, triangles: 20_000, make: withoutFoot },
  {
    what: "a hole in the top, half of it turned over, in metres",
    mm: 1000,
    triangles: 20_000,
    make: (mesh, form, random) => partlyTurned(withoutTop(mesh, form), random, 0.5),
  },
  { what: "on shoulders, coarse, in centimetres", mm: 10, triangles: 2500, make: onShoulders },
  {
    what: "turned inside out, with a wall inside",
    mm: 1,
    triangles: 20_000,
    make: (mesh) => withInnerWall(inside(mesh)),
  },
  {
    what: "crossing itself",
    mm: 25.4,
    triangles: 20_000,
    make: (mesh) => both(mesh, ball([60, 70, 60], [0, 20, -20])),
  },
];

describe("a scan in any unit and pose becomes a closed form", () => {
  for (const [index, { what, mm, triangles, make }] of faults.entries()) {
    const seed = 31 + index;
    it(`${what}, seed ${seed}`, () => {
      const random = new Random(seed);
      const form = heads[index];
      const skin = noisy(bent(form.mesh(fineness(triangles)), random, 2.5), random, 0.15);
      const { girth, length } = form.measurements;
      const given = moved(make(skin, form, random), anyMovement(random, mm));
      const { wearer, messages } = scanned(given, { girth, length }, { unit: undefined });
      const head = headFormOf(wearer);
      const { measured, scale, within: told, matrix, key } = wearer.scanned!;
      expect(messages.filter(({ severity }) => severity === "error")).toEqual([]);
      expect(key).not.toBe("");
      // Scaled by the girth, which bending by 2.5 mm and noise changed a little.
      expect(Math.abs(scale / mm - 1)).toBeLessThan(0.03);
      expect(measured.girth).toBeCloseTo(girth, 1);
      expect(Math.abs(head.measured.girth - measured.girth)).toBeLessThan(0.5);
      expect(Math.abs(head.measured.length - measured.length)).toBeLessThan(1);
      expect(Math.abs(head.measured.breadth - measured.breadth)).toBeLessThan(1);
      expect(told).toBeLessThan(0.8);
      const whole = broughtBack(given, matrix);
      if (!what.includes("wall") && !what.includes("crossing")) {
        expect(within(whole, head, head.center[2] + 1)).toBeLessThan(0.9);
      }
      expect(wearer.measurements.girth).toBe(measured.girth);
      expect(wearer.estimated.map(({ field }) => field)).not.toContain("breadth");
      expect(() => structuredClone(wearer)).not.toThrow();
    });
  }
});

describe("a scan by its named points", () => {
  const random = new Random(51);
  const form = heads[1];
  const movement = anyMovement(random, 25.4);
  const mesh = moved(bent(form.mesh(fineness(8000)), random, 1), movement);
  const out = ([x, y, z]: Vec3): Vec3 => {
    const p = moved(
      { positions: Float32Array.of(x, y, z), triangles: new Uint32Array(0) },
      movement,
    ).positions;
    return [p[0], p[1], p[2]];
  };
  const points = {
    brow: out(form.landmarks.brow),
    leftTragion: out(form.landmarks.leftTragion),
    rightTragion: out(form.landmarks.rightTragion),
  };
  let placed: ScannedWearer;
  beforeAll(() => {
    placed = scanned(mesh, { girth: form.measurements.girth }, { points });
  }, 60_000);

  it("stands with the tragions on the x axis, as far left as right, and looks forward", () => {
    const m = placed.wearer.scanned!.matrix;
    const back = ([x, y, z]: Vec3) =>
      [0, 1, 2].map((i) => m[i] * x + m[4 + i] * y + m[8 + i] * z + m[12 + i]);
    const [left, right, brow] = [back(points.leftTragion), back(points.rightTragion), back(points.brow)];
    expect(left[0] + right[0]).toBeCloseTo(0, 3);
    for (const value of [left[1], left[2], right[1], right[2]]) expect(value).toBeCloseTo(0, 3);
    expect(Math.hypot(...brow.map((value, axis) => value - form.landmarks.brow[axis]))).toBeLessThan(3);
    expect(placed.messages.find(({ id }) => id === "scan-placed")?.text).toContain("by its three points");
  });

  it("is refused with left and right exchanged", () => {
    const message = refusal(() =>
      scanned(
        mesh,
        { girth: 560 },
        { points: { ...points, leftTragion: points.rightTragion, rightTragion: points.leftTragion } },
      ),
    );
    expect(message).toMatchObject({ id: "scan-points-impossible", field: "scan.points" });
    expect(message.suggestion).toContain("Exchange leftTragion and rightTragion");
  });

  it("is refused where the points cannot be those of a head, with the distances", () => {
    const far = refusal(() =>
      scanned(mesh, { girth: 560 }, { points: { ...points, brow: out([0, 400, 40]) } }),
    );
    expect(far).toMatchObject({ id: "scan-points-impossible" });
    expect(far.text).toMatch(/The brow is 15\.\d+ from the middle between the tragions/);
    const aside = refusal(() =>
      scanned(mesh, { girth: 560 }, { points: { ...points, brow: out([60, 90, 40]) } }),
    );
    expect(aside.text).toContain("it cannot lie between the eyebrows");
  });
});

describe("the scale of a scan", () => {
  const form = heads[0];
  const mesh = moved(form.mesh(fineness(6000)), {
    rotation: [0, -1, 0, 1, 0, 0, 0, 0, 1],
    size: 1 / 10,
    shift: [5, 6, 7],
  });
  const { girth, length, breadth } = form.measurements;

  it("comes from the unit that is stated; measures that differ are told", () => {
    const { wearer, messages } = scanned(mesh, { girth: 600, breadth: breadth + 1 }, { unit: "cm" });
    expect(wearer.scanned).toMatchObject({ scale: 10, unit: "centimetres" });
    expect(wearer.scanned!.scaledBy).toBeUndefined();
    expect(wearer.measurements.girth).toBeCloseTo(girth, 0);
    const doubts = messages.filter(({ id }) => id === "scan-scale-doubtful");
    expect(doubts).toHaveLength(1);
    expect(doubts[0]).toMatchObject({ severity: "warning", field: "girth" });
    expect(doubts[0].text).toMatch(/girth is 57\d\.\d mm where 600\.0 mm was measured, −4\.\d %/);
  });

  it("comes from one measure, and all others follow", () => {
    const { wearer } = scanned(mesh, { girth: 590, length: length * 1.02, breadth }, { scaledBy: "length" });
    expect(wearer.measurements.length).toBeCloseTo(length * 1.02, 2);
    expect(wearer.measurements.breadth).toBeCloseTo(breadth * 1.02, 0);
    const given = wearer.scanned!.comparisons.find(({ field }) => field === "breadth")!;
    expect(given.onScan - given.given!).toBeCloseTo(0.02 * breadth, 0);
    expect(given.isDoubtful).toBe(false);
  });

  it("is refused where the unit gives no human's girth, with the likelier unit", () => {
    const message = refusal(() => scanned(mesh, {}, { unit: "m" }));
    expect(message).toMatchObject({ id: "scan-not-human", field: "scan.unit" });
    expect(message.suggestion).toContain('"unit": "cm"');
  });

  it("is refused where nothing was measured and no unit makes it a head", () => {
    const odd = moved(mesh, { rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], size: 2.3, shift: [0, 0, 0] });
    const message = refusal(() => scanned(odd, {}));
    expect(message).toMatchObject({ id: "scan-no-scale" });
    expect(message.text).toMatch(/about 4\.\d+ mm/);
  });
});

describe("an open scan", () => {
  const form = heads[0];

  it("is refused where the girth is open, and says where", () => {
    const mesh = without(
      form.mesh(fineness(8000)),
      ([x, y, z]) => y < -20 && Math.abs(x) < 70 && z > -40 && z < 75,
    );
    const message = refusal(() => scanned(mesh, { girth: 574 }));
    expect(message).toMatchObject({ id: "scan-girth-open", field: "scan.file" });
    expect(message.text).toMatch(/open over \d+° at the level of the girth, at the back/);
  });

  it("with an open crown takes its height from what was given, and tells so", () => {
    const mesh = without(form.mesh(fineness(8000)), ([, , z]) => z > 108);
    const { wearer, messages } = scanned(mesh, { girth: 574, crownHeight: form.measurements.crownHeight });
    expect(wearer.measurements.crownHeight).toBe(form.measurements.crownHeight);
    expect(headFormOf(wearer).measured.crownHeight).toBeCloseTo(form.measurements.crownHeight, 0);
    expect(messages.some(({ text }) => text.includes("open at the crown"))).toBe(true);
    expect(messages.some(({ text }) => /lacks \d+ % of the head/.test(text))).toBe(true);
    // What fills it is the form that it was cut from, since its measures are the same.
    expect(within(form.mesh(), headFormOf(wearer), form.center[2])).toBeLessThan(1.5);
  });
});

it("two megabytes of triangles at random are refused", () => {
  const random = new Random(61);
  const soup: TriangleMesh = {
    positions: Float32Array.from({ length: 9 * 41_000 }, () => random.between(-150, 150)),
    triangles: Uint32Array.from({ length: 3 * 41_000 }, (_, i) => i),
  };
  expect(refusal(() => scanned(soup, { girth: 570 }))).toMatchObject({ id: "scan-no-head" });
});
