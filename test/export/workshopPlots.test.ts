import type { Element } from "@xmldom/xmldom";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { evenStep, ticks, timeStep } from "../../src/export/workshop/axis";
import { type Bar, barPlot } from "../../src/export/workshop/barPlot";
import { hoursByHeight } from "../../src/export/workshop/hoursByHeight";
import { groupFills, kindGroups } from "../../src/export/workshop/kindStyles";
import { elapsed, timeByHeight, timeByKind } from "../../src/export/workshop/layerTimes";
import { timeOfHeights } from "../../src/export/workshop/timeOfHeights";
import type { WorkshopPrint } from "../../src/export/workshop/workshopInput";
import { timeKinds } from "../../src/print/layers/layerPlan";
import { parsedXml } from "./threeMfReading";
import { layersOf, print } from "./workshopInputs";

const byClass = (svg: string, name: string): Element[] =>
  [...parsedXml(svg).getElementsByTagName("*")].filter((element) => element.getAttribute("class") === name);

const number = (element: Element, attribute: string): number => Number(element.getAttribute(attribute));

/** "2 h 30 min" in seconds. */
function secondsOf(text: string): number {
  const [, hours = "0", minutes = "0"] = /^(?:([\d,]+) h)? ?(?:(\d+) min)?$/.exec(text) ?? [];
  return 3600 * Number(hours.replace(",", "")) + 60 * Number(minutes);
}

/** What a reader takes a place in the plot for: by the numbers at its axes alone. */
function readAxes(svg: string): { seconds(x: number): number; height(y: number): number } {
  const along = (name: string, attribute: string, read: (text: string) => number, shift: number) => {
    const marks = byClass(svg, name).map((mark) => ({
      at: number(mark, attribute) + shift,
      value: read(mark.textContent ?? ""),
    }));
    expect(marks.length).toBeGreaterThanOrEqual(2);
    const [first, last] = [marks[0], marks[marks.length - 1]];
    const scale = (last.value - first.value) / (last.at - first.at);
    for (const { at, value } of marks) expect(first.value + scale * (at - first.at)).toBeCloseTo(value, -1);
    return (place: number) => first.value + scale * (place - first.at);
  };
  // The numbers of the upright axis stand four px below their line.
  return { seconds: along("time-tick", "x", secondsOf, 0), height: along("height-tick", "y", Number, -4) };
}

const wavy: WorkshopPrint = {
  layers: layersOf(1213, 0.28, (kind, layer) =>
    kind === "outerShell"
      ? 40 + 30 * Math.sin(layer / 90)
      : kind === "support"
        ? 20
        : kind === "layerChange"
          ? 1.5
          : 0,
  ),
  startTime: 420,
  spoolEnds: [],
};

/** Slowly: time from the start to the end of a layer. */
function slowElapsed({ layers, startTime }: WorkshopPrint, layer: number): number {
  let sum = startTime;
  for (let i = 0; i <= layer; i++) for (const kind of timeKinds) sum += layers.seconds[kind][i];
  return sum;
}

describe("hoursByHeight", () => {
  it("reads at its axes as the layers say", () => {
    const end = { spool: 1, layer: 777, height: 0.28 * 777.6, seconds: slowElapsed(wavy, 777) };
    for (const one of [print, { ...wavy, spoolEnds: [end] }]) {
      const svg = hoursByHeight(one, "p");
      const axes = readAxes(svg);
      const { count, layerHeight } = one.layers;
      const points = (byClass(svg, "hours")[0].getAttribute("d") ?? "")
        .slice(1)
        .split("L")
        .map((pair) => pair.split(" ").map(Number));
      const total = slowElapsed(one, count - 1);
      // Coordinates are written to 0.01 px of some 350: one part in 30,000, the axes' marks likewise.
      const [near, nearMm] = [total / 8000, (count * layerHeight) / 6000];
      expect(points.length).toBeGreaterThan(100);
      points.forEach(([x, y], i) => {
        const height = axes.height(y);
        const layer = Math.round(height / layerHeight) - 1;
        expect(Math.abs(height - (layer + 1) * layerHeight)).toBeLessThan(nearMm);
        expect(Math.abs(axes.seconds(x) - (i === 0 ? one.startTime : slowElapsed(one, layer)))).toBeLessThan(
          near,
        );
      });
      expect(axes.height(points[points.length - 1][1])).toBeCloseTo(count * layerHeight, 1);
      const marks = byClass(svg, "spool-end");
      expect(marks.length).toBe(one.spoolEnds.length);
      marks.forEach((mark, i) => {
        expect(Math.abs(axes.seconds(number(mark, "cx")) - one.spoolEnds[i].seconds)).toBeLessThan(near);
        expect(Math.abs(axes.height(number(mark, "cy")) - one.spoolEnds[i].height)).toBeLessThan(nearMm);
      });
    }
  });

  it("says where spools end, in words too", () => {
    const svg = hoursByHeight(print, "p");
    expect(svg).toContain("spool 1 ends: 60 mm, 6 h 20 min");
    expect(parsedXml(svg).getElementsByTagName("desc")[0].textContent).toContain(
      "Spool 1 ends in layer 300, at 60 mm, after 6 h 20 min",
    );
  });

  it("does not write labels over each other", () => {
    const spoolEnds = [0, 1, 2, 30].map((i) => ({
      spool: i + 1,
      layer: 100 + i,
      height: 20 + i * 2,
      seconds: 7300 + 70 * i,
    }));
    const places = [...parsedXml(hoursByHeight({ ...print, spoolEnds }, "p")).getElementsByTagName("text")]
      .filter((text) => (text.textContent ?? "").startsWith("spool"))
      .map((text) => number(text, "y"))
      .sort((a, b) => a - b);
    expect(places.length).toBeGreaterThanOrEqual(2);
    for (let i = 1; i < places.length; i++) expect(places[i] - places[i - 1]).toBeGreaterThanOrEqual(13);
  });

  it("draws a print of one layer", () => {
    const one = { layers: layersOf(1, 0.3, () => 5), startTime: 0, spoolEnds: [] };
    expect(byClass(hoursByHeight(one, "p"), "hours").length).toBe(1);
    expect(timeOfHeights(one, "q")).not.toMatch(/NaN|Infinity/);
  });
});

