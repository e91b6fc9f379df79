import { describe, expect, test } from "vitest";
import { usualViewSettings } from "../../../src/preview/pieceView";
import type { PlanBody, PlateScene } from "../../../src/preview/protocol";
import { Materials } from "../../../src/preview/scene/materials";
import { PlanBodies } from "../../../src/preview/scene/planBodies";
import { headFrame, plateFrame } from "../../../src/preview/scene/plateFrame";
import { PlateStage } from "../../../src/preview/scene/plateStage";
import { Surface } from "../../../src/preview/scene/surface";
import { layers, lyingBack, plan } from "../panel/rig";
import { buffersOf, cube } from "./shapes";

const level: PlateScene = {
  printer: "Harbour desktop",
  outline: { shape: "rectangular", width: 120, depth: 120 },
  height: 120,
  fits: true,
  summary: "as designed",
  toHead: [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, -30, 1],
};
const onPlate = { ...usualViewSettings, isPlateView: true };

describe("the stage", () => {
  test("is the head's until a plate is wanted and known", () => {
    const stage = new PlateStage();
    stage.settings = onPlate;
    expect([stage.isOn, stage.frame]).toEqual([false, headFrame]);
    stage.takePlate(level);
    expect([stage.isOn, stage.frame]).toEqual([true, plateFrame(level.toHead)]);
    stage.settings = usualViewSettings;
    expect([stage.isOn, stage.frame]).toEqual([false, headFrame]);
  });

  test("says whether the piece fits another way than before", () => {
    const stage = new PlateStage();
    expect([stage.takePlate(level), stage.takePlate({ ...level })]).toEqual([true, false]);
    expect(stage.takePlate({ ...level, fits: false })).toBe(true);
  });

  test("stands as planned, however the piece fits as designed, until the plan goes", () => {
    const stage = new PlateStage();
    stage.settings = onPlate;
    stage.takePlan(plan(1).scene);
    stage.takePlate(level);
    expect(stage.frame).toEqual(plateFrame(lyingBack));
    stage.takePlan(undefined);
    expect(stage.frame).toEqual(plateFrame(level.toHead));
  });

  test("colours overhangs only on the plate, once they are planned; what lies in the first layer is on the plate", () => {
    const stage = new PlateStage();
    stage.settings = onPlate;
    stage.takePlate(level);
    expect(stage.isOverhangShown).toBe(false);
    stage.takePlan(plan(1).scene);
    expect(stage.isOverhangShown).toBe(true);
    // Up is the head's forward, the plate lies 100 mm behind its middle.
    expect(stage.overhang).toEqual({ angle: 45, level: -99.8 });
    stage.settings = { ...onPlate, isOverhangShown: false };
    expect(stage.isOverhangShown).toBe(false);
    stage.settings = { ...usualViewSettings, isOverhangShown: true };
    expect(stage.isOverhangShown).toBe(false);
  });

  test("cuts where the print stands, and not where all is printed", () => {
    const stage = new PlateStage();
    stage.takePlan(plan(1, { layers: layers(100) }).scene);
    const cutAt = (printedHeight: number | undefined) => {
      stage.settings = { ...onPlate, printedHeight };
      return stage.cut?.offset;
    };
    expect([cutAt(undefined), cutAt(20), cutAt(25)]).toEqual([undefined, undefined, undefined]);
    expect(cutAt(6)).toBeCloseTo(-94, 9);
    stage.settings = { ...usualViewSettings, printedHeight: 6 };
    expect(stage.cut).toBeUndefined();
    stage.takePlan(plan(1, { layers: undefined }).scene);
    expect(cutAt(6)).toBeUndefined();
  });

  test("tells a piece that reaches out of the build volume", () => {
    const stage = new PlateStage();
    stage.settings = onPlate;
    const low = Surface.ofOne(buffersOf(cube(100, [0, -50, 0])));
    // From 110 to 210 and to 210.5 mm over the plate, under 210 mm of room.
    const high = Surface.ofOne(buffersOf(cube(100, [0, 60, 0])));
    const over = Surface.ofOne(buffersOf(cube(100, [0, 60.5, 0])));
    stage.takePlan(plan(1).scene);
    expect(stage.plateFor([low, high], false)?.fits).toBe(true);
    expect(stage.plateFor([low, over], false)).toMatchObject({ fits: false, height: 210 });
    expect(stage.plateFor([over], true)?.fits).toBe(true);
    stage.takePlan(plan(1, { height: 211 }).scene);
    expect(stage.plateFor([over], false)?.fits).toBe(true);
    stage.settings = usualViewSettings;
    stage.takePlate(level);
    expect(stage.plateFor([over], false)).toBe(level);
  });

  test("measures along the plate's axes, anew where the plate stands otherwise", () => {
    const stage = new PlateStage();
    const slab = Surface.ofOne(buffersOf(cube(20, [5, -90, 7])));
    stage.takePlan(plan(1).scene);
    // x stays; the plate's y is the head's downward, its z the head's forward from 100 mm behind.
    expect(stage.boxOf([slab])).toEqual({ least: [-5, -17, 0], most: [15, 3, 20] });
    stage.takePlan(undefined);
    stage.takePlate(level);
    expect(stage.boxOf([slab])).toEqual({ least: [-5, -100, 27], most: [15, -80, 47] });
    expect(stage.boxOf([])).toBeUndefined();
  });
});

