import { expect, test } from "vitest";
import { writeStl } from "../../../src/export/stl";
import { auditStl } from "../../../src/export/stlAudit";
import type { TriangleMesh } from "../../../src/geometry/mesh";
import { SignedDistance } from "../../../src/geometry/signedDistance";
import { sweepTube } from "../../../src/geometry/sweep";
import { planProps } from "../../../src/print/props/planProps";
import { defaultPropLimits, neckRun } from "../../../src/print/props/propLimits";
import { findSupport } from "../../../src/print/support/findSupport";
import { defaultPrintSettings } from "../../../src/printSettings";
import { box } from "../../checks/shapes";
import { isNearNeck, kernel, overhangArea, partsNamed, standing, surfacePoints } from "./pieces";

/** What must hold of props under any piece: seeded random tall ones, arms with drooping ends on a post. */

const seeds = [3, 17, 40, 88, 121, 260];

/** Numbers from 0 to 1 (mulberry32). */
function randomFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t = (t + Math.imul(t ^ (t >>> 7), t | 61)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

function randomPiece(seed: number): TriangleMesh[] {
  const random = randomFrom(seed);
  const between = (least: number, most: number) => least + (most - least) * random();
  const height = between(90, 200);
  const arms = Array.from({ length: 2 + Math.floor(4 * random()) }, () => {
    const turn = between(0, 2 * Math.PI);
    const reach = between(20, 80);
    const start = between(40, height - 10);
    const at = (away: number, z: number): [number, number, number] => [
      away * Math.cos(turn),
      away * Math.sin(turn),
      z,
    ];
    const top = start + between(5, 50);
    return sweepTube({
      path: {
        kind: "through",
        points: [at(0, start), at(0.6 * reach, top), at(reach, top - between(0, 0.6 * top))],
        closed: false,
      },
      radius: { shares: [0, 1], radii: [between(3, 6), between(1.5, 3)] },
      section: { kind: "circle" },
      twist: 0,
      startTip: { kind: "round" },
      endTip: { kind: "round" },
    });
  });
  return [box([-20, -20, 0], [20, 20, 8]), box([-6, -6, 0], [6, 6, height]), ...arms];
}

test.each(seeds)("props under a random piece, seed %i", (seed) => {
  const placed = standing(randomPiece(seed));
  const support = findSupport(placed, defaultPrintSettings);
  const plan = planProps(kernel, placed, support, [], partsNamed("piece"), defaultPrintSettings, {
    propose: true,
  });
  expect(plan.atRisk.before).toBeGreaterThan(0);
  expect(plan.necks.length).toBeGreaterThan(0);
  expect(plan.atRisk.after === 0 || plan.unproppable.length > 0).toBe(true);

  const mesh = plan.mesh!;
  expect(auditStl(writeStl(mesh))).toMatchObject({ closed: true, insideOut: 0 });
  const { clearance, thickness, neck } = defaultPropLimits;
  const beside = neckRun(thickness / 2, defaultPropLimits) + 1;
  const distance = new SignedDistance(placed.mesh);
  let least = Infinity;
  let leastOfAll = Infinity;
  for (const point of surfacePoints(mesh)) {
    // Feet that stand on the piece go into it.
    const isAtFoot = plan.feet.some(
      ({ x, y, z, radius }) =>
        z > 0 && Math.hypot(point[0] - x, point[1] - y, point[2] - z) < 3 * radius + beside,
    );
    if (isAtFoot) continue;
    const away = distance.at(point[0], point[1], point[2]);
    if (!isNearNeck(plan.necks, point, beside)) least = Math.min(least, away);
    if (!isNearNeck(plan.necks, point, neck + 1)) leastOfAll = Math.min(leastOfAll, away);
  }
  expect(least).toBeGreaterThan(clearance);
  expect(leastOfAll).toBeGreaterThan(0);
  const hangs = overhangArea(mesh, 46, (point) => isNearNeck(plan.necks, point, 1.5));
  expect(hangs).toBeLessThan(0.001 * plan.volume);
  // The same input gives the same bytes.
  const again = planProps(kernel, placed, support, [], partsNamed("piece"), defaultPrintSettings, {
    propose: true,
  });
  expect(Buffer.from(writeStl(again.mesh!)).equals(Buffer.from(writeStl(mesh)))).toBe(true);
});
