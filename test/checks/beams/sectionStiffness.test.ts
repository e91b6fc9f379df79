import { describe, expect, it } from "vitest";
import {
  bendingStressPerNewton,
  circleMoments,
  outlineMoments,
  printedSecondMoments,
  type SectionMoments,
  segmentMoments,
  strengthAtAngle,
} from "../../../src/checks/beams/sectionStiffness";
import { Random } from "../../../src/design/random";
import type { Vec2, Vec3 } from "../../../src/geometry/vector";
import { cross, dot, normalize } from "../../../src/geometry/vector";

const rectangle = (width: number, height: number, turn = 0, at: Vec2 = [0, 0]): Vec2[] =>
  (
    [
      [-1, -1],
      [1, -1],
      [1, 1],
      [-1, 1],
    ] as const
  ).map(([x, y]): Vec2 => {
    const [u, v] = [(x * width) / 2, (y * height) / 2];
    return [at[0] + u * Math.cos(turn) - v * Math.sin(turn), at[1] + u * Math.sin(turn) + v * Math.cos(turn)];
  });

const moments = (points: readonly Vec2[]): SectionMoments => {
  const found = outlineMoments(points);
  if (!found) throw new Error("an outline without area");
  return found;
};

const solid = { shells: 3, lineWidth: 0.45, infill: 100 };

describe("moments of area", () => {
  // Closed forms as every handbook of strength of materials lists them (Timoshenko, Strength of Materials).
  it("knows rectangle and triangle, wherever they lie and however they are turned", () => {
    for (const turn of [0, 0.3, 1.2, 2.9]) {
      const found = moments(rectangle(18, 4, turn, [120, -340]));
      expect(found.area).toBeCloseTo(72, 8);
      expect(found.centroid[0]).toBeCloseTo(120, 8);
      expect(found.centroid[1]).toBeCloseTo(-340, 8);
      expect(found.second[0]).toBeCloseTo((4 * 18 ** 3) / 12, 6);
      expect(found.second[1]).toBeCloseTo((18 * 4 ** 3) / 12, 6);
      expect(found.half[0]).toBeCloseTo(2, 8);
      expect(found.half[1]).toBeCloseTo(9, 8);
    }
    const triangle = moments([
      [-3, 0],
      [3, 0],
      [0, 9],
    ]);
    // b·h³/36 about the base's direction, h·b³/48 about the height's.
    expect(triangle.second[0]).toBeCloseTo((6 * 9 ** 3) / 36, 8);
    expect(triangle.second[1]).toBeCloseTo((9 * 6 ** 3) / 48, 8);
  });

  it("comes to a circle with a polygon of many corners", () => {
    const points = Array.from({ length: 720 }, (_, i): Vec2 => {
      const turn = (i / 720) * 2 * Math.PI;
      return [5 * Math.cos(turn), 5 * Math.sin(turn)];
    });
    const found = moments(points);
    expect(found.second[0] / ((Math.PI * 5 ** 4) / 4)).toBeCloseTo(1, 4);
    expect(found.second[1] / ((Math.PI * 5 ** 4) / 4)).toBeCloseTo(1, 4);
  });

  it("agrees with a count over a grid on an outline that is not convex, and does not mind the order of segments", () => {
    const outline: Vec2[] = [
      [0, 0],
      [10, 0],
      [10, 3],
      [4, 3],
      [4, 8],
      [0, 8],
    ];
    const found = moments(outline);
    const isIn = (x: number, y: number) => (y < 3 && x < 10) || (x < 4 && y < 8);
    let [n, sx, sy, sxx, syy, sxy] = [0, 0, 0, 0, 0, 0];
    const h = 0.02;
    for (let x = h / 2; x < 10; x += h) {
      for (let y = h / 2; y < 8; y += h) {
        if (!isIn(x, y)) continue;
        n++;
        sx += x;
        sy += y;
        sxx += x * x;
        syy += y * y;
        sxy += x * y;
      }
    }
    const cell = h * h;
    const [ixx, iyy, ixy] = [
      (syy - (sy * sy) / n) * cell,
      (sxx - (sx * sx) / n) * cell,
      (sxy - (sx * sy) / n) * cell,
    ];
    const spread = Math.hypot((ixx - iyy) / 2, ixy);
    expect(found.second[0] / ((ixx + iyy) / 2 + spread)).toBeCloseTo(1, 3);
    expect(found.second[1] / ((ixx + iyy) / 2 - spread)).toBeCloseTo(1, 3);
    const segments = outline.map((p, i) => [...p, ...outline[(i + 1) % outline.length]]);
    const shuffled = segmentMoments([2, 5, 0, 3, 1, 4].flatMap((i) => segments[i]));
    expect(shuffled?.area).toBeCloseTo(found.area, 10);
    expect(shuffled?.second[0]).toBeCloseTo(found.second[0], 8);
  });

  it("answers nothing for what encloses nothing", () => {
    expect(segmentMoments([])).toBeUndefined();
    expect(
      outlineMoments([
        [0, 0],
        [1, 0],
        [2, 0],
      ]),
    ).toBeUndefined();
  });
});

