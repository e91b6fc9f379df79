import type { Part } from "../../../src/design/part";
import type { PartMesh } from "../../../src/geometry/mesh";
import type { Kernel } from "../../../src/geometry/solid/kernel";
import { SolidBuilder } from "../../../src/geometry/solid/solidBuilder";
import { sweepTube } from "../../../src/geometry/sweep";
import type { TubeShape } from "../../../src/geometry/tubeShape";
import type { Vec3 } from "../../../src/geometry/vector";
import { bodyOf } from "../../geometry/solid/shapes";
import { tube } from "../../geometry/tubes";

/** Bodies larger than a plate, that the tests of this folder share. */

export const usual = {
  name: "the workshop's printer",
  plate: { shape: "rectangular", width: 220, depth: 220 },
  height: 250,
} as const;

export const cubePrinter = (side: number) => ({
  name: `a printer of ${side} mm`,
  plate: { shape: "rectangular" as const, width: side, depth: side },
  height: side,
});

export const noBrim = { brimWidth: 0 };

const part = (name: string, shape: TubeShape): Part => ({ kind: "tube", name, shape });

export const tubePart = (name: string, points: readonly Vec3[], radius: number, closed = false): Part =>
  part(name, tube({ path: { kind: "through", points, closed }, radius: { shares: [0], radii: [radius] } }));

/** Tubes united, each triangle with its tube. */
export async function united(kernel: Kernel, parts: readonly Part[]): Promise<PartMesh> {
  const builder = new SolidBuilder(kernel);
  try {
    const bodies = parts.map((one) => {
      if (one.kind !== "tube") throw new Error("only tubes");
      return bodyOf(one.name, sweepTube(one.shape));
    });
    return (await builder.build({ bodies, cuts: [], crumbVolume: 1 })).mesh;
  } finally {
    builder.dispose();
  }
}

export const circle = (radius: number, count = 24): Vec3[] =>
  Array.from({ length: count }, (_, i) => {
    const t = (2 * Math.PI * i) / count;
    return [radius * Math.cos(t), radius * Math.sin(t), 0];
  });

/** A ring 300 mm across of a tube of radius 8. */
export const ring = [tubePart("ring", circle(142), 8, true)];

/** A band with two antlers, 400 mm from tip to tip. */
export const antlers = [
  tubePart("band", circle(80), 9, true),
  ...[-1, 1].flatMap((side) => [
    tubePart(
      side < 0 ? "left beam" : "right beam",
      [
        [side * 78, 0, 0],
        [side * 120, 0, 70],
        [side * 170, -10, 120],
        [side * 193, -20, 190],
      ],
      7,
    ),
    tubePart(
      side < 0 ? "left tine" : "right tine",
      [
        [side * 120, 0, 70],
        [side * 130, 30, 110],
        [side * 120, 45, 160],
      ],
      6,
    ),
  ]),
];

/** An arch 320 mm wide. */
export const arch = [
  tubePart(
    "arch",
    Array.from({ length: 13 }, (_, i): Vec3 => {
      const t = (Math.PI * i) / 12;
      return [151 * Math.cos(t), 0, 151 * Math.sin(t)];
    }),
    9,
  ),
];
