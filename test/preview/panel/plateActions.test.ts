import { describe, expect, test } from "vitest";
import type { Layers } from "../../../src/preview/panel/layers";
import { layersOf } from "../../../src/preview/panel/layers";
import { noParameters } from "../../../src/preview/panel/parameterValues";
import { type Performer, performAction } from "../../../src/preview/panel/performAction";
import { usualViewSettings, type ViewSettings } from "../../../src/preview/pieceView";
import { layers } from "./rig";

/** A preview that keeps its settings and what it said. */
class Stand implements Performer {
  readonly view = undefined;
  readonly parameters = noParameters;
  readonly parts = [];
  readonly findings = [];
  readonly walked = { part: -1, finding: -1 };
  readonly said: string[] = [];
  settings: ViewSettings = usualViewSettings;
  hasField = true;
  hasBalance = true;
  hasWay = true;
  hasPlate = true;
  hasPlan = true;
  hasComparison = true;
  layers: Layers | undefined = layersOf(layers(50));
  get isOnPlate(): boolean {
    return this.settings.isPlateView && this.hasPlate;
  }
  setSettings(settings: ViewSettings): void {
    this.settings = settings;
  }
  say(text: string): void {
    this.said.push(text);
  }
  sayAtRest(text: string): void {
    this.said.push(text);
  }
  resetParameters(): void {}
  flushValues(): void {}
  walkTo(): void {}
  openPart(): void {}
  goTo(): void {}
  toggleWay(): void {}
  toggleDetails(): void {}
  openHelp(): void {}
  ask(): void {}
}

/** What was said last. */
const last = ({ said }: Stand) => said[said.length - 1];

describe("the plate view", () => {
  test("is gone to and left by one key, and says so", () => {
    const stand = new Stand();
    performAction(stand, "plateView");
    expect([stand.settings.isPlateView, last(stand)]).toEqual([
      true,
      "Plate view: the piece as it is printed",
    ]);
    performAction(stand, "plateView");
    expect([stand.settings.isPlateView, last(stand)]).toEqual([false, "The piece on the head"]);
  });

  test("is not gone to before there is a plate, and can be left without one", () => {
    const stand = new Stand();
    stand.hasPlate = false;
    performAction(stand, "plateView");
    expect([stand.settings.isPlateView, last(stand)]).toEqual([
      false,
      "There is no plate yet: it comes with the first build.",
    ]);
    stand.settings = { ...stand.settings, isPlateView: true };
    performAction(stand, "plateView");
    expect(stand.settings.isPlateView).toBe(false);
  });

  test("comes with the overhang colours, which are then switched", () => {
    const stand = new Stand();
    stand.settings = { ...stand.settings, isOverhangShown: false };
    performAction(stand, "overhang");
    expect(stand.settings).toMatchObject({ isPlateView: true, isOverhangShown: true });
    performAction(stand, "overhang");
    expect(stand.settings).toMatchObject({ isPlateView: true, isOverhangShown: false });
    stand.hasPlan = false;
    performAction(stand, "overhang");
    expect([stand.settings.isOverhangShown, last(stand)]).toEqual([
      false,
      "Overhang colours come with the plan of the print.",
    ]);
  });

  test.each([
    ["head", "isHeadShown"],
    ["field", "isFieldShown"],
    ["balance", "isBalanceShown"],
  ] as const)("is left by what is seen on the head alone: %s", (action, flag) => {
    const stand = new Stand();
    stand.settings = { ...stand.settings, isPlateView: true, [flag]: true };
    performAction(stand, action);
    expect(stand.settings).toMatchObject({ isPlateView: false, [flag]: true });
    performAction(stand, action);
    expect(stand.settings).toMatchObject({ isPlateView: false, [flag]: false });
  });

  test("keeps the section of the head as it was", () => {
    const stand = new Stand();
    const section = { axis: "up", share: 0.3 } as const;
    stand.settings = { ...stand.settings, isPlateView: true, section };
    for (const action of ["section", "sectionAxis", "sectionBack", "sectionOn"] as const) {
      performAction(stand, action);
      expect(stand.settings.section).toEqual(section);
    }
  });
});

describe("layers by keys", () => {
  test("ten at a time, one at a time, from all of them", () => {
    const stand = new Stand();
    stand.settings = { ...stand.settings, isPlateView: true };
    const heights = (["layersBack", "layerBack", "layersOn", "layersOn", "layerOn"] as const).map(
      (action) => {
        performAction(stand, action);
        return stand.settings.printedHeight;
      },
    );
    expect(heights.map((height) => (height === undefined ? "all" : Math.round(height / 0.2)))).toEqual([
      40,
      39,
      49,
      "all",
      "all",
    ]);
    expect(last(stand)).toBe("layer 50 of 50, 10.0 mm, 50 min, 25 m so far");
  });

  test("not below the first", () => {
    const stand = new Stand();
    stand.settings = { ...stand.settings, isPlateView: true, printedHeight: 0.6 };
    performAction(stand, "layersBack");
    expect(stand.settings.printedHeight).toBeCloseTo(0.2, 9);
  });

  test("only on the plate, and once they are planned", () => {
    const stand = new Stand();
    performAction(stand, "layersBack");
    expect([stand.settings.printedHeight, last(stand)]).toEqual([
      undefined,
      "Layers are walked through in the plate view.",
    ]);
    stand.settings = { ...stand.settings, isPlateView: true };
    stand.layers = undefined;
    performAction(stand, "layerBack");
    expect([stand.settings.printedHeight, last(stand)]).toEqual([
      undefined,
      "The layers are not planned yet.",
    ]);
  });
});