describe("what stands on the plate besides the piece", () => {
  const body = (name: PlanBody, version: number, edge?: number) =>
    ({
      kind: "planBody",
      version,
      body: name,
      ...(edge !== undefined && { mesh: buffersOf(cube(edge, [0, 0, edge / 2])) }),
    }) as const;
  const frame = plateFrame(lyingBack);

  test("is shown with the piece of its version, on the plate alone", () => {
    const bodies = new PlanBodies(new Materials());
    bodies.take(body("supports", 3, 10));
    for (const [version, isShown, count] of [
      [3, true, 1],
      [3, false, 0],
      [4, true, 0],
      [-1, true, 0],
    ] as const) {
      bodies.arrange(frame, version, isShown);
      expect(bodies.surfaces()).toHaveLength(count);
      expect(bodies.shown("supports") !== undefined).toBe(count === 1);
    }
  });

  test("is brought into the head's frame, and again where the plate stands otherwise", () => {
    const bodies = new PlanBodies(new Materials());
    bodies.take(body("props", 1, 10));
    bodies.arrange(frame, 1, true);
    // Ten mm from the plate up: from 100 to 90 mm behind the head's middle.
    expect(bodies.boxes()).toEqual([{ least: [-5, -100, -5], most: [5, -90, 5] }]);
    bodies.arrange(headFrame, 1, true);
    expect(bodies.boxes()).toEqual([{ least: [-5, -5, 0], most: [5, 5, 10] }]);
  });

  test("goes when none of it comes; an older one is dropped", () => {
    const bodies = new PlanBodies(new Materials());
    bodies.arrange(frame, 2, true);
    expect(bodies.take(body("pieces", 2, 10))).toBe(true);
    expect(bodies.take(body("pieces", 1, 30))).toBe(false);
    expect(bodies.surfaces()).toHaveLength(1);
    expect(bodies.take(body("pieces", 2))).toBe(true);
    expect(bodies.surfaces()).toHaveLength(0);
    expect(bodies.take(body("pieces", 2))).toBe(false);
  });

  test("pieces have the colours of overhangs, props their own, supports a veil", () => {
    const materials = new Materials();
    const bodies = new PlanBodies(materials);
    for (const name of ["pieces", "props", "supports"] as const) bodies.take(body(name, 1, 10));
    bodies.arrange(frame, 1, true);
    const materialOf = (name: PlanBody) =>
      (bodies.shown(name)?.children[0] as unknown as { material: unknown } | undefined)?.material;
    expect(materialOf("pieces")).toBe(materials.draft);
    bodies.isOverhangShown = true;
    expect(materialOf("pieces")).toBe(materials.overhangOfOne);
    expect(materialOf("props")).toBe(materials.props);
    expect(materialOf("supports")).toBe(materials.ghost);
  });
});
