import { defaultPrinter } from "../../../src/build/printerFile";
import type { Printer } from "../../../src/checks/printer";
import type { PartMesh, TriangleMesh } from "../../../src/geometry/mesh";
import { rotateAbout, type Vec3 } from "../../../src/geometry/vector";
import { defaultOrientationWeights, type OrientationWeights } from "../../../src/orientation";
import { type OrientationInput, searchOrientations } from "../../../src/print/orientation/searchOrientations";
import { findSupport } from "../../../src/print/support/findSupport";
import { defaultPrintSettings, type PrintSettings } from "../../../src/printSettings";

export const printer: Printer = {
  ...defaultPrinter,
  name: "Hall printer",
  speeds: { ...defaultPrinter.speeds, travel: 150 },
  acceleration: 1000,
  cornerSpeed: 10,
  flowLimit: 12,
};

export const settings: PrintSettings = defaultPrintSettings;

/** A mesh all of one part. */
export const ofOnePart = (mesh: TriangleMesh, part = 0): PartMesh => ({
  ...mesh,
  partOfTriangle: new Int32Array(mesh.triangles.length / 3).fill(part),
});

export const turnedAbout = (mesh: TriangleMesh, axis: Vec3, angle: number): TriangleMesh => {
  const positions = new Float32Array(mesh.positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    const p: Vec3 = [mesh.positions[i], mesh.positions[i + 1], mesh.positions[i + 2]];
    positions.set(rotateAbout(p, axis, angle), i);
  }
  return { positions, triangles: mesh.triangles };
};

/** Weights with all but those given at 0. */
export const onlyWeights = (weights: Partial<OrientationWeights>): OrientationWeights => ({
  ...(Object.fromEntries(
    Object.keys(defaultOrientationWeights).map((name) => [name, 0]),
  ) as unknown as OrientationWeights),
  ...weights,
});

export const inputOf = (mesh: TriangleMesh, options: Partial<OrientationInput> = {}): OrientationInput => {
  const used = options.settings ?? settings;
  return {
    mesh: ofOnePart(mesh),
    printer,
    settings: used,
    weights: defaultOrientationWeights,
    support: (placed, cell) => findSupport(placed, used, { cell }),
    ...options,
  };
};

export const search = (mesh: TriangleMesh, options: Partial<OrientationInput> = {}) =>
  searchOrientations(inputOf(mesh, options));
