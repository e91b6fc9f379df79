import { createRequire } from "node:module";
import { BodyMaker } from "../../../src/build/bodies";
import { massProperties } from "../../../src/checks/massProperties";
import type { Material } from "../../../src/checks/material";
import { WornHead } from "../../../src/checks/wornHead";
import { WornPiece } from "../../../src/checks/wornPiece";
import type { Part, SolidPart, TubePart } from "../../../src/design/part";
import type { TriangleMesh } from "../../../src/geometry/mesh";
import { loadKernel } from "../../../src/geometry/solid/kernel";
import { SolidBuilder } from "../../../src/geometry/solid/solidBuilder";
import type { Tip, TubeShape } from "../../../src/geometry/tubeShape";
import type { Vec3 } from "../../../src/geometry/vector";
import { completeMeasurements } from "../../../src/head/completeMeasurements";
import { buildHeadForm } from "../../../src/head/headForm";
import type { FillSettings } from "../../../src/printSettings";

/** Pieces for the checks of strength: parts united as a build unites them. */

export const solidPrint: FillSettings = { shells: 3, lineWidth: 0.45, infill: 100 };
export const plastic: Material = {
  name: "PLA",
  density: 1.24,
  softening: [55, 65],
  strength: 37,
  modulus: 2.3,
  spool: 1000,
};

export const form = buildHeadForm(completeMeasurements({ girth: 570 }).measurements);
export const wornHead = new WornHead(form, { ease: 1.6, hair: 3, hairPressed: 2 });
/** Far above the head: nothing there rests on it. */
export const aloft: Vec3 = [0, 0, 600];

const flat: Tip = { kind: "flat" };

export interface TubeOptions {
  radii?: number | readonly number[];
  tips?: Tip;
  closed?: boolean;
  shape?: Partial<TubeShape>;
}

let line = 0;

/** A tube through points that are given from `aloft`. */
export function tubeThrough(name: string, points: readonly Vec3[], options: TubeOptions = {}): TubePart {
  const radii = typeof options.radii === "number" ? [options.radii] : (options.radii ?? [4]);
  return {
    kind: "tube",
    name,
    origin: { file: "tide.headpiece.ts", line: ++line, column: 5 },
    shape: {
      path: {
        kind: "through",
        points: points.map(([x, y, z]): Vec3 => [x + aloft[0], y + aloft[1], z + aloft[2]]),
        closed: options.closed ?? false,
      },
      radius: {
        shares: radii.map((_, i) => (radii.length > 1 ? i / (radii.length - 1) : 0)),
        radii: [...radii],
      },
      section: { kind: "circle" },
      twist: 0,
      startTip: options.tips ?? flat,
      endTip: options.tips ?? flat,
      ...options.shape,
    },
  };
}

/** A body that is no tube; its mesh is given from `aloft`. */
export function solidAt(name: string, { positions, triangles }: TriangleMesh): SolidPart {
  return {
    kind: "solid",
    name,
    origin: { file: "tide.headpiece.ts", line: ++line, column: 5 },
    mesh: { positions: positions.map((value, i) => value + aloft[i % 3]), triangles },
  };
}

/** A closed ring of tube about the z axis, a circle through 24 points. */
export const ring = (radius = 60, thickness = 6, name = "ring"): TubePart =>
  tubeThrough(
    name,
    Array.from({ length: 24 }, (_, i): Vec3 => {
      const turn = (i / 24) * 2 * Math.PI;
      return [radius * Math.cos(turn), radius * Math.sin(turn), 0];
    }),
    { radii: thickness, closed: true },
  );

export interface PieceOptions {
  print?: FillSettings;
  material?: Material;
  /** Hollow it to this. */
  head?: TriangleMesh;
  /** Greatest deviation of the swept meshes, mm. */
  tolerance?: number;
}

export async function pieceOf(parts: readonly Part[], options: PieceOptions = {}): Promise<WornPiece> {
  const kernel = await loadKernel(createRequire(import.meta.url).resolve("manifold-3d/manifold.wasm"));
  const builder = new SolidBuilder(kernel);
  try {
    const { bodies, cuts, partOfBody } = new BodyMaker(options.tolerance ?? 0.12).bodiesOf(parts);
    const { mesh } = await builder.build({
      bodies,
      cuts,
      ...(options.head && { head: { key: "head", mesh: options.head } }),
      crumbVolume: 1e-3,
    });
    const own = {
      ...mesh,
      partOfTriangle: mesh.partOfTriangle.map((body) => (body < 0 ? -1 : partOfBody[body])),
    };
    const { volume, centre } = massProperties(own);
    return new WornPiece({
      mesh: own,
      parts,
      material: options.material ?? plastic,
      print: options.print ?? solidPrint,
      mass: (volume / 1000) * 1.24,
      centre,
    });
  } finally {
    builder.dispose();
  }
}
