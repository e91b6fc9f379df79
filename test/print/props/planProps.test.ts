import { describe, expect, test } from "vitest";
import type { Prop } from "../../../src/design/part";
import { writeStl } from "../../../src/export/stl";
import { auditStl } from "../../../src/export/stlAudit";
import { curveOf } from "../../../src/geometry/curveCache";
import { uniteWithPiece } from "../../../src/geometry/solid/unite";
import { sweepTube } from "../../../src/geometry/sweep";
import type { TubeShape } from "../../../src/geometry/tubeShape";
import type { Vec3 } from "../../../src/geometry/vector";
import type { PlacedPiece } from "../../../src/print/placedPiece";
import { type PropOptions, type PropPlan, planProps } from "../../../src/print/props/planProps";
import { defaultPropLimits, neckRun } from "../../../src/print/props/propLimits";
import { strutMesh } from "../../../src/print/props/strutMesh";
import { findSupport } from "../../../src/print/support/findSupport";
import type { Support } from "../../../src/print/support/support";
import { defaultPrintSettings } from "../../../src/printSettings";
import { box } from "../../checks/shapes";
import {
  distanceTo,
  isNearNeck,
  kernel,
  meshVolume,
  overhangArea,
  partsNamed,
  sectionArea,
  standing,
  surfacePoints,
} from "./pieces";

/** Props from the support that they replace to the bodies that are printed. Lengths in mm, plate's frame. */

const settings = defaultPrintSettings;
const limits = defaultPropLimits;
/** A post on a block, an arm from its top, tips that hang from the arm. */
const gallows = (...tips: readonly (readonly [x: number, y: number, bottom: number])[]) =>
  standing([
    box([-70, -20, 0], [-30, 20, 12]),
    box([-55, -5, 0], [-45, 5, 150]),
    box([-55, -6, 138], [35, 6, 150]),
    ...tips.map(([x, y, bottom]) => box([x - 2.5, y - 2.5, bottom], [x + 2.5, y + 2.5, 140])),
  ]);

function planned(
  placed: PlacedPiece,
  props: readonly Prop[],
  options: PropOptions = {},
): { plan: PropPlan; support: Support } {
  const support = findSupport(placed, settings);
  return {
    support,
    plan: planProps(kernel, placed, support, props, partsNamed("gallows"), settings, options),
  };
}
const under = (name: string, at: Vec3, more: Partial<Prop> = {}): Prop => ({ name, at, ...more });

/** Farther from a neck than this, a strut of any thickness here keeps the clearance. */
const besideNeck = neckRun(limits.thickness / 2, limits) + 1;

function expectSound(placed: PlacedPiece, plan: PropPlan): void {
  const mesh = plan.mesh!;
  const audit = auditStl(writeStl(mesh));
  expect(audit).toMatchObject({ closed: true, insideOut: 0 });
  expect(audit.volumeMm3).toBeCloseTo(plan.volume, 0);
  let least = Infinity;
  for (const point of surfacePoints(mesh)) {
    expect(point[2]).toBeGreaterThan(-1e-4);
    if (!isNearNeck(plan.necks, point, besideNeck)) least = Math.min(least, distanceTo(placed.mesh, point));
  }
  expect(least).toBeGreaterThan(limits.clearance);
  // Mazlan et al. 2020, JAITA: overhangs to 45° print. Tops of necks lie within the piece.
  const hangs = overhangArea(mesh, 45.5, (point) => isNearNeck(plan.necks, point, limits.neck));
  expect(hangs).toBeLessThan(0.05);
}

