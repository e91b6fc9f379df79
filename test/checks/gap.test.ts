import { describe, expect, it } from "vitest";
import { innerSurface } from "../../src/checks/fit/innerSurface";
import { weightedPercentiles } from "../../src/checks/fit/percentiles";
import { gap } from "../../src/checks/gap";
import { limitsOf } from "../../src/wearLimits";
import { box, ellipsoid, insideOut, meshOf, moved, together, torus, turned } from "./shapes";
import { formOf, headOf, partOf, pieceOf } from "./wornBodies";

const limits = limitsOf();

/** A thick cap or bowl: the shell between two balls above a height, seen from the middle at `angle` from the top. */
const shell = (inner: number, outer: number, angle: number) => {
  const steps = 60;
  const arc = (radius: number, from: number, to: number) =>
    Array.from({ length: steps + 1 }, (_, i): [number, number] => {
      const at = from + ((to - from) * i) / steps;
      return [at === 0 ? 0 : radius * Math.sin(at), radius * Math.cos(at)];
    });
  const turn = (angle * Math.PI) / 180;
  return turned([...arc(inner, 0, turn), ...arc(outer, turn, 0)], 120);
};

describe("gap on heads of known shape", () => {
  // A slab over a half-space: every place of its underside is as far off as the slab is (the definition of distance).
  it("half-space gap: a slab 3.2 mm over a plane has 3.2 mm everywhere", () => {
    const plane = meshOf(
      [
        [-500, -500, 0],
        [500, -500, 0],
        [500, 500, 0],
        [-500, 500, 0],
      ],
      [
        [0, 1, 2],
        [0, 2, 3],
      ],
    );
    // The form's centre must see the plane from below: where the facing of a surface is judged from.
    const found = gap(pieceOf(box([-60, -40, 3.2], [60, 40, 9])), headOf(moved(plane, [0, 0, 100])), limits);
    expect(found.bare).toBeUndefined();
    const over = gap(
      pieceOf(box([-60, -40, 103.2], [60, 40, 109])),
      headOf(moved(plane, [0, 0, 100])),
      limits,
    );
    for (const value of Object.values(over.bare!)) expect(Math.abs(value / 3.2 - 1)).toBeLessThan(0.01);
    expect(Math.abs(over.innerArea / (120 * 80) - 1)).toBeLessThan(0.1);
  });

  // Concentric balls: the gap is the difference of the radii (Euclid, Elements III.11).
  it("shell round a ball: radii 93 and 90 leave 3 mm", () => {
    const ball = moved(ellipsoid(90, 90, 90, 90, 180), [0, 0, 40]);
    const found = gap(pieceOf(moved(shell(93, 97, 80), [0, 0, 40])), headOf(ball), limits);
    for (const value of [found.bare!.p5, found.bare!.median, found.bare!.p95]) {
      expect(Math.abs(value / 3 - 1)).toBeLessThan(0.02);
    }
    expect(found.resting).toBe(0);
    expect(found.entering).toEqual([]);
    // The cap's inner side: 2πr²(1 − cos θ) (Archimedes, On the Sphere and Cylinder I.42).
    const area = 2 * Math.PI * 93 ** 2 * (1 - Math.cos((80 * Math.PI) / 180));
    expect(Math.abs(found.innerArea / area - 1)).toBeLessThan(0.03);
    // The ring closes round the ball: 2π times 3 mm of girth.
    expect(Math.abs(found.play!.girth / (6 * Math.PI) - 1)).toBeLessThan(0.02);
    expect(found.play!.hatSizes).toBeCloseTo(found.play!.girth / 10, 9);
  });

  it("a ball of radius 10 whose middle lies 8 mm off a plane enters by 2 mm, and says where", () => {
    const plane = moved(box([-300, -300, -300], [300, 300, 0]), [0, 0, 100]);
    const piece = pieceOf(moved(ellipsoid(10, 10, 10, 60, 120), [0, 0, 108]), {
      parts: [partOf("coral knob", 7)],
    });
    const found = gap(piece, headOf(plane), limits);
    expect(found.entering).toHaveLength(1);
    expect(Math.abs(found.entering[0].depth / 2 - 1)).toBeLessThan(0.01);
    expect(found.entering[0]).toMatchObject({ part: "coral knob", side: "crown" });
    const [finding] = found.findings;
    expect(finding).toMatchObject({ id: "enters-head", severity: "warning", part: "coral knob", line: 7 });
    expect(finding.limit).toMatchObject({
      name: "entering",
      value: 0.5,
      source: "common practice, no source",
    });
    expect(finding.text).toContain("2.0 mm");
  });

  it("says don't where it enters deeply, and nothing where it only touches", () => {
    const plane = moved(box([-300, -300, -300], [300, 300, 0]), [0, 0, 100]);
    const at = (height: number) =>
      gap(pieceOf(moved(ellipsoid(10, 10, 10, 60, 120), [0, 0, height])), headOf(plane), limits).findings;
    expect(at(104).map(({ severity }) => severity)).toEqual(["error"]);
    expect(at(109.9)).toEqual([]);
    // A wearer with a tender head allows less.
    const tender = limitsOf({ wearer: { enteringMost: 1 } });
    const [finding] = gap(
      pieceOf(moved(ellipsoid(10, 10, 10, 60, 120), [0, 0, 108])),
      headOf(plane),
      tender,
    ).findings;
    expect(finding.severity).toBe("error");
    expect(finding.limit?.source).toBe("set by the wearer");
  });

  it("leaves out what another part of the piece hides from the head", () => {
    const plane = moved(box([-300, -300, -300], [300, 300, 0]), [0, 0, 100]);
    const slab = (from: number, to: number) => box([-40, -40, 100 + from], [40, 40, 100 + to]);
    const found = gap(pieceOf([slab(2, 5), slab(8, 11)]), headOf(plane), limits);
    expect(found.bare!.p95).toBeLessThan(2.1);
  });
});

