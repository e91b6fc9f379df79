import type { Material } from "../../../src/checks/material";
import type { Printer } from "../../../src/checks/printer";
import type { TriangleMesh } from "../../../src/geometry/mesh";
import { type PlacedPiece, placedPiece } from "../../../src/print/placedPiece";
import { defaultPrintSettings, type PrintSettings } from "../../../src/printSettings";

/** Printer, material and placing that the tests of layers share. */

export const printer: Printer = {
  name: "Hall printer",
  plate: { shape: "rectangular", width: 220, depth: 220 },
  height: 250,
  nozzle: 0.4,
  filamentDiameter: 1.75,
  speeds: {
    outerShell: 40,
    innerShell: 60,
    solidInfill: 70,
    sparseInfill: 80,
    support: 75,
    contact: 50,
    firstLayer: 20,
    travel: 150,
  },
  acceleration: 1000,
  cornerSpeed: 8,
  flowLimit: 12,
  layerChangeTime: 0.6,
  startTime: 240,
};

export const pla: Material = {
  name: "PLA",
  density: 1.24,
  softening: [55, 65],
  strength: 37,
  modulus: 2.3,
  spool: 1000,
};

/** 0.2 mm layers, 0.45 mm lines, 3 shells, 5 and 4 skin layers, 15 % infill, no wait for cooling. */
export const settings: PrintSettings = { ...defaultPrintSettings, leastLayerTime: 0 };

export const placed = (mesh: TriangleMesh, tilt = 0, towards = 0): PlacedPiece =>
  placedPiece(
    { ...mesh, partOfTriangle: new Int32Array(mesh.triangles.length / 3) },
    { tilt, towards, turn: 0 },
    printer.plate,
  );

export const total = (values: ArrayLike<number>): number => Array.from(values).reduce((a, b) => a + b, 0);