describe("a tall piece with thin columns of support", () => {
  const placed = gallows([30, 0, 110], [5, 0, 122]);
  const { plan, support } = planned(placed, [], { propose: true });

  test("has columns at risk, and none once props are proposed", () => {
    expect(plan.atRisk.before).toBeGreaterThan(0);
    expect(plan.atRisk.after).toBe(0);
    expect(plan.unproppable).toEqual([]);
    const anew = findSupport(placed, settings, { isHeld: plan.isHeld });
    expect(anew.columns.filter(({ risk }) => risk)).toEqual([]);
    expect(plan.support.volume).toBeLessThan(support.volume);
  });

  test("holds all that the columns held, within half a bridge of a neck's rim", () => {
    const { runs } = support;
    let farthest = 0;
    for (let i = 0; i < runs.count; i++) {
      // What is lower than that needs no prop.
      if (!support.columns[runs.group[i]].risk || runs.top[i] - runs.bottom[i] < 8) continue;
      const at = [
        runs.origin[0] + (runs.column[i] + 0.5) * runs.cell,
        runs.origin[1] + (runs.row[i] + 0.5) * runs.cell,
        runs.top[i] + settings.supportGap,
      ];
      const away = plan.necks.map((neck) =>
        Math.hypot(neck.at[0] - at[0], neck.at[1] - at[1], neck.at[2] - at[2]),
      );
      farthest = Math.max(farthest, Math.min(...away));
    }
    expect(farthest).toBeGreaterThan(0);
    // Bridges of 5 mm: from memory.
    expect(farthest).toBeLessThan(5 / 2 + limits.neck / 2 + 0.1);
  });

  test("is a closed body that keeps clear of the piece and prints without support", () => {
    expectSound(placed, plan);
  });

  test("every strut is as thick as its height asks for", () => {
    for (const { kind, rings } of plan.struts) {
      if (kind === "brace") continue;
      const wide = rings.slice(kind === "trunk" ? 1 : 2);
      for (let i = 1; i < wide.length - 2; i++) {
        const above = wide[0].at[2] - wide[i].at[2];
        // Width of a circle of radius r as the support's criterion takes it: √3 · r.
        expect(above / (Math.sqrt(3) * wide[i].radius)).toBeLessThan(limits.slenderness + 1e-6);
      }
    }
  });

  test("sums up what they take", () => {
    expect(plan.neckArea).toBeCloseTo(plan.necks.length * Math.PI * 0.6 ** 2, 6);
    expect(plan.footArea).toBeCloseTo(
      plan.feet.reduce((sum, { radius }) => sum + Math.PI * radius ** 2, 0),
      6,
    );
    expect(sectionArea(plan.mesh!, 0.2)).toBeGreaterThan(
      0.95 * Math.min(...plan.feet.map(({ radius }) => Math.PI * radius ** 2)),
    );
    expect(plan.byPart).toEqual([{ part: 0, necks: plan.necks.length, proposed: plan.necks.length }]);
    expect(plan.volume).toBeCloseTo(meshVolume(plan.mesh!), 6);
  });

  test("is proposed in a note, with the lines to write", () => {
    const [note] = plan.findings;
    expect(note).toMatchObject({ id: "props-proposed", severity: "note", topic: "props", part: "gallows" });
    expect(note.value).toBe(plan.necks.length);
    expect(note.suggestion).toContain('prop("under gallows 1", [');
  });

  test("united with the piece it is one closed piece that knows its parts", () => {
    const whole = uniteWithPiece(kernel, placed.mesh, plan.mesh!, 7);
    const audit = auditStl(writeStl(whole));
    expect(audit).toMatchObject({ closed: true, pieces: 1, insideOut: 0 });
    expect(new Set(whole.partOfTriangle)).toEqual(new Set([0, 7]));
    const sunk = meshVolume(placed.mesh) + plan.volume - meshVolume(whole);
    expect(sunk).toBeGreaterThan(0);
    // Necks alone are in both: a cylinder of a millimetre each is more than they sink.
    expect(sunk).toBeLessThan(plan.neckArea);
  });

  test("is not proposed where nobody asks for it", () => {
    const { plan: none, support: own } = planned(placed, []);
    expect(none).toMatchObject({ necks: [], struts: [], findings: [], volume: 0 });
    expect(none.mesh).toBeUndefined();
    expect(none.atRisk.after).toBe(none.atRisk.before);
    expect(none.support).toBe(own);
  });
});

