import { describe, expect, it } from "vitest";
import { WornHead } from "../../src/checks/wornHead";
import { Random } from "../../src/design/random";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { degrees, type Vec3 } from "../../src/geometry/vector";
import type { HeadForm } from "../../src/head/index";
import { type PlacedScan, placeHeadScan } from "../../src/head/scan";
import { MessageError } from "../../src/message";
import { box, turned } from "../checks/shapes";
import {
  ball,
  bent,
  both,
  fineness,
  haired,
  heads,
  type Movement,
  moved,
  noisy,
  onShoulders,
  partlyTurned,
  randomRotation,
  without,
  withoutEars,
  withoutFace,
  withoutFoot,
  withoutTop,
} from "./scanShapes";

/** Where a pose puts the head frame, against the truth that the scan was moved away from. */
interface PoseError {
  readonly degrees: number;
  readonly mm: number;
  /** Size in the head frame against the true one. */
  readonly size: number;
}

function errorOf({ matrix }: PlacedScan, { rotation: r, size, shift }: Movement): PoseError {
  const back = (p: Vec3): Vec3 => {
    const q = [0, 1, 2].map(
      (i) => size * (r[3 * i] * p[0] + r[3 * i + 1] * p[1] + r[3 * i + 2] * p[2]) + shift[i],
    );
    const x = [0, 1, 2].map(
      (i) => matrix[i] * q[0] + matrix[4 + i] * q[1] + matrix[8 + i] * q[2] + matrix[12 + i],
    );
    return [x[0], x[1], x[2]];
  };
  const origin = back([0, 0, 0]);
  const axes = (
    [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const
  ).map((axis) => back(axis).map((v, i) => v - origin[i]));
  const sizes = axes.map((axis) => Math.hypot(...axis));
  const trace = axes.reduce((sum, axis, i) => sum + axis[i] / sizes[i], 0);
  return {
    degrees: degrees(Math.acos(Math.min(1, (trace - 1) / 2))),
    mm: Math.hypot(...origin),
    size: (sizes[0] + sizes[1] + sizes[2]) / 3,
  };
}

/** A movement by metres, turned in any way, in a unit of so many mm. */
const anyMovement = (random: Random, mm: number): Movement => ({
  rotation: randomRotation(random),
  size: 1 / mm,
  shift: [0, 1, 2].map(() => random.between(-3000, 3000) / mm) as unknown as Vec3,
});

const units = [
  { mm: 1, name: "millimetres" },
  { mm: 10, name: "centimetres" },
  { mm: 25.4, name: "inches" },
  { mm: 1000, name: "metres" },
];

/** What is wrong with a scan. */
const faults: Readonly<Record<string, (mesh: TriangleMesh, form: HeadForm, random: Random) => TriangleMesh>> =
  {
    "nothing more": (mesh) => mesh,
    "no ears": withoutEars,
    "a hole in the top": withoutTop,
    "an open neck": withoutFoot,
    shoulders: onShoulders,
    "triangles turned over": (mesh, _form, random) => partlyTurned(mesh, random, 0.6),
    "no face": withoutFace,
    "all at once": (mesh, form, random) =>
      partlyTurned(
        onShoulders(withoutFoot(withoutTop(withoutEars(mesh, form), form), form), form),
        random,
        0.3,
      ),
  };

/** A head unlike its form: bent by up to 2.5 mm, rough by 0.2 mm, with a fault. */
function scanOf(form: HeadForm, fault: string, random: Random, triangles = 20_000): TriangleMesh {
  const mesh = faults[fault](form.mesh(fineness(triangles)), form, random);
  return noisy(bent(mesh, random, 2.5), random, 0.2);
}

describe("a scan in any pose, metres away", () => {
  const names = Object.keys(faults);
  for (let seed = 1; seed <= 24; seed++) {
    const fault = names[seed % names.length];
    const unit = units[(seed + Math.floor(seed / names.length)) % units.length];
    const triangles = seed % 3 === 0 ? 2500 : 20_000;
    it(`comes to the head frame: ${fault}, in ${unit.name}, ${triangles} triangles, seed ${seed}`, () => {
      const random = new Random(seed);
      const form = heads[seed % heads.length];
      const movement = anyMovement(random, unit.mm);
      const placed = placeHeadScan(moved(scanOf(form, fault, random, triangles), movement), form);
      const error = errorOf(placed, movement);
      expect(error.degrees).toBeLessThan(3);
      expect(error.mm).toBeLessThan(4);
      expect(error.size).toBeCloseTo(1, 6);
      expect(placed.unit).toBe(unit.name);
      expect(placed.asItWas).toBe(false);
      expect(placed.scale).toBe(unit.mm);
      expect(Math.abs(placed.fittedScale / unit.mm - 1)).toBeLessThan(0.02);
      // Bent by 2.5 mm at most: half of the cranium lies nearer than that.
      expect(placed.residual.median).toBeLessThan(2);
      expect(Math.abs(placed.measured.girth / form.measurements.girth - 1)).toBeLessThan(0.03);
      expect(() => JSON.stringify(structuredClone(placed))).not.toThrow();
      expect(placed.mesh.positions.every(Number.isFinite)).toBe(true);
    });
  }

  for (let seed = 101; seed <= 106; seed++) {
    // 209.55/42.83551: a real file's units that were none (common practice, no source).
    const mm = seed % 2 === 0 ? 209.55 / 42.83551 : 10 ** new Random(seed).between(-4, 4) * 3;
    const fault = names[seed % names.length];
    it(`is scaled to the girth where its unit is none: ${fault}, ${mm.toPrecision(4)} mm, seed ${seed}`, () => {
      const random = new Random(seed);
      const form = heads[seed % heads.length];
      const movement = anyMovement(random, mm);
      const placed = placeHeadScan(moved(scanOf(form, fault, random), movement), form);
      const error = errorOf(placed, movement);
      expect(error.degrees).toBeLessThan(3);
      expect(error.mm).toBeLessThan(4);
      expect(Math.abs(error.size - 1)).toBeLessThan(0.01);
      expect(placed.unit).toBe("no known unit");
      expect(placed.measured.girth).toBeCloseTo(form.measurements.girth, 0);
      expect(placed.doubts.some((doubt) => doubt.includes("no plausible size"))).toBe(true);
    });
  }

  it("keeps its own size in a known unit, and tells how it differs from the measurements", () => {
    for (const [seed, scanned, worn] of [
      [201, 2, 0],
      [202, 0, 2],
      [203, 6, 1],
    ]) {
      const random = new Random(seed);
      const movement = anyMovement(random, 10);
      const placed = placeHeadScan(moved(heads[scanned].mesh(), movement), heads[worn]);
      const error = errorOf(placed, movement);
      expect(error.degrees).toBeLessThan(3);
      // Somebody else's head: where its tragions are, another's form can only tell so well.
      expect(error.mm).toBeLessThan(6);
      expect(error.size).toBeCloseTo(1, 6);
      const girth = heads[scanned].measurements.girth;
      expect(Math.abs(placed.measured.girth - girth)).toBeLessThan(1.5);
      const own = placed.doubts.some((doubt) => doubt.includes("keeps its own size, in centimetres"));
      expect(own).toBe(Math.abs(placed.measured.girth / heads[worn].measurements.girth - 1) > 0.01);
    }
  });

  it("is found on a standing body", () => {
    const random = new Random(301);
    const form = heads[1];
    const body = both(onShoulders(form.mesh(), form), ball([180, 110, 700], [0, -30, -850]));
    const movement = anyMovement(random, 1000);
    const error = errorOf(placeHeadScan(moved(body, movement), form), movement);
    expect(error.degrees).toBeLessThan(0.5);
    expect(error.mm).toBeLessThan(0.5);
  });

  it("with hair keeps the frame of the face under it, and the hair is told", () => {
    for (let seed = 401; seed <= 406; seed++) {
      const random = new Random(seed);
      const form = heads[seed % heads.length];
      const movement = anyMovement(random, units[seed % 4].mm);
      const scan = noisy(bent(haired(form.mesh(), form, 10 + 2 * (seed % 5)), random, 2), random, 0.2);
      const placed = placeHeadScan(moved(scan, movement), form);
      const error = errorOf(placed, movement);
      expect(error.degrees, `seed ${seed}`).toBeLessThan(3);
      expect(error.mm, `seed ${seed}`).toBeLessThan(5);
      expect(placed.unit).toBe(units[seed % 4].name);
      expect(placed.doubts.some((doubt) => doubt.includes("hair or a cap"))).toBe(true);
    }
  });
});

describe("a scan in the head frame", () => {
  it("is left exactly as it is, though it is not quite the form", () => {
    for (let seed = 501; seed <= 506; seed++) {
      const form = heads[seed % heads.length];
      const mesh = bent(form.mesh(), new Random(seed), 3);
      const scan = seed % 2 === 0 ? mesh : haired(mesh, form, 8);
      const placed = placeHeadScan(scan, form);
      expect(placed.asItWas, `seed ${seed}`).toBe(true);
      expect(placed.matrix).toEqual([1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1]);
      expect(placed.mesh.triangles.length).toBe(scan.triangles.length);
      expect(new Set(placed.mesh.positions)).toEqual(new Set(scan.positions));
      expect(placed).toMatchObject({ scale: 1, unit: "millimetres" });
    }
  });

  it("that looks back, or lies on its side there, is turned", () => {
    const form = heads[0];
    for (const rotation of [
      [-1, 0, 0, 0, -1, 0, 0, 0, 1],
      [0, -1, 0, 1, 0, 0, 0, 0, 1],
      [1, 0, 0, 0, 0, -1, 0, 1, 0],
    ]) {
      const movement: Movement = { rotation, size: 1, shift: [0, 0, 0] };
      const placed = placeHeadScan(moved(form.mesh(), movement), form);
      expect(placed.asItWas).toBe(false);
      expect(errorOf(placed, movement).degrees).toBeLessThan(0.2);
      expect(errorOf(placed, movement).mm).toBeLessThan(0.3);
    }
  });
});

describe("what is told of a placed scan", () => {
  const form = heads[0];

  it("is the distance from the form: grown by 3 mm, 3 mm above the girth", () => {
    const placed = placeHeadScan(form.grown({ offset: 3, hairThickness: 0 }).mesh(), form);
    expect(placed.residual.median).toBeCloseTo(3, 1);
    expect(placed.residual.p90).toBeCloseTo(3, 0);
    // Steiner's formula for the girth: 2π × offset.
    expect(placed.measured.girth - form.measurements.girth).toBeCloseTo(6 * Math.PI, 0);
  });

  it("are the measures that the form was built from", () => {
    for (const head of heads) {
      const { measured, doubts } = placeHeadScan(head.mesh(), head);
      for (const field of ["girth", "length", "breadth", "crownHeight"] as const) {
        expect(Math.abs(measured[field] - head.measurements[field]), field).toBeLessThan(0.6);
      }
      expect(Math.abs(measured.girthHeight - head.center[2])).toBeLessThan(3);
      expect(doubts).toEqual([]);
    }
  });

  it("are a hole, a missing face, loose pieces and pieces inside, only where they are", () => {
    const movement = anyMovement(new Random(601), 10);
    const doubtsOf = (mesh: TriangleMesh) => placeHeadScan(moved(mesh, movement), form).doubts.join("; ");
    expect(doubtsOf(form.mesh())).toBe("");
    const hole = without(form.mesh(), ([x, y, z]) => z > 0 && Math.hypot(x, y - form.center[1]) < 45);
    expect(doubtsOf(hole)).toMatch(/^the scan has a hole over \d+ %/);
    expect(doubtsOf(withoutFace(form.mesh()))).toContain("shows no face");
    expect(doubtsOf(both(form.mesh(), ball([5, 5, 5], [300, 0, 0])))).toMatch(
      /^1 loose piece with 0\.\d % .* was left out/,
    );
    expect(doubtsOf(both(form.mesh(), ball([50, 60, 50], [0, 0, 30])))).toMatch(
      /^1 piece inside the head was left out/,
    );
  });

  it("serves the checks: distances of an open, moved scan are those of the form", () => {
    const random = new Random(602);
    const movement = anyMovement(random, 25.4);
    const scan = partlyTurned(withoutFoot(form.mesh(), form), random, 0.5);
    const placed = placeHeadScan(moved(scan, movement), form);
    const worn = new WornHead(form, { ease: 1, hair: 3, hairPressed: 1 }, placed.mesh);
    for (const place of [
      { azimuth: 0, elevation: 20 },
      { azimuth: 100, elevation: 40 },
      { azimuth: -150, elevation: 10 },
    ]) {
      for (const lift of [-6, 4, 12]) {
        expect(worn.bare.at(...form.pointAt({ ...place, lift }))).toBeCloseTo(lift, 0);
      }
    }
  });
});

describe("a mesh that is no head", () => {
  const form = heads[0];
  const meshes: Readonly<Record<string, TriangleMesh>> = {
    "a plate": box([0, 0, 0], [260, 260, 4]),
    "a cube": box([0, 0, 0], [160, 160, 160]),
    "a rod": ball([20, 20, 220], [0, 0, 0]),
    "a ring": turnedRing(80, 12),
    "one triangle": {
      positions: Float32Array.of(0, 0, 0, 100, 0, 0, 0, 100, 0),
      triangles: Uint32Array.of(0, 1, 2),
    },
    "triangles at random": {
      positions: new Float32Array(9 * 5000).map(randomly(new Random(701))),
      triangles: Uint32Array.from({ length: 15_000 }, (_, i) => i),
    },
    nothing: { positions: new Float32Array(0), triangles: new Uint32Array(0) },
  };
  for (const [name, mesh] of Object.entries(meshes)) {
    it(`is refused: ${name}`, () => {
      let thrown: unknown;
      try {
        placeHeadScan(mesh, form);
      } catch (error) {
        thrown = error;
      }
      expect(thrown).toBeInstanceOf(MessageError);
      const [message] = (thrown as MessageError).messages;
      expect(message).toMatchObject({ id: "scan-no-head", severity: "error" });
      expect(message.text).not.toMatch(/NaN|Infinity|undefined/);
      expect(message.suggestion).toContain("one head");
    });
  }

  it("but head-sized and round is told as doubtful at least", () => {
    const { doubts } = placeHeadScan(ball([90, 90, 90], [0, 0, 0]), form);
    expect(doubts.join("; ")).toContain("front and back");
  });
});

function turnedRing(radius: number, thickness: number): TriangleMesh {
  const profile = Array.from({ length: 25 }, (_, i): [number, number] => {
    const angle = (2 * Math.PI * i) / 24;
    return [radius + thickness * Math.cos(angle), thickness * Math.sin(angle)];
  });
  return turned(profile, 48);
}

function randomly(random: Random): () => number {
  return () => random.between(-150, 150);
}