describe("timeOfHeights", () => {
  it("has bars whose lengths add up to the time of the layers, kind by kind", () => {
    const svg = timeOfHeights(wavy, "p");
    const axes = readAxes(svg);
    const lengthOf = (group: string): number =>
      byClass(svg, group).reduce(
        (sum, bar) =>
          sum + axes.seconds(number(bar, "x") + number(bar, "width")) - axes.seconds(number(bar, "x")),
        0,
      );
    const kinds = timeByKind([wavy]);
    expect(lengthOf("shells") / (kinds.outerShell + kinds.innerShell)).toBeCloseTo(1, 3);
    expect(lengthOf("supports") / kinds.support).toBeCloseTo(1, 3);
    expect(lengthOf("moving") / kinds.layerChange).toBeCloseTo(1, 1);
    expect(byClass(svg, "legend").length).toBe(kindGroups.length);
  });

  it("shares layers among stretches of height without losing time, whatever the step", () => {
    const seed = 1207;
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 300 }),
        fc.integer({ min: 5, max: 60 }),
        fc.integer({ min: 1, max: 400 }),
        (count, height, step) => {
          const one = {
            layers: layersOf(count, height / 100, (kind, layer) =>
              kind === "innerShell" ? 1 + (layer % 7) : 0.25,
            ),
            startTime: 60,
            spoolEnds: [],
          };
          const bars = timeByHeight(one, Math.max(height, step) / 100);
          const sum = bars.reduce(
            (all, bar) => all + kindGroups.reduce((part, group) => part + bar[group], 0),
            0,
          );
          expect(sum / (slowElapsed(one, count - 1) - 60)).toBeCloseTo(1, 9);
          expect(bars.every((bar) => kindGroups.every((group) => bar[group] >= 0))).toBe(true);
        },
      ),
      { seed, numRuns: 200 },
    );
  });

  it("puts each layer where it lies", () => {
    // Ten layers of 1 mm in steps of 2.5 mm: layers 2 and 7 lie half below 2.5 and 7.5 mm.
    const one = {
      layers: layersOf(10, 1, (kind, i) => (kind === "brim" ? 2 ** i : 0)),
      startTime: 0,
      spoolEnds: [],
    };
    expect(timeByHeight(one, 2.5).map(({ supports }) => supports)).toEqual([
      1 + 2 + 4 / 2,
      4 / 2 + 8 + 16,
      32 + 64 + 128 / 2,
      128 / 2 + 256 + 512,
    ]);
  });
});

describe("sums of layers", () => {
  it("agree with the slow way", () => {
    const after = elapsed(wavy);
    for (const layer of [0, 1, 600, 1212]) expect(after[layer]).toBeCloseTo(slowElapsed(wavy, layer), 6);
    const kinds = timeByKind([wavy, print]);
    expect(kinds.start).toBe(720);
    expect(Object.values(kinds).reduce((a, b) => a + b, 0)).toBeCloseTo(after[1212] + 42_800, 5);
    expect(kinds.support).toBeCloseTo(20 * 1213 + 30 * 250, 6);
  });
});

