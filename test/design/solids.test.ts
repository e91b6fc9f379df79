import { booleans, primitives, transforms } from "@jscad/modeling";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  band,
  channel,
  combSlot,
  cut,
  group,
  hole,
  mirrored,
  onHead,
  type PathPoint,
  type PointLike,
  repeatedAround,
  socket,
  solid,
  straight,
  tube,
} from "../../src/design";
import type { Solid } from "../../src/design/solid";
import { meshVolume } from "../../src/geometry/measure";
import { sweepTube } from "../../src/geometry/sweep";
import { cloud, errorInMake, farthest, inMake, middleOf, near, run } from "./rig";

const box = primitives.cuboid({ size: [2, 4, 8] });
/** A body without symmetry: a box and a smaller one on its upper, forward, right corner. */
const lopsided = booleans.union(
  primitives.cuboid({ size: [10, 20, 30] }),
  primitives.cuboid({ size: [4, 4, 4], center: [5, 10, 15] }),
);
const vertices = ({ mesh }: Solid) =>
  Array.from({ length: mesh.positions.length / 3 }, (_, i) => [...mesh.positions.slice(3 * i, 3 * i + 3)]);

describe("placing a solid", () => {
  test("stands at its point, its volume kept, whichever way it looks", () => {
    const way = fc.tuple(
      fc.double({ min: -1, max: 1, noNaN: true }),
      fc.double({ min: -1, max: 1, noNaN: true }),
      fc.double({ min: -1, max: 1, noNaN: true }),
    );
    inMake(() => {
      fc.assert(
        fc.property(way, fc.double({ min: -360, max: 360, noNaN: true }), (facing, turn) => {
          fc.pre(Math.hypot(...facing) > 0.01);
          const { mesh } = solid("box", box, { at: [10, 20, 150], facing, turn });
          expect(meshVolume(mesh)).toBeCloseTo(64, 3);
          near(middleOf(mesh.positions), [10, 20, 150], 1e-4);
        }),
        { seed: 2, numRuns: 100 },
      );
      for (const facing of ["out", "up", [0, 0, 1], [0, 0, -1], [0, 1, 0], [1e-9, 0, -1]] as const) {
        expect(
          meshVolume(solid("box", box, { at: onHead({ azimuth: 70, elevation: 20 }), facing }).mesh),
        ).toBeCloseTo(64, 3);
      }
    });
  });

  test("its +Z looks along the facing, its +Y stays upright, and a turn is right-handed about the facing", () => {
    const rod = (axis: 0 | 1 | 2) =>
      primitives.cuboid({
        size: [1, 1, 1],
        center: [0, 1, 2].map((k) => (k === axis ? 10 : 0)) as [number, number, number],
      });
    const tipOf = (axis: 0 | 1 | 2, more: object) =>
      inMake(() => middleOf(solid("rod", rod(axis), { at: [0, 0, 0], ...more }).mesh.positions));
    near(tipOf(2, { facing: [0, 1, 0] }), [0, 10, 0], 1e-4);
    near(tipOf(1, { facing: [0, 1, 0] }), [0, 0, 10], 1e-4);
    // Seen by one who looks at a brow from outside, the body's +X is to the left, where the wearer's right is.
    near(tipOf(0, { facing: [0, 1, 0] }), [-10, 0, 0], 1e-4);
    near(tipOf(0, { facing: "up" }), [10, 0, 0], 1e-4);
    near(tipOf(1, { facing: "up" }), [0, 10, 0], 1e-4);
    near(tipOf(1, { facing: "up", turn: 90 }), [-10, 0, 0], 1e-4);
    near(tipOf(1, { facing: [0, 1, 0], turn: 90 }), [10, 0, 0], 1e-4);
  });

  test("faces off the head by itself, along a path where told", () => {
    inMake(({ head }) => {
      const at = head.girthLine.raised(10).atAzimuth(40);
      const spike = primitives.cuboid({ size: [1, 1, 20], center: [0, 0, 10] });
      near(middleOf(solid("spike", spike, { at }).mesh.positions), at.lifted(10).position, 1e-3);
      near(
        middleOf(solid("spike", spike, { at, facing: "along" }).mesh.positions),
        at.offset({ along: 10 }).position,
        1e-3,
      );
      near(
        middleOf(solid("spike", spike, { at, facing: "up" }).mesh.positions),
        at.moved({ up: 10 }).position,
        1e-3,
      );
      near(middleOf(solid("spike", spike, { at: [0, 0, 150] }).mesh.positions), [0, 0, 160], 1e-3);
    });
  });

  test("a body that was mirrored inside out is turned right", () => {
    const turned = transforms.mirror({ normal: [1, 0, 0] }, lopsided);
    expect(meshVolume(inMake(() => solid("body", turned)).mesh)).toBeGreaterThan(6000);
  });

  test("the mended boolean is closed and keeps its volume", () => {
    const { mesh } = inMake(() => solid("body", lopsided));
    // 10·20·30, and 4³ less the eighth of it that lies in the box.
    expect(meshVolume(mesh)).toBeCloseTo(6000 + 64 - 8, 1);
    const edges = new Map<string, number>();
    for (let i = 0; i < mesh.triangles.length; i += 3) {
      for (let k = 0; k < 3; k++) {
        const pair = [mesh.triangles[i + k], mesh.triangles[i + ((k + 1) % 3)]].sort((a, b) => a - b).join();
        edges.set(pair, (edges.get(pair) ?? 0) + 1);
      }
    }
    expect([...edges.values()].every((times) => times === 2)).toBe(true);
  });

  const open = { ...primitives.cube({ size: 4 }) };
  open.polygons = open.polygons.slice(1);
  test.each<[string, () => unknown, object]>([
    [
      "no body",
      () => solid("pearl", { radius: 3 } as never),
      { id: "not-a-body", text: 'the body of "pearl" is an object with radius' },
    ],
    ["a flat body", () => solid("pearl", primitives.circle({ radius: 3 }) as never), { id: "not-a-body" }],
    [
      "an empty body",
      () =>
        solid(
          "pearl",
          booleans.intersect(primitives.cube({ size: 1 }), primitives.cube({ size: 1, center: [9, 9, 9] })),
        ),
      { id: "empty-body", text: 'the body of "pearl" is empty' },
    ],
    [
      "an open body",
      () => solid("shell", open),
      {
        id: "open-body",
        text: 'the body of "shell" is not closed: 4 of its edges are not shared by just two faces',
      },
    ],
    [
      "an unknown facing",
      () => solid("box", box, { at: [0, 0, 0], facing: "upp" as never }),
      { id: "unknown-word", text: 'facing of "box" is "upp"', suggestion: 'did you mean "up"?' },
    ],
    [
      "along no path",
      () => solid("box", box, { at: onHead({ azimuth: 0, elevation: 0 }), facing: "along" }),
      { id: "no-direction", suggestion: "give at as a point of a path" },
    ],
    [
      "out of nowhere",
      () => solid("box", box, { facing: "out" }),
      { id: "no-direction", text: 'facing of "box" is "out", and at is undefined' },
    ],
    [
      "a facing without length",
      () => solid("box", box, { at: [0, 0, 0], facing: [0, 0, 0] }),
      { id: "no-direction" },
    ],
    [
      "a misspelt option",
      () => solid("box", box, { turns: 30 } as never),
      { id: "unknown-option", suggestion: 'did you mean "turn"?' },
    ],
    ["no name", () => solid("", box), { id: "not-a-text", text: 'the name of the solid is "", not a text' }],
  ])("mistake: %s", (_, act, expected) => {
    expect(errorInMake(act)).toMatchObject(expected);
  });
});