describe("shells and infill", () => {
  it("gives a shelled circle as the ring of its shells and the core at its share", () => {
    const [r, t, f] = [5, 1.35, 0.15];
    const [found] = printedSecondMoments(circleMoments, r, { shells: 3, lineWidth: 0.45, infill: 15 });
    const exact = (Math.PI / 4) * (r ** 4 - (1 - f) * (r - t) ** 4);
    expect(found).toBeCloseTo(exact, 9);
    // Thin-walled ring, I ≈ π·r³·t about the middle of the wall (Roark's Formulas for Stress and Strain; from memory).
    const [thin] = printedSecondMoments(circleMoments, 20.1, { shells: 1, lineWidth: 0.2, infill: 0 });
    expect(thin / (Math.PI * 20 ** 3 * 0.2)).toBeCloseTo(1, 3);
  });

  it("gives a hollow tube as the ring of its wall, and solid walls where shells fill them", () => {
    const [ring] = printedSecondMoments(circleMoments, 8, solid, { share: 6 / 8, wall: 2 });
    expect(ring).toBeCloseTo((Math.PI / 4) * (8 ** 4 - 6 ** 4), 9);
    const [shelled] = printedSecondMoments(
      circleMoments,
      8,
      { shells: 3, lineWidth: 0.45, infill: 15 },
      { share: 6 / 8, wall: 2 },
    );
    expect(shelled).toBeCloseTo(ring, 9);
    const [lined] = printedSecondMoments(
      circleMoments,
      12,
      { shells: 1, lineWidth: 0.5, infill: 0 },
      { share: 8 / 12, wall: 4 },
    );
    expect(lined).toBeCloseTo((Math.PI / 4) * (12 ** 4 - 11.5 ** 4 + 8.5 ** 4 - 8 ** 4), 8);
  });

  it("is exact for a rectangle, and for blade and keel within 6 % on the safe side of the eroded outline", () => {
    const print = { shells: 2, lineWidth: 0.5, infill: 20 };
    const [strong, weak] = printedSecondMoments(moments(rectangle(18, 4)), 1, print);
    expect(strong).toBeCloseTo((4 * 18 ** 3 - 0.8 * 2 * 16 ** 3) / 12, 8);
    expect(weak).toBeCloseTo((18 * 4 ** 3 - 0.8 * 16 * 2 ** 3) / 12, 8);
    const blade = Array.from({ length: 48 }, (_, i): Vec2 => {
      const turn = (i / 48) * 2 * Math.PI;
      return [11 * Math.cos(turn), 4 * Math.sin(turn)];
    });
    const keel = Array.from({ length: 48 }, (_, i): Vec2 => {
      const turn = (i / 48) * 2 * Math.PI;
      const away = 8 * (0.96 + 0.1 * Math.cos(3 * turn));
      return [away * Math.cos(turn), away * Math.sin(turn)];
    });
    for (const outline of [blade, keel]) {
      const section = moments(outline);
      const found = printedSecondMoments(section, 1, print);
      const exact = erodedOnGrid(outline, section, 1, 0.2);
      expect(found[0] / exact[0]).toBeGreaterThan(0.94);
      expect(found[0] / exact[0]).toBeLessThan(1.005);
      expect(found[1] / exact[1]).toBeGreaterThan(0.94);
      expect(found[1] / exact[1]).toBeLessThan(1.005);
    }
  });
});

