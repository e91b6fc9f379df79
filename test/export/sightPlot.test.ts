import { describe, expect, it } from "vitest";
import { type Sight, sight } from "../../src/checks/sight";
import { seenDegrees, sightPlot } from "../../src/export/sightPlot";
import { radians } from "../../src/geometry/vector";
import { limitsOf } from "../../src/wearLimits";
import { box, ellipsoid, moved } from "../checks/shapes";
import { headOf, pieceOf } from "../checks/wornBodies";
import { wellFormed } from "./svgReading";

const head = headOf();
const { leftEye, rightEye } = head.landmarks;
const limits = limitsOf();

/** A ball before the right eye, `eccentricity` from straight ahead on a meridian, of an angular radius. */
function ballBefore(eccentricity: number, meridian: number, alpha: number): Sight {
  const distance = 70;
  const [s, c] = [Math.sin(radians(eccentricity)), Math.cos(radians(eccentricity))];
  const radius = distance * Math.sin(radians(alpha));
  const ball = moved(ellipsoid(radius, radius, radius, 60, 90), [
    rightEye[0] + distance * s * Math.cos(radians(meridian)),
    rightEye[1] + distance * c,
    rightEye[2] + distance * s * Math.sin(radians(meridian)),
  ]);
  return sight(pieceOf(ball), head, limits);
}

/** Points of a path of M, L, Z with absolute places. */
function pointsOf(svg: string, name: string): [number, number][] {
  const d = new RegExp(`class="${name}"[^>]* d="([^"]*)"`).exec(svg)?.[1] ?? "";
  return [...d.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map((match) => [Number(match[1]), Number(match[2])]);
}

const circlesOf = (svg: string) =>
  [...svg.matchAll(/<circle cx="([\d.]+)" cy="([\d.]+)" r="([\d.]+)"/g)].map((match) =>
    match.slice(1).map(Number),
  );

describe("polar plot of sight", () => {
  it("is one self-contained SVG, told in words too", () => {
    const found = ballBefore(40, 0, 15);
    const svg = sightPlot(found);
    expect(wellFormed(svg)).toBe("");
    expect(svg).not.toMatch(/<script|<image|<use|<style|@import|href=|src=|data:|javascript:|\son\w+=/);
    expect([...svg.matchAll(/url\(([^)]*)\)/g)].every(([, to]) => svg.includes(`id="${to.slice(1)}"`))).toBe(
      true,
    );
    expect(svg.replace('xmlns="http://www.w3.org/2000/svg"', "")).not.toMatch(/https?:/);
    expect(svg).toContain("<title id=");
    const desc = /<desc[^>]*>([^<]*)<\/desc>/.exec(svg)![1];
    expect(desc).toContain(`right eye ${Math.round(1000 * found.covered.right) / 10} %`);
    expect(desc).toContain(`${Math.round(seenDegrees(found, "down"))}° down`);
    // Each label stands where the wearer has that side.
    const at = (word: string) => {
      const [, x, y] = new RegExp(`<text x="([\\d.]+)" y="([\\d.]+)"[^>]*>${word}</text>`).exec(svg)!;
      return [Number(x), Number(y)];
    };
    const [cx, cy] = circlesOf(svg)[0];
    expect(at("right")[0]).toBeGreaterThan(cx + 100);
    expect(at("left")[0]).toBeLessThan(cx - 100);
    expect(at("up")[1]).toBeLessThan(cy - 100);
    expect(at("down")[1]).toBeGreaterThan(cy + 100);
  });

  it("draws circles every 30° to one scale, with their degrees", () => {
    const svg = sightPlot(ballBefore(40, 0, 15));
    const radii = circlesOf(svg)
      .map(([, , r]) => r)
      .filter((r) => r > 10);
    expect(radii).toHaveLength(3);
    expect(radii[1] / radii[0]).toBeCloseTo(2, 2);
    expect(radii[2] / radii[0]).toBeCloseTo(3, 2);
    for (const degrees of [30, 60, 90]) expect(svg).toContain(`>${degrees}°</text>`);
  });

  it("draws what is covered where it is: a ball α wide lies between e − α and e + α", () => {
    for (const [eccentricity, meridian] of [
      [75, 0],
      [40, 90],
      [45, 270],
      [35, 180],
    ]) {
      const svg = sightPlot(ballBefore(eccentricity, meridian, 12));
      const [cx, cy, r30] = circlesOf(svg)[0];
      const along = pointsOf(svg, "covered-right").map(([x, y]) => {
        const angle = radians(meridian);
        return (30 / r30) * ((x - cx) * Math.cos(angle) - (y - cy) * Math.sin(angle));
      });
      expect(Math.abs(Math.min(...along) - (eccentricity - 12))).toBeLessThan(1);
      expect(Math.abs(Math.max(...along) - (eccentricity + 12))).toBeLessThan(1);
    }
  });

  it("tells the eyes and both apart without colour", () => {
    const [, y, z] = rightEye;
    const visor = sightPlot(sight(pieceOf(box([-90, y + 30, z - 20], [90, y + 31, z + 60])), head, limits));
    const patterns = [...visor.matchAll(/<pattern id="sight-(\w+)".*?<path d="([^"]*)"/g)];
    expect(patterns.map(([, field]) => field)).toEqual(["left", "right", "both"]);
    expect(new Set(patterns.map(([, , lines]) => lines)).size).toBe(3);
    expect(
      new Set(
        [...visor.matchAll(/class="border-\w+"[^>]*?(stroke-dasharray="[^"]*")?\s+d=/g)].map((m) => m[1]),
      ).size,
    ).toBe(3);
    for (const field of ["left", "right", "both"]) {
      expect(pointsOf(visor, `covered-${field}`).length).toBeGreaterThan(0);
    }
  });

  it("draws no area where nothing is covered, and all where all is", () => {
    const none = sightPlot(sight(pieceOf(box([0, -300, 0], [1, -299, 1])), head, limits));
    expect(wellFormed(none)).toBe("");
    expect(none).not.toContain('class="covered-');
    expect(none).toContain("both eyes: 0 % covered");
    const all = sight(
      pieceOf(box([leftEye[0] - 60, leftEye[1] - 60, -60], [rightEye[0] + 60, leftEye[1] + 60, 90])),
      head,
      limits,
    );
    const svg = sightPlot(all);
    expect(wellFormed(svg)).toBe("");
    expect(svg).toContain("both eyes: 100 % covered");
    const extent = (points: [number, number][]) => [
      Math.min(...points.map(([x]) => x)),
      Math.max(...points.map(([x]) => x)),
      Math.min(...points.map(([, y]) => y)),
      Math.max(...points.map(([, y]) => y)),
    ];
    const [covered, border] = [extent(pointsOf(svg, "covered-both")), extent(pointsOf(svg, "border-both"))];
    covered.forEach((value, i) => {
      expect(value).toBeCloseTo(border[i], 1);
    });
    expect(seenDegrees(all, "up")).toBe(0);
  });

  it("says no more degrees than the field has", () => {
    const free = sight(pieceOf(box([0, -300, 0], [1, -299, 1])), head, limits);
    expect(seenDegrees(free, "left")).toBeCloseTo(100, 6);
    expect(seenDegrees(free, "up")).toBeCloseTo(60, 6);
  });
});