describe("cuts", () => {
  const meshOf = (made: { body: { kind: string } }) => (made.body as unknown as { mesh: Solid["mesh"] }).mesh;
  const boundsAlong = (made: ReturnType<typeof socket>, at: PathPoint, direction: readonly number[]) => {
    const { positions } = meshOf(made);
    const reach = Array.from({ length: positions.length / 3 }, (_, i) =>
      [0, 1, 2].reduce((sum, k) => sum + (positions[3 * i + k] - at.position[k]) * direction[k], 0),
    );
    return [Math.min(...reach), Math.max(...reach)];
  };

  test("a socket goes in as deep as it is told and opens outwards", () => {
    inMake(({ head }) => {
      const at = head.girthLine.atAzimuth(0);
      const [deep, open] = boundsAlong(socket("stone", { at, diameter: 8, depth: 3 }), at, at.out);
      expect(deep).toBeCloseTo(-3, 3);
      expect(open).toBeGreaterThan(10);
      expect(boundsAlong(socket("stone", { at, diameter: 8, depth: 3 }), at, [1, 0, 0])[1]).toBeCloseTo(4, 3);
      expect(
        boundsAlong(socket("stone", { at, diameter: 8, depth: 3, facing: "up" }), at, [0, 0, 1])[0],
      ).toBeCloseTo(-3, 3);
    });
  });

  test("a hole goes through both ways, a comb slot along the band", () => {
    inMake(({ head }) => {
      const at = head.girthLine.atAzimuth(180);
      near(boundsAlong(hole("ribbon", { at, diameter: 5, length: 40 }), at, at.out), [-20, 20], 1e-3);
      const comb = combSlot("comb", { at, width: 40, thickness: 2.4, depth: 6 });
      near(boundsAlong(comb, at, at.out), [-6, 6], 0.01);
      near(boundsAlong(comb, at, at.along), [-20, 20], 0.01);
    });
  });

  test("from names the parts, a channel is a tube", () => {
    inMake(({ head }) => {
      const ring = band("ring", head.girthLine, { radius: 6 });
      expect(cut("notch", box, { at: ring.atAzimuth(0), from: ring }).from).toEqual(["ring"]);
      expect(cut("notch", box, { at: ring.atAzimuth(0), from: [ring, ring] }).from).toEqual(["ring", "ring"]);
      expect(cut("notch", box, { at: ring.atAzimuth(0) }).from).toBeUndefined();
      const wire = channel("wire", ring, { diameter: 2.2, from: ring });
      expect(wire.body).toMatchObject({
        kind: "tube",
        shape: { radius: { radii: [1.1] }, path: { closed: true } },
      });
      expect(
        channel(
          "wire",
          [
            [0, 0, 0],
            [0, 0, 9],
          ],
          { diameter: 2 },
        ).body.kind,
      ).toBe("tube");
      expect(
        cut("groove", tube("groove", ring.path.lifted(6), { radius: 1.5 }), { from: ring }).body.kind,
      ).toBe("tube");
    });
  });

  test.each<[string, () => unknown, object]>([
    [
      "from a name",
      () => cut("notch", box, { at: [0, 0, 0], from: "ring" as never }),
      { id: "not-a-part", text: '"notch" is to be cut from "ring", not from a tube or a solid' },
    ],
    [
      "a tube that is placed",
      () =>
        cut(
          "groove",
          tube("g", [
            [0, 0, 0],
            [0, 0, 9],
          ]),
          { at: [0, 0, 0] },
        ),
      { id: "unknown-option", text: 'cut "groove" has no option "at"' },
    ],
    [
      "a socket of no width",
      () => socket("stone", { at: [0, 90, 40], diameter: 0, depth: 3 }),
      { text: 'diameter of "stone" is 0' },
    ],
    [
      "a hole at no point",
      () => hole("ribbon", { diameter: 4 } as never),
      { id: "not-a-point", text: 'at of "ribbon" is undefined, not a point' },
    ],
    [
      "a slot of no depth",
      () => combSlot("comb", { at: [0, 90, 40], width: 30, thickness: 2, depth: -1 }),
      { text: 'depth of "comb" is -1' },
    ],
  ])("mistake: %s", (_, act, expected) => {
    expect(errorInMake(act)).toMatchObject(expected);
  });
});