describe("props of a design", () => {
  test("have necks of the diameter that is stated, nowhere thinner", () => {
    for (const neck of [0.8, 1.2, 2.5]) {
      const { plan } = planned(gallows([30, 0, 110]), [
        under("tip", [30, 0, 112], { neck, thickness: 5, foot: 16 }),
      ]);
      const [strut] = plan.struts.filter(({ kind }) => kind === "twig");
      const [own] = plan.necks;
      expect(own.at[2]).toBeCloseTo(110, 4);
      const mesh = strutMesh(strut.rings);
      // Across the strut, which leans by `along`.
      const areas = Array.from(
        { length: 60 },
        (_, i) => sectionArea(mesh, 109.99 - 0.5 * i) * Math.abs(own.along[2]),
      );
      expect(areas[0] / ((Math.PI / 4) * neck ** 2)).toBeCloseTo(1, 2);
      expect(Math.min(...areas)).toBeGreaterThan(0.99 * areas[0]);
      expect(areas[areas.length - 1]).toBeGreaterThan(0.99 * (Math.PI / 4) * 5 ** 2);
      expect(plan.feet[0].radius).toBeGreaterThanOrEqual(8);
    }
  });

  test("go straight down where nothing is in the way", () => {
    const placed = gallows([30, 0, 110]);
    const { plan } = planned(placed, [under("tip", [30, 0, 112])]);
    expect(plan.feet).toHaveLength(1);
    expect(plan.feet[0].x).toBeCloseTo(30, 6);
    expect(plan.feet[0].y).toBeCloseTo(0, 6);
    expectSound(placed, plan);
    expect(plan.findings).toEqual([]);
  });

  test("two near each other share a trunk, two far apart do not", () => {
    const near = planned(gallows([30, 0, 110], [10, 0, 110]), [
      under("a", [30, 0, 111]),
      under("b", [10, 0, 111]),
    ]).plan;
    expect(near.feet).toHaveLength(1);
    expect(near.struts.filter(({ kind }) => kind === "trunk")).toHaveLength(1);
    // They meet as high as a lean of 38° allows: 20 mm apart, 10 mm each, 12.8 mm down.
    const trunk = near.struts.find(({ kind }) => kind === "trunk")!;
    expect(trunk.rings[1].at[2]).toBeGreaterThan(
      110 - besideNeck - 10 / Math.tan((38 * Math.PI) / 180) - 3.5,
    );
    const far = planned(gallows([30, 0, 30], [-15, 0, 30]), [
      under("a", [30, 0, 31]),
      under("b", [-15, 0, 31]),
    ]).plan;
    expect(far.feet).toHaveLength(2);
  });

  test("tall ones that do not join are braced to each other", () => {
    const placed = gallows([30, 0, 130], [10, 0, 130]);
    const { plan } = planned(placed, [under("a", [30, 0, 131]), under("b", [10, 0, 131])], {
      limits: { ...limits, joinReach: 0 },
    });
    const braces = plan.struts.filter(({ kind }) => kind === "brace");
    expect(plan.feet).toHaveLength(2);
    expect(braces.length).toBeGreaterThan(1);
    for (const { rings } of braces) {
      const [upper, lower] = [rings[0].at, rings[1].at];
      const across = Math.hypot(upper[0] - lower[0], upper[1] - lower[1]);
      expect(Math.atan2(across, upper[2] - lower[2])).toBeLessThan(Math.PI / 4);
      expect(across).toBeCloseTo(20, 6);
    }
    expect(auditStl(writeStl(plan.mesh!))).toMatchObject({ closed: true, pieces: 1 });
    expectSound(placed, plan);
  });

  test("lean aside where the piece is in the way", () => {
    const shelf = box([-50, -12, 40], [45, 12, 46]);
    const free = gallows([30, 0, 110]).mesh;
    const placed = standing([free, shelf]);
    const { plan } = planned(placed, [under("tip", [30, 0, 111])]);
    expect(plan.unproppable).toEqual([]);
    const [foot] = plan.feet;
    expect(Math.hypot(foot.x - 30, foot.y)).toBeGreaterThan(12 + limits.clearance);
    expectSound(placed, plan);
  });

  /** A well about the tip, closed below, so wide within. */
  const inWell = (width: number): PlacedPiece => {
    const [near, far] = [width / 2, width / 2 + 4];
    return standing([
      gallows([30, 0, 110]).mesh,
      box([30 - far, -far, 0], [30 + far, far, 8]),
      box([30 - far, -far, 0], [30 - near, far, 138]),
      box([30 + near, -far, 0], [30 + far, far, 138]),
      box([30 - far, -far, 0], [30 + far, -near, 138]),
      box([30 - far, near, 0], [30 + far, far, 138]),
    ]);
  };

  test("stand on the piece where there is no way to the plate", () => {
    const placed = inWell(24);
    const { plan, support } = planned(placed, [under("tip", [30, 0, 111])]);
    expect(plan.unproppable).toEqual([]);
    expect(plan.footArea).toBe(0);
    const [foot] = plan.feet;
    expect(foot.z).toBeCloseTo(8, 4);
    expect(plan.landingArea).toBeCloseTo(Math.PI * foot.radius ** 2, 6);
    // The foot bears 0.5 N at its top with 0.5 MPa at its rim: F · h ≤ σ · π r³ / 4 (Euler–Bernoulli).
    expect(0.5 * (110 - 8)).toBeLessThanOrEqual((0.5 * Math.PI * foot.radius ** 3) / 4 + 1e-6);
    let least = Infinity;
    for (const point of surfacePoints(plan.mesh!)) {
      if (isNearNeck(plan.necks, point, besideNeck) || point[2] < 8 + 2.2 * foot.radius) continue;
      least = Math.min(least, distanceTo(placed.mesh, point));
    }
    expect(least).toBeGreaterThan(limits.clearance);
    expect(plan.support.volume).toBeLessThan(support.volume);
    expect(auditStl(writeStl(plan.mesh!))).toMatchObject({ closed: true, pieces: 1 });
  });

  test("that find no way are told, and their support stays", () => {
    const { plan, support } = planned(inWell(12), [
      under("tip", [30, 0, 111], { origin: { file: "tide.ts", line: 4, column: 2 } }),
    ]);
    expect(plan.unproppable).toHaveLength(1);
    expect(plan.necks).toEqual([]);
    expect(plan.support.volume).toBeCloseTo(support.volume, 6);
    expect(plan.findings[0]).toMatchObject({
      id: "prop-has-no-way",
      severity: "warning",
      text: expect.stringContaining('"tip" under "gallows"'),
      line: 4,
    });
    expect(plan.findings[0].suggestion).toBeTruthy();
  });

  test("far from the piece, or off the plate, are told", () => {
    const { plan } = planned(gallows([30, 0, 110]), [under("lost", [30, 60, 60])]);
    expect(plan.findings.map(({ id }) => id)).toEqual(["prop-holds-nothing"]);
    const plate = { shape: "rectangular", width: 60, depth: 60 } as const;
    const outside = planned(gallows([30, 0, 20]), [under("tip", [30, 0, 21])], { plate }).plan;
    for (const { x, y, radius } of outside.feet) {
      expect(Math.abs(x) + radius).toBeLessThanOrEqual(30);
      expect(Math.abs(y) + radius).toBeLessThanOrEqual(30);
    }
    expect(outside.feet.length + outside.unproppable.length).toBe(1);
  });

  test("wrong numbers are refused", () => {
    const placed = gallows([30, 0, 110]);
    expect(() => planned(placed, [under("tip", [30, Number.NaN, 1])])).toThrow(/tip.*finite/);
    const support = findSupport(placed, settings);
    const none = {
      positions: new Float32Array(0),
      triangles: new Uint32Array(0),
      partOfTriangle: new Int32Array(0),
    };
    expect(() =>
      planProps(kernel, { ...placed, mesh: none }, support, [under("a", [0, 0, 1])], [], settings),
    ).toThrow(RangeError);
    expect(() => strutMesh([{ at: [0, 0, 1], radius: 1 }])).toThrow(RangeError);
    expect(() =>
      strutMesh([
        { at: [0, 0, 1], radius: 1 },
        { at: [0, 0, 2], radius: 1 },
      ]),
    ).toThrow(/not below/);
  });
});