describe("barPlot", () => {
  const bars: Bar[] = [
    { label: "brim", value: 5, text: "5 min", group: "supports" },
    { label: "outer shell", value: 40, text: "40 min", group: "shells" },
    { label: "waiting", value: 0, text: "0 s", group: "moving" },
  ];

  it("has lengths in the ratio of the amounts, the greatest first, and none for nothing", () => {
    const svg = barPlot(bars, "Time by kind", "p");
    const [long] = byClass(svg, "shells");
    const [short] = byClass(svg, "supports");
    expect(number(long, "width") / number(short, "width")).toBeCloseTo(8, 2);
    expect(number(long, "y")).toBeLessThan(number(short, "y"));
    expect(byClass(svg, "moving").length).toBe(0);
    expect(svg).not.toContain("waiting");
  });

  it("stands empty, and refuses what is no amount", () => {
    expect(parsedXml(barPlot([], "none", "p")).documentElement?.nodeName).toBe("svg");
    expect(() => barPlot([{ ...bars[0], value: Number.NaN }], "x", "p")).toThrow(/"brim" is NaN/);
    expect(() => barPlot([{ ...bars[0], value: -1 }], "x", "p")).toThrow(RangeError);
  });
});

describe("axes", () => {
  it("step by 1, 2 or 5 and by what clocks show", () => {
    expect([242.4, 87, 9.9, 0.7].map((end) => evenStep(end, 7))).toEqual([50, 20, 2, 0.1]);
    expect([50, 540, 3600, 5 * 3600, 54.5 * 3600, 300 * 3600].map((end) => timeStep(end, 5))).toEqual([
      60, 120, 900, 3600, 43_200, 360_000,
    ]);
  });

  it("never have more steps than wanted, and never fewer than one in the range of use", () => {
    const seed = 99;
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 10_000_000 }),
        fc.integer({ min: 3, max: 30 }),
        (hundredths, most) => {
          const end = hundredths / 100;
          const even = evenStep(end, most);
          expect(even * most).toBeGreaterThanOrEqual(end * (1 - 1e-9));
          expect(even).toBeLessThanOrEqual(end * (1 + 1e-9));
          expect(timeStep(end, most) * most).toBeGreaterThanOrEqual(end * (1 - 1e-9));
          expect(ticks(end, even).at(-1)).toBeLessThanOrEqual(end * (1 + 1e-8));
          expect(ticks(end, even).length).toBeLessThanOrEqual(most + 1);
        },
      ),
      { seed, numRuns: 500 },
    );
  });

  it("refuse an end that is none", () => {
    expect(() => evenStep(0, 5)).toThrow(RangeError);
    expect(() => timeStep(Number.NaN, 5)).toThrow(/NaN/);
    expect(() => evenStep(1, 0)).toThrow(/step/);
  });
});

describe("colours of the kinds", () => {
  type Triple = readonly [number, number, number];
  const identity = [1, 0, 0, 0, 1, 0, 0, 0, 1];
  // Machado, Oliveira, Fernandes 2009, IEEE TVCG 15(6), whole lack of one cone; figures from memory.
  const sights: Record<string, readonly number[]> = {
    normal: identity,
    "no red cones": [
      0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998,
    ],
    "no green cones": [
      0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.01182, 0.04294, 0.968881,
    ],
    "no blue cones": [
      1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.3039,
    ],
  };

  /** CIELAB (ISO/CIE 11664-4) of an sRGB colour (IEC 61966-2-1) under D65, as an eye sees it. */
  function lab(colour: string, sight: readonly number[]): Triple {
    const linear = [1, 3, 5].map((at) => {
      const value = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
      return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
    });
    const [r, g, b] = [0, 3, 6].map((row) =>
      Math.min(
        1,
        Math.max(
          0,
          linear.reduce((sum, value, i) => sum + sight[row + i] * value, 0),
        ),
      ),
    );
    const f = (t: number) => (t > (6 / 29) ** 3 ? Math.cbrt(t) : t / (3 * (6 / 29) ** 2) + 4 / 29);
    const x = f((0.4124564 * r + 0.3575761 * g + 0.1804375 * b) / 0.95047);
    const y = f(0.2126729 * r + 0.7151522 * g + 0.072175 * b);
    const z = f((0.0193339 * r + 0.119192 * g + 0.9503041 * b) / 1.08883);
    return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
  }

  for (const [name, sight] of Object.entries(sights)) {
    it(`are told apart by eyes with ${name}`, () => {
      for (const [i, one] of kindGroups.entries()) {
        for (const other of kindGroups.slice(i + 1)) {
          const [a, b] = [lab(groupFills[one], sight), lab(groupFills[other], sight)];
          expect(Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]), `${one}, ${other}`).toBeGreaterThan(15);
        }
      }
    });
  }

  it("differ in lightness where they lie beside each other in a bar", () => {
    const lightness = kindGroups.map((group) => lab(groupFills[group], identity)[0]);
    expect(lightness.map(Math.round)).toEqual([26, 51, 81, 57, 91]);
    for (let i = 1; i < lightness.length; i++) {
      expect(Math.abs(lightness[i] - lightness[i - 1])).toBeGreaterThan(20);
    }
  });
});
