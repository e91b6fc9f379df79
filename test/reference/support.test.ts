import { describe, expect, it } from "vitest";
import { findSupport } from "../../src/print/support/findSupport";
import { box, ellipsoid, moved, together, turned } from "../checks/shapes";
import { prism, settings, standing } from "../print/support/bodies";

const degree = Math.PI / 180;
/** Area of a circle's inscribed polygon over the circle's (closed form). */
const polygonShare = (segments: number): number =>
  (segments / (2 * Math.PI)) * Math.sin((2 * Math.PI) / segments);

// Volumes and areas in closed form (elementary solid geometry), each within 1 % at cells of 0.5 mm.
describe("supports in closed form", () => {
  const gap = 0.2;

  it("of a bridge: span × width × height less the gap", () => {
    const bridge = together(
      box([-30, -10, 0], [-20, 10, 30]),
      box([20, -10, 0], [30, 10, 30]),
      box([-30, -10, 30], [30, 10, 36]),
    );
    const { volume, contactArea, landingArea, columns } = findSupport(standing(bridge), settings());
    expect(volume / (40 * 20 * (30 - gap))).toBeCloseTo(1, 5);
    expect(contactArea).toBeCloseTo(800, 5);
    expect(landingArea).toBe(0);
    expect(columns).toHaveLength(1);
    expect(columns[0]).toMatchObject({ onPlate: true, bottom: 0, footArea: 800 });
    // 40 × 20 mm: the least width of a rectangle is its shorter side.
    expect(columns[0].width).toBeCloseTo(20, 5);
    expect(columns[0].slenderness).toBeCloseTo((30 - gap) / 20, 5);
    expect(columns[0].risk).toBeUndefined();
  });

  it("of a mushroom: the ring under the cap", () => {
    const [stem, cap, height, segments] = [6, 25, 20, 256];
    const mushroom = turned(
      [
        [0, 0],
        [stem, 0],
        [stem, height],
        [cap, height],
        [cap, height + 4],
        [0, height + 4],
      ],
      segments,
    );
    const ring = Math.PI * (cap ** 2 - stem ** 2) * polygonShare(segments);
    const { volume, contactArea } = findSupport(standing(mushroom), settings());
    expect(Math.abs(volume / (ring * (height - gap)) - 1)).toBeLessThan(0.01);
    expect(Math.abs(contactArea / ring - 1)).toBeLessThan(0.01);
  });

  it.each([30, 45, 60])("of a round arch, where it leans out farther than %d°", (overhangAngle) => {
    // What is held ends at a cell's edge, 17.5 mm from the middle.
    const [radius, length, top] = [17.5 / Math.cos(overhangAngle * degree), 40, 40];
    const slices = 720;
    const point = (k: number) => {
      const angle = Math.PI * (1 - k / slices);
      return [radius * Math.cos(angle), radius * Math.sin(angle)] as const;
    };
    const arch = together(
      box([-radius - 5, 0, 0], [-radius, length, top]),
      box([radius, 0, 0], [radius + 5, length, top]),
      ...Array.from({ length: slices }, (_, k) => {
        const [[x0, z0], [x1, z1]] = [point(k), point(k + 1)];
        return prism(
          [
            [x0, z0],
            [x1, z1],
            [x1, top],
            [x0, top],
          ],
          0,
          length,
        );
      }),
    );
    // A place of the arch at height z leans out by asin(z/r) from the vertical. Below it, from −a to a with
    // a = r·cos(angle): ∫ √(r² − x²) dx = r²·(asin(a/r) + (a/r)·√(1 − a²/r²)).
    const share = Math.cos(overhangAngle * degree);
    const under = radius ** 2 * (Math.asin(share) + share * Math.sqrt(1 - share ** 2));
    const { volume, contactArea } = findSupport(standing(arch), settings({ overhangAngle }));
    expect(Math.abs(volume / (length * (under - gap * 2 * radius * share)) - 1)).toBeLessThan(0.01);
    // The arc over it: r × 2·asin(a/r).
    expect(Math.abs(contactArea / (length * radius * 2 * Math.asin(share)) - 1)).toBeLessThan(0.01);
  });

  it.each([
    [40, false],
    [44.5, false],
    [45.5, true],
    [60, true],
  ])("of a cone that stands on its tip and opens by %d° to each side: %s", (half, isHeld) => {
    const [radius, segments] = [25, 256];
    const height = radius / Math.tan(half * degree);
    const cone = turned(
      [
        [0, 0],
        [radius, height],
        [0, height],
      ],
      segments,
    );
    const { volume } = findSupport(standing(cone), settings());
    // Under a cone on its tip lie two thirds of its cylinder, less the gap, less what is lower than the gap and a layer.
    const from = 0.4 * Math.tan(half * degree);
    const solidOf = (r: number): number =>
      ((2 / 3) * r ** 3 * Math.PI) / Math.tan(half * degree) - gap * r ** 2 * Math.PI;
    const expected = (solidOf(radius) - solidOf(from)) * polygonShare(segments);
    if (isHeld) expect(Math.abs(volume / expected - 1)).toBeLessThan(0.01);
    else expect(volume).toBe(0);
  });

  it.each([30, 45, 60])("of a ball: the cap that leans out farther than %d°", (overhangAngle) => {
    const radius = 20;
    const ball = moved(ellipsoid(1, 1, 1, 180, 180), [0, 0, 40], [radius, radius, radius]);
    const { contactArea, volume } = findSupport(standing(ball), settings({ overhangAngle }));
    // A place at the angle φ from the lowest leans out by 90° − φ. Zone of a sphere: 2πR²·(1 − cos φ), Archimedes.
    const phi = (90 - overhangAngle) * degree;
    expect(Math.abs(contactArea / (2 * Math.PI * radius ** 2 * (1 - Math.cos(phi))) - 1)).toBeLessThan(0.01);
    // Below it: cylinder to the ball's middle less the part of the ball, 2π/3·R³·(1 − cos³φ).
    const a = radius * Math.sin(phi);
    const under =
      Math.PI * a ** 2 * (40 - gap) - ((2 * Math.PI) / 3) * radius ** 3 * (1 - Math.cos(phi) ** 3);
    expect(Math.abs(volume / under - 1)).toBeLessThan(0.01);
  });

  it("of a piece above itself: from the lower to the upper surface, less both gaps", () => {
    const bracket = together(
      box([0, 0, 0], [40, 20, 10]),
      box([0, 0, 10], [5, 20, 40]),
      box([0, 0, 40], [60, 20, 45]),
    );
    const { volume, contactArea, landingArea, columns } = findSupport(
      standing(bracket),
      settings({ supportGap: 0.3 }),
    );
    expect(volume / (35 * 20 * (30 - 0.6) + 20 * 20 * (40 - 0.3))).toBeCloseTo(1, 5);
    expect(contactArea).toBeCloseTo(55 * 20, 5);
    expect(landingArea).toBeCloseTo(35 * 20, 5);
    expect(columns).toHaveLength(1);
  });

  it("of a piece over a slope: what it stands on counts as it lies", () => {
    const slope = together(
      prism(
        [
          [0, 0],
          [30, 0],
          [30, 1e-3],
          [0, 30],
        ],
        0,
        20,
      ),
      box([0, 0, 50], [30, 20, 55]),
    );
    const { volume, landingArea } = findSupport(standing(slope), settings());
    expect(Math.abs(volume / (20 * (30 * (50 - 2 * gap) - 30 ** 2 / 2)) - 1)).toBeLessThan(0.001);
    expect(Math.abs(landingArea / (20 * 30 * Math.SQRT2) - 1)).toBeLessThan(0.001);
  });
});
