import { describe, expect, it } from "vitest";
import { Random } from "../../../src/design/random";
import type { TriangleMesh } from "../../../src/geometry/mesh";
import { normalize, rotateAbout, type Vec3 } from "../../../src/geometry/vector";
import { angleBetween } from "../../../src/print/orientation/directions";
import { orientationCost } from "../../../src/print/orientation/orientationCost";
import { QuickOrientation } from "../../../src/print/orientation/quickFigures";
import {
  figuresOf,
  roundedOrientation,
  searchOrientations,
} from "../../../src/print/orientation/searchOrientations";
import { orientationOfUp, placedPiece, upOf } from "../../../src/print/placedPiece";
import type { Support } from "../../../src/print/support/support";
import { box, ellipsoid, moved, together, torus, turned } from "../../checks/shapes";
import { inputOf, ofOnePart, onlyWeights, printer, search, settings, turnedAbout } from "./orientationRig";

const upOfBest = (mesh: TriangleMesh, options = {}) => upOf(search(mesh, options).best.orientation);

/** Nothing to hold up, whatever lies there: leaves the costs to closed forms. */
const noSupport = {
  volume: 0,
  contactArea: 0,
  landingArea: 0,
  columns: [],
  byPart: [],
  runs: { count: 0, cell: 1 },
} as unknown as Support;

const random3 = (random: Random): Vec3 =>
  normalize([random.between(-1, 1), random.between(-1, 1), random.between(-1, 1)]);

/** Limbs that stick out of a lump, each another way. */
const wild = (random: Random): TriangleMesh =>
  together(
    ellipsoid(20, 28, 16, 16, 20),
    ...Array.from({ length: 4 }, () => {
      const limb = moved(ellipsoid(4, 4, random.between(20, 45), 12, 10), [0, 0, 35]);
      return turnedAbout(limb, random3(random), random.between(0, 6));
    }),
  );

