import { beforeAll, describe, expect, it } from "vitest";
import { printerFromDocument } from "../../src/build/printerFile";
import type { Printer } from "../../src/checks/printer";
import type { PartMesh } from "../../src/geometry/mesh";
import type { Vec3 } from "../../src/geometry/vector";
import { COARSE, meshSurface } from "../../src/head/headMesh";
import { placedPiece } from "../../src/print/placedPiece";
import { printEstimator } from "../../src/print/whatIf/estimate";
import type { PrintEstimate, PrintEvaluator } from "../../src/print/whatIf/variant";
import { defaultPrintSettings, type PrintSettings } from "../../src/printSettings";
import { aloft, form, pieceOf, plastic, tubeThrough } from "../checks/beams/strengthPieces";

/**
 * A piece of the size of the case below: a thick band about the head, a mass of tubes that grow out of it to near 300 mm
 * across and droop at their ends, and arches over the crown; hollowed to the head.
 */
async function tideHeaddress(): Promise<PartMesh> {
  const round = (radius: number, height: number, turn: number): Vec3 => [
    radius * Math.sin(turn),
    1.15 * radius * Math.cos(turn),
    height,
  ];
  const band = tubeThrough(
    "band",
    Array.from({ length: 24 }, (_, i) => round(88, 40, (i / 24) * 2 * Math.PI)),
    { radii: 17, closed: true },
  );
  const arms = Array.from({ length: 16 }, (_, i) => {
    const turn = ((i + 0.5) / 16) * 2 * Math.PI;
    const sway = i % 2 === 0 ? 0.2 : -0.2;
    return tubeThrough(
      `arm ${i + 1}`,
      [
        round(88, 42, turn),
        round(100, 95, turn + sway / 2),
        round(122, 130 + 6 * (i % 3), turn + sway),
        round(128, 95 - 8 * (i % 4), turn + 1.5 * sway),
      ],
      { radii: [15, 13, 11, 8], tips: { kind: "round" } },
    );
  });
  const arches = [0, 1, 2].map((i) => {
    const turn = (i * Math.PI) / 3;
    const over = Array.from({ length: 9 }, (_, k) => {
      const angle = (k / 8) * Math.PI;
      const [x, y] = round(90 * Math.cos(angle), 0, turn);
      return [x, y, 45 + 100 * Math.sin(angle)] as Vec3;
    });
    return tubeThrough(`arch ${i + 1}`, over, { radii: 13 });
  });
  const head = meshSurface(form.surface, COARSE);
  const raised = { ...head, positions: head.positions.map((value, i) => value + aloft[i % 3]) };
  const piece = await pieceOf([band, ...arms, ...arches], { head: raised, tolerance: 0.4 });
  return piece.mesh;
}

/**
 * Common practice, no source: "a headdress near 300 mm across can take nearly 300 h as first set up, and about 100 h with
 * support infill halved (50 → 25 %) under dense contact layers, less infill, 3 shells and a 0.2 mm layer"; it weighs about
 * 1.13 kg. What was set up at first besides is not told: finer layers, a shell more and twice the infill are our reading.
 * Nothing is tuned to the case; the direction is what is held.
 */
describe("a headdress of some 300 mm, as first set up and as it should be", () => {
  const first: PrintSettings = {
    ...defaultPrintSettings,
    layerHeight: 0.12,
    shells: 4,
    infill: 30,
    supportShare: 50,
    contactLayers: 0,
  };
  const second: PrintSettings = {
    ...defaultPrintSettings,
    layerHeight: 0.2,
    shells: 3,
    infill: 15,
    supportShare: 25,
    contactLayers: 3,
    contactShare: 80,
  };
  let printer: Printer;
  let estimator: PrintEvaluator;
  let width = 0;
  const estimate = async (settings: PrintSettings): Promise<PrintEstimate> =>
    estimator.estimate({ settings, orientation: 0 });

  beforeAll(async () => {
    const { value } = printerFromDocument({
      name: "a slow printer with room",
      plate: { shape: "rectangular", width: 350, depth: 350 },
      height: 350,
      nozzle: 0.4,
      filamentDiameter: 1.75,
    });
    printer = value!;
    const placed = placedPiece(await tideHeaddress(), { tilt: 0, towards: 0, turn: 0 }, printer.plate);
    width = Math.max(placed.size[0], placed.size[1]);
    estimator = printEstimator({ placedOf: () => placed, printer, material: plastic });
  });

  it("is near 300 mm across and weighs near a kilogram", async () => {
    const { grams } = await estimate(second);
    expect(width).toBeGreaterThan(270);
    expect(width).toBeLessThan(330);
    expect(grams).toBeGreaterThan(500);
    expect(grams).toBeLessThan(2000);
  });

  it("takes much less time and filament, for the same piece", async () => {
    const before = await estimate(first);
    const after = await estimate(second);
    const told = ({ hours, grams }: PrintEstimate) => `${hours.toFixed(0)} h and ${grams.toFixed(0)} g`;
    console.log(
      `${width.toFixed(0)} mm across: ${told(before)} as first set up, ${told(after)} after: ` +
        `${((100 * after.hours) / before.hours).toFixed(0)} % of the hours (practice tells about a third)`,
    );
    expect(after.hours).toBeLessThan(0.6 * before.hours);
    expect(after.grams).toBeLessThan(0.8 * before.grams);
  });

  it("takes less for each of the changes alone", async () => {
    const base = await estimate(first);
    for (const name of ["layerHeight", "shells", "infill", "supportShare"] as const) {
      const { hours, grams } = await estimate({ ...first, [name]: second[name] });
      expect(hours, name).toBeLessThan(base.hours);
      if (name !== "layerHeight") expect(grams, name).toBeLessThan(base.grams);
    }
    // Dense contact layers take a little more: what they cost does not undo the rest.
    const dense = await estimate({ ...first, contactLayers: second.contactLayers });
    expect(dense.hours).toBeGreaterThan(base.hours);
    expect(dense.hours).toBeLessThan(1.1 * base.hours);
  });
});