describe("groups and copies", () => {
  const wedge: [number, number][] = [
    [-1, -0.5],
    [1.5, -0.5],
    [0, 1],
  ];
  const horn = (at: PointLike = [60, 40, 120], up: [number, number, number] = [80, 50, 180]) =>
    tube("horn", [at, [75, 60, 150], up], {
      radius: [9, 6, 3],
      section: wedge,
      twist: 70,
      endTip: { bulb: 5 },
    });

  test("mirrored tubes and solids are the same bodies on the other side, not inside out", () => {
    inMake(() => {
      const part = horn();
      const [copy] = mirrored(part);
      expect(copy.name).toBe("horn mirrored");
      if (copy.kind !== "tube") throw new Error("a tube was expected");
      expect(
        farthest(
          cloud(copy.shape),
          cloud(part.shape).map(([x, y, z]) => [-x, y, z]),
        ),
      ).toBeLessThan(0.05);
      expect(meshVolume(sweepTube(copy.shape))).toBeCloseTo(meshVolume(sweepTube(part.shape)), -1);
      near(copy.path.end.position, part.path.end.mirrored().position, 1e-9);

      const body = solid("body", lopsided, { at: [50, 20, 150], facing: [1, 2, 3], turn: 20 });
      const [other] = mirrored(body) as Solid[];
      expect(meshVolume(other.mesh)).toBeCloseTo(meshVolume(body.mesh), 2);
      expect(
        farthest(
          vertices(other),
          vertices(body).map(([x, y, z]) => [-x, y, z]),
        ),
      ).toBeLessThan(1e-4);
    });
  });

  test("a mirrored strap still lies on the head", () => {
    inMake(({ head }) => {
      const strap = band(
        "strap",
        head.girthLine.part(0.05, 0.3).raised((s) => 20 * s),
        { width: 20 },
      );
      const [copy] = mirrored(strap);
      if (copy.kind !== "tube") throw new Error("a tube was expected");
      expect(
        farthest(
          cloud(copy.shape),
          cloud(strap.shape).map(([x, y, z]) => [-x, y, z]),
        ),
      ).toBeLessThan(0.05);
    });
  });

  test("repeated parts are the first ones turned, outlines too, upright ones too", () => {
    inMake(() => {
      const upright = tube(
        "fin",
        [
          [60, 0, 120],
          [60, 0, 160],
          [70, 10, 200],
        ],
        { radius: 6, section: wedge, twist: 30 },
      );
      for (const part of [
        horn(),
        upright,
        tube("fin", upright.path, { radius: 6, section: wedge, facing: "out" }),
      ]) {
        const copies = repeatedAround(part, 3);
        expect(copies.map(({ name }) => name)).toEqual([part.name, `${part.name} 2`, `${part.name} 3`]);
        const second = copies[1];
        if (second.kind !== "tube") throw new Error("a tube was expected");
        const [c, s] = [Math.cos((2 * Math.PI) / 3), Math.sin((2 * Math.PI) / 3)];
        const turned = cloud(part.shape).map(([x, y, z]) => [c * x + s * y, c * y - s * x, z]);
        expect(farthest(cloud(second.shape), turned)).toBeLessThan(0.05);
      }
      expect(repeatedAround(horn(), 1)).toHaveLength(1);
    });
  });

  test("group renames parts and the cuts from them", () => {
    const { parts } = run(({ head }) => {
      const ring = band("ring", head.girthLine, { radius: 6 });
      const side = (name: string, azimuth: number) => {
        const stem = tube("stem", [ring.atAzimuth(azimuth), onHead({ azimuth, elevation: 40, lift: 40 })]);
        return group(name, [
          stem,
          [socket("seat", { at: stem.surfaceAt(0.6), diameter: 4, depth: 2, from: [stem, ring] })],
        ]);
      };
      return [ring, side("left", -40), side("right", 40)];
    });
    expect(parts.map(({ name }) => name)).toEqual([
      "ring",
      "left: stem",
      "left: seat",
      "right: stem",
      "right: seat",
    ]);
    expect(parts[2]).toMatchObject({ from: ["left: stem", "ring"] });
  });

  test("mirrored cuts follow the mirrored parts", () => {
    inMake(() => {
      const stem = horn();
      const copies = mirrored([
        stem,
        cut("notch", box, { at: [80, 50, 180], from: stem }),
        channel("wire", stem, { diameter: 2 }),
      ]);
      expect(copies[1]).toMatchObject({ name: "notch mirrored", from: ["horn mirrored"] });
      near(
        middleOf((copies[1] as unknown as { body: { mesh: Solid["mesh"] } }).body.mesh.positions),
        [-80, 50, 180],
        1e-3,
      );
      expect(copies[2]).toMatchObject({ kind: "cut", body: { kind: "tube" } });
    });
  });

  test("mistakes", () => {
    expect(errorInMake(() => group("", []))).toMatchObject({ id: "not-a-text" });
    expect(errorInMake(() => mirrored(["horn" as never]))).toMatchObject({
      id: "not-a-part",
      text: 'make gives back "horn" among its parts',
    });
    expect(errorInMake(() => repeatedAround(horn(), 0))).toMatchObject({
      text: "how many times to repeat is 0",
    });
    expect(errorInMake(() => straight([0, 0, 0], [0, 0, 0]))).toMatchObject({ id: "equal-points" });
  });
});