describe("gap on a head form", () => {
  const form = formOf();
  /** A piece as thick as 4 mm all over the grown head: its inside is the grown head's own surface. */
  const helmet = (ease: number, hair: number) => {
    const inner = form.grown({ offset: ease, hairThickness: hair }).mesh();
    const outer = form.grown({ offset: ease + 4, hairThickness: hair }).mesh();
    return pieceOf(together(outer, insideOut(inner)));
  };

  // Steiner's formula for parallel curves (J. Steiner 1840): girth ease = 2π · offset.
  it.each([
    [8 / (2 * Math.PI), 0],
    [10 / (2 * Math.PI), 3],
    [2.07, 5],
  ])("hollowed with %f mm of ease and %f mm of hair, it plays by 2π times the ease", (ease, hair) => {
    const head = headOf(undefined, { ease, hair }, form);
    const found = gap(helmet(ease, hair), head, limits);
    expect(Math.abs(found.play!.girth - 2 * Math.PI * ease)).toBeLessThan(0.5);
    expect(found.resting).toBeGreaterThan(0.98);
    expect(Math.abs(found.grown!.median)).toBeLessThan(0.02);
    expect(Math.abs(found.haired!.median / ease - 1)).toBeLessThan(0.02);
    expect(found.findings).toEqual([]);
    expect(found.sides.map(({ side }) => side)).toEqual(["front", "right", "back", "left", "crown"]);
  });

  it("tells a piece that is tight and one that is loose, in hat sizes", () => {
    const head = headOf(undefined, { ease: 1, hair: 0 }, form);
    const tight = gap(helmet(-1.5, 0), head, limits).findings.find(({ id }) => id === "tight-girth");
    expect(tight?.severity).toBe("warning");
    expect(Math.abs(tight!.value + 3 * Math.PI)).toBeLessThan(0.5);
    const loose = gap(helmet(4, 0), head, limits).findings.find(({ id }) => id === "loose-girth");
    expect(Math.abs(loose!.value - 8 * Math.PI)).toBeLessThan(0.5);
    expect(loose!.text).toContain("2.5 hat sizes");
  });

  it("has no play where nothing goes round the head, and says so of a piece far off", () => {
    const head = headOf(undefined, { ease: 1 }, form);
    const crest = gap(pieceOf(box([-5, -60, 125], [5, 60, 160])), head, limits);
    expect(crest.play).toBeUndefined();
    const far = gap(pieceOf(moved(torus(80, 5, 40, 12), [0, 0, 900])), head, limits);
    expect(far.innerArea).toBe(0);
    expect(far.findings.map(({ id }) => id)).toEqual(["off-the-head"]);
  });

  it("every distance is the least over all triangles of the head", () => {
    const head = headOf(undefined, { ease: 1 }, form);
    const piece = helmet(1.2, 0);
    const inner = innerSurface(piece, head);
    const { positions: p, triangles: t } = head.bare.mesh;
    for (let k = 0; k < inner.count; k += Math.ceil(inner.count / 25)) {
      const at = 3 * inner.samples[k];
      const q = [0, 1, 2].map((axis) => piece.samples.positions[at + axis]);
      // The neck's cut is made of long triangles.
      if (q[2] < -40) continue;
      // To corners and middles of sides only: an upper bound that is near on a fine mesh.
      let bound = Infinity;
      for (let i = 0; i < t.length; i += 3) {
        for (const [a, b] of [
          [0, 0],
          [0, 1],
          [1, 2],
          [2, 0],
        ]) {
          const d = [0, 1, 2].map((axis) => (p[3 * t[i + a] + axis] + p[3 * t[i + b] + axis]) / 2 - q[axis]);
          bound = Math.min(bound, Math.hypot(d[0], d[1], d[2]));
        }
      }
      expect(inner.bare[k]).toBeLessThanOrEqual(bound + 1e-4);
      expect(inner.bare[k]).toBeGreaterThan(bound - 1.5);
    }
  });
});

describe("weighted percentiles", () => {
  // Hyndman & Fan 1996, Sample quantiles in statistical packages, The American Statistician 50(4): definition 5.
  it("of equal weights are those of Hyndman and Fan's fifth definition", () => {
    expect(weightedPercentiles([4, 1, 3, 2], [1, 1, 1, 1], [0.25, 0.5, 0.75])).toEqual([1.5, 2.5, 3.5]);
  });

  it("count weight as often as it is heavy, and bear one value, none, and weights of nothing", () => {
    const [half] = weightedPercentiles([1, 10], [3, 1], [0.5]);
    const [repeated] = weightedPercentiles([1, 1, 1, 10], [1, 1, 1, 1], [0.5]);
    expect(half).toBeGreaterThanOrEqual(1);
    expect(repeated).toBe(1);
    expect(weightedPercentiles([7], [2], [0.05, 0.95])).toEqual([7, 7]);
    expect(weightedPercentiles([], [], [0.5])).toEqual([]);
    expect(weightedPercentiles([5, 6], [0, 1], [0, 1])).toEqual([6, 6]);
  });
});
