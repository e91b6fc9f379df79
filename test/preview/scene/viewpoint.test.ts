import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { packMesh } from "../../../src/geometry/packedMesh";
import { type Cameras, usualViewSettings } from "../../../src/preview/pieceView";
import { Materials } from "../../../src/preview/scene/materials";
import { PlateStage } from "../../../src/preview/scene/plateStage";
import { makeSubjects, type Subjects } from "../../../src/preview/scene/subjects";
import type { Vector } from "../../../src/preview/scene/vector";
import { Viewpoint } from "../../../src/preview/scene/viewpoint";
import { plan, wear } from "../panel/rig";
import { ball, buffersOf, cube } from "./shapes";

const aspect = 1.5;
const onPlate = { ...usualViewSettings, isPlateView: true };
const piece = cube(100, [0, 0, 80]);

let subjects: Subjects;
let stage: PlateStage;
const frames: string[] = [];
const made: Viewpoint[] = [];

beforeEach(() => {
  // What turns stands there at once.
  vi.stubGlobal("matchMedia", () => ({ matches: true }));
  vi.stubGlobal("cancelAnimationFrame", () => undefined);
  subjects = makeSubjects(new Materials());
  subjects.piece.takeSolid({
    kind: "solid",
    version: 1,
    packed: packMesh({ ...piece, partOfTriangle: new Int32Array(12) }),
  });
  subjects.head.take(buffersOf(ball(90)));
  stage = new PlateStage();
  frames.length = 0;
});
afterEach(() => {
  for (const each of made.splice(0)) each.dispose();
  vi.unstubAllGlobals();
});

function viewpoint(cameras: Cameras = {}): Viewpoint {
  const one = new Viewpoint(subjects, stage, { aspect, height: 600 }, cameras, {
    onMove: () => undefined,
    onRest: () => undefined,
    onFrame: () => frames.push(one.standing),
  });
  made.push(one);
  return one;
}

/** How far out the points reach in the picture: 1 is its edge. */
function reach({ rig }: Viewpoint, points: ArrayLike<number>): number {
  let most = 0;
  for (let i = 0; i < points.length; i += 3) {
    const { x, y, isBehind } = rig.seen([points[i], points[i + 1], points[i + 2]] as Vector);
    most = Math.max(most, isBehind ? Infinity : 0, Math.abs(x) / (aspect / 2), Math.abs(y) / 0.5);
  }
  return most;
}

describe("a viewpoint that nobody placed", () => {
  test("keeps piece and head in the picture, as large as they fit", () => {
    const view = viewpoint();
    view.frameUnlessPlaced();
    const all = [...piece.positions, ...(subjects.head.surface?.positions ?? [])];
    expect(reach(view, all)).toBeLessThan(1);
    expect(reach(view, all)).toBeGreaterThan(0.75);
  });

  test("is the person's from then on that she moves it, or as the page was left", () => {
    const moved = viewpoint();
    moved.frameUnlessPlaced();
    moved.orbit(30, 0);
    moved.zoom(3);
    const { camera } = moved;
    moved.frameUnlessPlaced();
    expect(moved.camera).toEqual(camera);
    const left = viewpoint({ head: camera });
    left.frameUnlessPlaced();
    expect(left.camera.span).toBeCloseTo(camera.span, 9);
    expect(left.camera.target).toEqual(camera.target);
  });

  test("is framed anew when it is asked for, from where it looks", () => {
    const view = viewpoint();
    view.look("left");
    view.zoom(8);
    expect(reach(view, piece.positions)).toBeGreaterThan(1);
    view.frame();
    expect(reach(view, piece.positions)).toBeLessThan(1);
    // From the wearer's left, which is −x.
    expect(view.camera.direction[0]).toBeCloseTo(-1, 9);
  });

  test("refuses to zoom to nothing", () => {
    const view = viewpoint();
    for (const factor of [0, -1, Number.NaN]) expect(() => view.zoom(factor)).toThrow(RangeError);
  });
});

test("with the head and with the plate it stands where it was left there", () => {
  const view = viewpoint();
  view.look("front");
  view.zoom(1.5);
  const atHead = view.camera;
  stage.takePlan(plan(1).scene);
  stage.settings = onPlate;
  view.turnStage("at once");
  expect([view.standing, frames]).toEqual(["plate", ["plate"]]);
  // The plate lies upright behind the head: its up is the head's forward.
  expect(view.rig.stance.up[1]).toBeGreaterThan(0.7);
  view.orbit(20, 10);
  const atPlate = view.camera;
  stage.settings = usualViewSettings;
  view.turnStage("at once");
  expect([view.standing, view.camera]).toEqual(["head", atHead]);
  stage.settings = onPlate;
  view.turnStage("at once");
  expect([view.standing, view.camera]).toEqual(["plate", atPlate]);
});

describe("the way on", () => {
  const far = {
    ...wear(1).scene.wayOff!,
    motion: { kind: "slide", direction: [0, 0, 1], distance: 900 },
  } as const;

  test("gets room where the piece comes from outside the picture, and gives it back", () => {
    subjects.way.take(far);
    const view = viewpoint();
    view.look("front");
    view.zoom(2);
    const before = view.camera;
    view.makeRoomForWay();
    expect(reach(view, subjects.way.cornersAway(subjects.piece.box()!))).toBeLessThan(1);
    expect(view.camera).not.toEqual(before);
    view.goBack();
    expect(view.camera).toEqual(before);
  });

  test("leaves a camera alone that was moved meanwhile, and one that sees all", () => {
    subjects.way.take(far);
    const view = viewpoint();
    view.look("front");
    view.zoom(2);
    view.makeRoomForWay();
    view.orbit(15, 0);
    const moved = view.camera;
    view.goBack();
    expect(view.camera).toEqual(moved);
    view.zoom(0.05);
    const wide = view.camera;
    view.makeRoomForWay();
    expect(view.camera).toEqual(wide);
  });
});
