import { beforeAll, describe, expect, it } from "vitest";
import { innerSurface } from "../../src/checks/fit/innerSurface";
import { gap } from "../../src/checks/gap";
import { stayOn } from "../../src/checks/stayOn";
import { type KnownFit, type Sureness, sureness } from "../../src/checks/sureness";
import { spreadOf } from "../../src/checks/sureness/fitShares";
import { fittedPiece } from "../../src/checks/sureness/fittedPiece";
import { HeadJudge } from "../../src/checks/sureness/headJudge";
import { wayOn } from "../../src/checks/wayOn";
import { WornHead } from "../../src/checks/wornHead";
import { WornPiece } from "../../src/checks/wornPiece";
import { completeMeasurements } from "../../src/head/completeMeasurements";
import { HeadFamily } from "../../src/head/headFamily";
import { buildHeadForm } from "../../src/head/headForm";
import { drawnMeasurements, surveyModel } from "../../src/head/headsModel";
import type { KnownHead } from "../../src/head/knownHead";
import type { GivenMeasurements } from "../../src/head/measurements";
import { DRAWN_FIELDS } from "../../src/head/surveyedHeads";
import { limitsOf } from "../../src/wearLimits";
import { meshOf } from "./shapes";
import { fullFit } from "./sureness/fullFit";
import { pieceOf } from "./wornBodies";

const room = { ease: 1.3, hair: 3, hairPressed: 2 };
const limits = limitsOf();
const seed = 20_126;

/** What is known of a head of some measures, the girth of which was taken with a standard error. */
function knownOf(given: GivenMeasurements, girthError = 0): KnownHead {
  const { measurements, estimated } = completeMeasurements(given);
  return { measurements, estimated, ...(girthError > 0 && { measuringErrors: { girth: girthError } }) };
}

/** A band round the grown head of what is known, 4 mm thick, and 16 mm high unless between other elevations. */
function bandFor(
  { measurements }: KnownHead,
  ease = room.ease,
  elevations: readonly number[] = [2, 5, 8, 11, 14],
): WornPiece {
  const form = buildHeadForm(measurements);
  const inside = form.grown({ offset: ease, hairThickness: room.hair });
  const outside = form.grown({ offset: ease + 4, hairThickness: room.hair });
  const around = 120;
  const rows = [
    ...elevations.map((elevation) => ({ elevation, head: inside })),
    ...elevations.toReversed().map((elevation) => ({ elevation, head: outside })),
  ];
  const points = rows.flatMap(({ elevation, head }) =>
    Array.from({ length: around }, (_, i) => head.pointAt({ azimuth: (360 * i) / around, elevation })),
  );
  const triangles: [number, number, number][] = [];
  for (let row = 0; row < rows.length; row++) {
    const next = (row + 1) % rows.length;
    for (let i = 0; i < around; i++) {
      const j = (i + 1) % around;
      const [a, b] = [row * around + i, row * around + j];
      const [c, d] = [next * around + i, next * around + j];
      triangles.push([a, b, c], [b, d, c]);
    }
  }
  return pieceOf(meshOf(points, triangles));
}

function answer(known: KnownHead, ease?: number, set = limits): Sureness {
  const head = new WornHead(buildHeadForm(known.measurements), room, undefined, known);
  const piece = bandFor(known, ease);
  const inner = innerSurface(piece, head);
  return sureness(piece, head, set, inner, fitOf(piece, head)) as Sureness;
}

const fitOf = (piece: WornPiece, head: WornHead): KnownFit => ({
  gap: gap(piece, head, limits),
  wayOn: wayOn(piece, head, limits),
  stayOn: stayOn(piece, head, limits),
});

