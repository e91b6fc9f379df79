import { describe, expect, it } from "vitest";
import { massProperties } from "../../src/checks/massProperties";
import { ellipsoid, moved, torus, turned } from "../checks/shapes";

/** Share by which `value` misses `truth`. */
const miss = (value: number, truth: number): number => Math.abs(value / truth - 1);

describe("measures of bodies with a closed form", () => {
  // Pappus of Alexandria, Collection VII: volume 2π²Rr², surface 4π²Rr. The figures are those formulas worked out.
  it("torus of radii 80 and 5", () => {
    const body = massProperties(torus(80, 5, 720, 240));
    expect(miss(body.volume, 39_478.4176)).toBeLessThan(2e-4);
    expect(miss(body.area, 15_791.367)).toBeLessThan(1e-4);
    for (const axis of body.centre) expect(Math.abs(axis)).toBeLessThan(1e-4);
  });

  // Volume 4/3·πabc; surface by the elliptic integrals of Legendre (NIST DLMF 19.33), worked out.
  it("ellipsoid of half-axes 100, 77 and 120", () => {
    const body = massProperties(ellipsoid(100, 77, 120, 300, 600));
    expect(miss(body.volume, 3_870_442.149)).toBeLessThan(2e-4);
    expect(miss(body.area, 122_441.608)).toBeLessThan(1e-4);
    expect(body.box.most.map((value) => Math.round(value * 1000) / 1000)).toEqual([100, 77, 120]);
  });

  // Euclid, Elements XII; volume πh(R² + Rr + r²)/3, lateral surface π(R + r)·slant.
  it("frustum from radius 10 to 2 over a height of 120", () => {
    const body = massProperties(
      turned(
        [
          [0, 0],
          [10, 0],
          [2, 120],
          [0, 120],
        ],
        1440,
      ),
    );
    expect(miss(body.volume, 15_582.29956)).toBeLessThan(1e-5);
    expect(miss(body.area, 4_533.93537 + Math.PI * (100 + 4))).toBeLessThan(1e-5);
  });

  // Archimedes, The Method: a hemisphere's centre of mass lies 3/8 of the radius above its base, a cone's 1/4.
  it("centres of mass of a hemisphere and of a cone", () => {
    const rings = 200;
    const profile = Array.from({ length: rings + 1 }, (_, k): [number, number] => {
      const angle = (Math.PI / 2) * (k / rings);
      return [k === rings ? 0 : 100 * Math.cos(angle), 100 * Math.sin(angle)];
    });
    expect(massProperties(turned([[0, 0], ...profile], 400)).centre[2]).toBeCloseTo(37.5, 2);
    const cone = turned(
      [
        [0, 0],
        [50, 0],
        [0, 80],
      ],
      720,
    );
    expect(massProperties(cone).centre[2]).toBeCloseTo(20, 4);
  });

  it("keeps its digits far from the origin", () => {
    const near = massProperties(torus(80, 5, 64, 32));
    const far = massProperties(moved(torus(80, 5, 64, 32), [4096, -8192, 2048]));
    // What is left is the rounding of 32-bit coordinates near 8192: 0.0005 mm.
    expect(miss(far.volume, near.volume)).toBeLessThan(2e-5);
    expect(far.centre[0]).toBeCloseTo(4096, 3);
    expect(far.centre[1]).toBeCloseTo(-8192, 3);
  });
});