describe("the search", () => {
  it("finds no worse than any of 500 random directions, by the same cost", () => {
    const seed = 77;
    const random = new Random(seed);
    const weights = onlyWeights({ hours: 1, height: 1, footprint: 0.3 });
    for (let round = 0; round < 4; round++) {
      const mesh = ofOnePart(wild(random));
      const found = search(mesh, { weights, support: () => noSupport });
      const quick = new QuickOrientation({ mesh, printer, settings: { ...settings, supportShare: 0 } });
      const best = found.best.cost;
      for (let i = 0; i < 500; i++) {
        const figures = quick.figures(random3(random));
        const cost = orientationCost(figures, found.references, weights);
        expect(best, `seed ${seed}, round ${round}`).toBeLessThan(cost * 1.01);
      }
    }
  });

  it("with supports looked at cell by cell, finds none better by a tenth among 60 random directions", () => {
    const seed = 5;
    const random = new Random(seed);
    for (let round = 0; round < 2; round++) {
      const mesh = wild(random);
      const input = inputOf(mesh);
      const found = searchOrientations(input);
      for (let i = 0; i < 60; i++) {
        const other = roundedOrientation(orientationOfUp(random3(random)), 0);
        const cost = orientationCost(figuresOf(input, other), found.references, input.weights);
        expect(found.best.cost, `seed ${seed}, round ${round}, ${JSON.stringify(other)}`).toBeLessThan(
          1.1 * cost,
        );
      }
    }
  });

  it("turns its answer with the body", () => {
    const seed = 9;
    const random = new Random(seed);
    const cone = turned(
      [
        [0, 0],
        [30, 0],
        [0, 80],
      ],
      48,
    );
    const weights = onlyWeights({ hours: 1, support: 1, height: 0.3, footprint: 0.6 });
    const own = upOfBest(cone, { weights });
    expect(own[2]).toBeCloseTo(1, 9);
    for (let round = 0; round < 3; round++) {
      const [axis, angle] = [random3(random), random.between(0.5, 3)];
      const told = `seed ${seed}, round ${round}`;
      const found = upOfBest(turnedAbout(cone, axis, angle), { weights });
      expect(angleBetween(found, rotateAbout(own, axis, angle)), told).toBeLessThan(0.5);
      const limbs = wild(random);
      const plain = { weights: onlyWeights({ hours: 1, height: 1 }), support: () => noSupport };
      const before = search(limbs, plain).best.figures;
      const after = search(turnedAbout(limbs, axis, angle), plain).best.figures;
      expect(after.hours / before.hours, told).toBeCloseTo(1, 1);
      expect(after.height / before.height, told).toBeCloseTo(1, 1);
    }
  });

  it("gives the same answer each time, plain and finite", () => {
    const mesh = wild(new Random(31));
    const first = search(mesh);
    expect(search(mesh)).toEqual(first);
    expect(JSON.parse(JSON.stringify(first))).toEqual(first);
    expect(first.compared).toBeGreaterThanOrEqual(500);
  });

  it("shows what is best at each thing, none twice, as designed first", () => {
    const mesh = wild(new Random(12));
    const weakest = (up: Vec3) => 1 + up[1] ** 2;
    const { found, asDesigned, best } = search(mesh, { weakest });
    expect(found[0]).toBe(asDesigned);
    expect(asDesigned.orientation).toEqual({ tilt: 0, towards: 0, turn: 0 });
    const names = found.flatMap(({ names }) => names);
    expect([...names].sort()).toEqual(
      ["as designed", "best of all", "fewest hours", "least support", "lowest", "strongest"].sort(),
    );
    for (const one of found) {
      for (const other of found) {
        if (one === other) continue;
        const isNear = angleBetween(upOf(one.orientation), upOf(other.orientation)) < 5;
        expect(isNear && Math.abs(one.cost / other.cost - 1) < 0.02).toBe(false);
      }
      expect(best.cost).toBeLessThanOrEqual(one.cost * 1.02);
    }
    const named = (name: string) => found.find((one) => one.names.some((own) => own === name))!;
    const strongest = upOf(named("strongest").orientation);
    expect(Math.abs(strongest[1])).toBeGreaterThan(0.99);
    expect(named("strongest").figures.weakest).toBeCloseTo(2, 1);
    for (const { figures } of found) {
      expect(named("lowest").figures.height).toBeLessThanOrEqual(figures.height + 1);
    }
  });

  it("follows its weights: a rod lies down to be low, and stands to be strong across it", () => {
    const rod = box([-5, -5, 0], [5, 5, 120]);
    const along = (up: Vec3) => Math.abs(up[2]);
    expect(along(upOfBest(rod, { weights: onlyWeights({ height: 1 }) }))).toBeLessThan(0.01);
    const weakest = (up: Vec3) => 1 + 3 * up[2] ** 2;
    expect(along(upOfBest(rod, { weights: onlyWeights({ layers: 1 }), weakest }))).toBeGreaterThan(0.999);
  });

  it("keeps a given way up among its answers, and turns and tilts what is too long", () => {
    const rod = box([-5, -5, -140], [5, 5, 140]);
    const given = { tilt: 90, towards: 0, turn: 0 };
    const { given: own, best, asDesigned } = search(rod, { given });
    // 280 mm: neither along a side of 220 nor upright in 250; across the plate's diagonal of 311 it fits.
    expect(asDesigned.fits).toBe(false);
    expect(own).toMatchObject({ orientation: given, fits: false });
    expect(own?.room).toBeCloseTo(-60, 3);
    expect(best.fits).toBe(true);
    expect(best.room).toBeGreaterThan(0);
    const { size } = placedPiece(ofOnePart(rod), best.orientation, printer.plate);
    expect(Math.max(size[0], size[1])).toBeLessThanOrEqual(220);
    expect(size[2]).toBeLessThanOrEqual(250);
  });

  it("does with a round plate, and tells the least excess where nothing fits", () => {
    const round = { ...printer, plate: { shape: "round" as const, diameter: 200 } };
    const ring = torus(60, 5, 48, 12);
    const { best } = search(ring, { printer: round });
    expect(best.fits).toBe(true);
    expect(best.room).toBeCloseTo(200 - 130, 0);
    const large = search(box([0, 0, 0], [400, 10, 10]), { printer: round });
    expect(large.found.every(({ fits }) => !fits)).toBe(true);
    expect(large.best.room).toBeGreaterThan(-160);
  });

  it("rounds to whole degrees what loses nothing by it, and a flat face to what it needs", () => {
    const { best } = search(
      turnedAbout(box([0, 0, 0], [90, 90, 8]), normalize([1, 0.3, 0]), (23.37 * Math.PI) / 180),
      { weights: onlyWeights({ footprint: 1, support: 1 }) },
    );
    expect(best.orientation.tilt).not.toBe(Math.round(best.orientation.tilt));
    expect(Math.min(best.orientation.tilt, 180 - best.orientation.tilt)).toBeCloseTo(23.37, 1);
    expect(best.figures.footprint).toBeGreaterThan(0.9 * 90 * 90);
    const { orientation } = search(box([0, 0, 0], [90, 90, 8])).best;
    expect(orientation.tilt % 1).toBe(0);
  });

  it("refuses too few directions and meshes that are none", () => {
    const mesh = box([0, 0, 0], [10, 10, 10]);
    expect(() => search(mesh, { directions: 12 })).toThrow(/too few/);
    expect(() => search({ positions: new Float32Array(0), triangles: new Uint32Array(0) })).toThrow(
      RangeError,
    );
  });
});