test("a note names the place on a tube's path that the design can write", () => {
  const shape: TubeShape = {
    path: {
      kind: "through",
      points: [
        [0, 0, 4],
        [0, 0, 90],
        [40, 0, 120],
        [70, 0, 100],
      ],
      closed: false,
    },
    radius: { shares: [0, 1], radii: [6, 3] },
    section: { kind: "circle" },
    twist: 0,
    startTip: { kind: "flat" },
    endTip: { kind: "round" },
  };
  const placed = standing([sweepTube(shape), box([-20, -20, 0], [20, 20, 6])]);
  const support = findSupport(placed, settings);
  const plan = planProps(kernel, placed, support, [], [{ kind: "tube", name: "horn", shape }], settings, {
    propose: true,
  });
  const note = plan.findings.find(({ id }) => id === "props-proposed")!;
  const shares = [...note.suggestion!.matchAll(/prop\("under horn[^"]*", horn\.at\((\d\.\d\d)\)\)/g)].map(
    ([, share]) => Number(share),
  );
  expect(shares.length).toBeGreaterThan(0);
  const curve = curveOf(shape.path);
  for (const share of shares) {
    const [x, y, z] = curve.sample([share]).points;
    // A hundredth of the path, and the tube's radius with the tip.
    const away = Math.min(...plan.necks.map(({ at }) => Math.hypot(at[0] - x, at[1] - y, at[2] - z)));
    expect(away).toBeLessThan(6 + 0.01 * curve.length);
  }
});