/** Second moments about the section's principal axes, its core (farther than `shell` from the rim) weighed by `share`. */
function erodedOnGrid(
  outline: readonly Vec2[],
  { centroid, turn }: SectionMoments,
  shell: number,
  share: number,
): [number, number] {
  const h = 0.08;
  const answer: [number, number] = [0, 0];
  for (let x = -13 + h / 2; x < 13; x += h) {
    for (let y = -13 + h / 2; y < 13; y += h) {
      let inside = false;
      let rim = Infinity;
      outline.forEach(([ax, ay], i) => {
        const [bx, by] = outline[(i + 1) % outline.length];
        if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
        const [dx, dy] = [bx - ax, by - ay];
        const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)));
        rim = Math.min(rim, Math.hypot(x - ax - t * dx, y - ay - t * dy));
      });
      if (!inside) continue;
      const weight = (rim < shell ? 1 : share) * h * h;
      const [u, v] = [x - centroid[0], y - centroid[1]];
      const p1 = Math.cos(turn) * u + Math.sin(turn) * v;
      const p2 = Math.cos(turn) * v - Math.sin(turn) * u;
      answer[0] += weight * p2 * p2;
      answer[1] += weight * p1 * p1;
    }
  }
  return answer;
}

describe("bending stress", () => {
  it("is F·L·r/I for a circle", () => {
    const frame = { x: [1, 0, 0], y: [0, 1, 0], tangent: [0, 0, 1] } as const;
    const I = (Math.PI * 3 ** 4) / 4;
    expect(bendingStressPerNewton(circleMoments, 3, [I, I], frame, [0, 0, 80])).toBeCloseTo((80 * 3) / I, 10);
  });

  it("finds the load's worst direction: against all directions of a sphere, and against von Mises for a circle", () => {
    const seed = 20;
    const random = new Random(seed);
    const outline = Array.from({ length: 12 }, (_, i): Vec2 => {
      const turn = (i / 12) * 2 * Math.PI;
      const away = random.between(0.5, 1.2);
      return [2 * away * Math.cos(turn), away * Math.sin(turn)];
    });
    const section = moments(outline);
    for (let round = 0; round < 6; round++) {
      const tangent = normalize([random.between(-1, 1), random.between(-1, 1), random.between(-1, 1)]);
      const x = normalize(cross(tangent, [0.3, 0.5, 0.81]));
      const y = cross(tangent, x);
      const lever: Vec3 = [random.between(-50, 50), random.between(-50, 50), random.between(-50, 50)];
      const unit = 3;
      const second = printedSecondMoments(section, unit, solid);
      let most = 0;
      let mises = 0;
      const steps = 300;
      for (let i = 0; i <= steps; i++) {
        for (let j = 0; j < 2 * steps; j++) {
          const [polar, turn] = [(Math.PI * i) / steps, (Math.PI * j) / steps];
          const load: Vec3 = [
            Math.sin(polar) * Math.cos(turn),
            Math.sin(polar) * Math.sin(turn),
            Math.cos(polar),
          ];
          const moment = cross(lever, load);
          const bending = [dot(moment, x), dot(moment, y)];
          const [c, s] = [Math.cos(section.turn), Math.sin(section.turn)];
          const m1 = c * bending[0] + s * bending[1];
          const m2 = c * bending[1] - s * bending[0];
          for (let k = 0; k < section.outline.length; k += 2) {
            const [p1, p2] = [section.outline[k] * unit, section.outline[k + 1] * unit];
            most = Math.max(most, Math.abs((m1 * p2) / second[0] - (m2 * p1) / second[1]));
          }
          // Round section: bending and torsion together.
          const torsion = dot(moment, tangent);
          mises = Math.max(mises, Math.sqrt(bending[0] ** 2 + bending[1] ** 2 + 0.75 * torsion ** 2));
        }
      }
      const found = bendingStressPerNewton(section, unit, second, { x, y, tangent }, lever);
      expect(found / most, `seed ${seed}`).toBeGreaterThan(0.9999);
      expect(found / most, `seed ${seed}`).toBeLessThan(1.001);
      expect(mises / Math.hypot(...lever), `seed ${seed}`).toBeLessThan(1.0001);
      expect(mises / Math.hypot(...lever), `seed ${seed}`).toBeGreaterThan(0.999);
    }
  });
});

describe("strength at an angle to the layers", () => {
  it("follows Hankinson's formula: both ends, and the harmonic mean at 45°", () => {
    expect(strengthAtAngle(40, 20, 0)).toBe(40);
    expect(strengthAtAngle(40, 20, 1)).toBe(20);
    expect(strengthAtAngle(40, 20, Math.SQRT1_2)).toBeCloseTo((2 * 40 * 20) / 60, 10);
  });
});