describe("how sure the fit is", { timeout: 60_000 }, () => {
  let girthOnly: Sureness;
  beforeAll(() => {
    girthOnly = answer(knownOf({ girth: 566 }));
  }, 60_000);

  it("shares out the heads, and is the same for the same", () => {
    const { chance, tooTight, tooLoose, draws } = girthOnly;
    expect(chance + tooTight + tooLoose).toBeCloseTo(1);
    expect(draws).toBeGreaterThanOrEqual(400);
    expect(chance).toBeGreaterThan(0.3);
    expect(chance).toBeLessThan(0.97);
    expect(answer(knownOf({ girth: 566 }))).toEqual(girthOnly);
  });

  it("grows with each measure that is taken, to certainty, and names one that helps", () => {
    const { measurements } = knownOf({ girth: 566 });
    const { girth, length, breadth, crownHeight } = measurements;
    const more = answer(knownOf({ girth, length }));
    const most = answer(knownOf({ girth, length, breadth, crownHeight }));
    expect(more.chance).toBeGreaterThan(girthOnly.chance);
    expect(most).toMatchObject({ chance: 1, draws: 0, unsure: [], findings: [] });
    expect(["length", "breadth"]).toContain(girthOnly.helps?.field);
    expect(girthOnly.helps?.chance).toBeGreaterThan(girthOnly.chance + 0.02);
    // What it foretold is the mean over what the measure may be: by Gauss and Hermite at three values of it.
    const { chance: foretold } = girthOnly.helps!;
    const field = girthOnly.helps!.field as "length" | "breadth";
    const off = Math.sqrt(3) * spreadOf(surveyModel().draw(knownOf({ girth: 566 }), 400, seed))[field];
    const chances = [-off, 0, off].map((by) => {
      const value = measurements[field]! + by;
      return answer(knownOf({ girth, [field]: value })).chance;
    });
    const mean = (chances[0] + 4 * chances[1] + chances[2]) / 6;
    expect(Math.abs(foretold - mean), `${foretold} foretold, ${chances}`).toBeLessThan(0.12);
    expect(girthOnly.unsure).toEqual(["length", "breadth", "crownHeight"]);
    expect(more.unsure).toEqual(["breadth", "crownHeight"]);
  });

  it("falls with the tolerance of the girth, which is then what helps or warns", () => {
    const { girth, length, breadth, crownHeight } = knownOf({ girth: 566 }).measurements;
    const exact = { girth, length, breadth, crownHeight };
    const some = answer(knownOf(exact, 3));
    const much = answer(knownOf(exact, 9));
    expect(some.unsure).toEqual(["girth"]);
    expect(some.chance).toBeGreaterThan(much.chance);
    expect(much.helps?.field).toBe("girth");
    const strict = limitsOf({ design: { surenessLeast: 99 } });
    const told = answer(knownOf(exact, 9), room.ease, strict);
    expect(told.findings.map(({ id, severity }) => [id, severity])).toEqual([["unsure-fit", "warning"]]);
    expect(told.findings[0].value).toBe(Math.round(100 * much.chance));
  });

  it("only notes a low chance where the girth is exact, and says nothing above the limit", () => {
    const [note] = girthOnly.findings;
    expect(note).toMatchObject({ id: "unsure-fit", severity: "note", unit: "%" });
    const low = limitsOf({ design: { surenessLeast: 5 } });
    expect(answer(knownOf({ girth: 566 }), room.ease, low).findings).toEqual([]);
  });

  it("says by which way it fails: a close band is too tight, a wide one too loose", () => {
    const close = answer(knownOf({ girth: 566 }, 5), 0.4);
    const wide = answer(knownOf({ girth: 566 }, 5), 3);
    expect(close.tooTight).toBeGreaterThan(close.tooLoose);
    expect(wide.tooLoose).toBeGreaterThan(wide.tooTight);
  });

  it("holds for a child, whose head is a scaled-down adult's", () => {
    const child = answer(knownOf({ girth: 490 }));
    expect(child.chance).toBeGreaterThan(0.3);
    expect(child.unsure).toContain("length");
  });
});

describe(`the light judge against the full checks, seed ${seed}`, () => {
  it("does not call sure what tips off by its weight, as the full checks see it", {
    timeout: 120_000,
  }, () => {
    const known = knownOf({ girth: 566 }, 2);
    const head = new WornHead(buildHeadForm(known.measurements), room, undefined, known);
    const band = bandFor(known, 1.6, [15, 17, 19, 21]);
    const { mesh, parts, material, print, mass, centre } = band;
    const chanceOf = (forward: number) => {
      const [x, y, z] = centre;
      const piece = new WornPiece({ mesh, parts, material, print, mass, centre: [x, y + forward, z] });
      const fit = fitOf(piece, head);
      const { chance } = sureness(piece, head, limits, innerSurface(piece, head), fit) as Sureness;
      return { chance, rests: fit.stayOn.rests };
    };
    const even = chanceOf(0);
    const heavy = chanceOf(70);
    expect([even.rests, heavy.rests]).toEqual([true, false]);
    expect(even.chance).toBeGreaterThan(0.8);
    expect(heavy.chance).toBeLessThan(0.1);
  });

  it("finds girth play and depth as they do, and mostly the same answer", { timeout: 120_000 }, () => {
    const known = knownOf({ girth: 572 }, 4);
    const piece = bandFor(known);
    const hers = new WornHead(buildHeadForm(known.measurements), room, undefined, known);
    const inner = innerSurface(piece, hers);
    const { gap: ownGap, wayOn: ownWay } = fitOf(piece, hers);
    const way = ownWay.ways[ownWay.best];
    const fitted = fittedPiece(piece, hers, inner, way.off);
    if (!fitted) throw new Error("nothing of the band faces the head");
    const spread = { girth: 4, length: 5.5, breadth: 4.5, crownHeight: 6, earLength: 4.5, earProtrusion: 3 };
    const family = new HeadFamily(known.measurements, spread, ...fitted.elevations);
    const judge = new HeadJudge(fitted, family, room, limits);
    judge.correct(
      family.head((field) => known.measurements[field] ?? 0),
      {
        play: ownGap.play?.girth,
        tooSmallPressed: way.tooSmallPressed,
        tooSmallBare: way.tooSmallBare,
      },
    );
    const heads = surveyModel().draw(known, 16, seed);
    let same = 0;
    let [playOff, depthOff] = [0, 0];
    for (let i = 0; i < heads.count; i++) {
      const measurements = drawnMeasurements(heads, i, known.measurements);
      const crown = measurements.crownHeight - known.measurements.crownHeight;
      const at = family.head((field) => heads.values[i * DRAWN_FIELDS.length + DRAWN_FIELDS.indexOf(field)]);
      const light = judge.figures(at, crown);
      const isLightFit = judge.fit(at, crown) === "fits";
      const full = fullFit(piece, new WornHead(buildHeadForm(measurements), room), crown, limits);
      playOff += Math.abs((light.play ?? 0) - (full.play ?? 0)) / heads.count;
      depthOff += Math.abs(light.depth - full.depth) / heads.count;
      if (isLightFit === full.fits) same++;
    }
    // A mm of girth is 0.16 mm of gap.
    expect(playOff).toBeLessThan(1.5);
    expect(depthOff).toBeLessThan(0.4);
    expect(same).toBeGreaterThanOrEqual(12);
  });
});
