import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compareCosts } from "../../../src/print/whatIf/changeCost";
import { meetWish } from "../../../src/print/whatIf/meetWish";
import { parseWish } from "../../../src/print/whatIf/parseWish";
import { geometryKey, type Variant, withSettings } from "../../../src/print/whatIf/variant";
import { figureOf, type Wish, wishFigures } from "../../../src/print/whatIf/wish";
import { aBox, type BoxPrint, boxArm, boxBase, boxCandidates, boxEvaluator, printBox } from "./boxPrint";
import { allVariants, nozzle, tryEverything } from "./tryEverything";

const seed = 20_261_127;

const wishOf = (text: string): Wish => {
  const { wish, problems } = parseWish(text);
  if (!wish) throw new Error(problems!.map((problem) => problem.text).join("; "));
  return wish;
};

const figuresOfBox = (box: BoxPrint) => (variant: Variant) => ({
  ...printBox(box, variant),
  weakest: boxArm(box, variant),
});

const boxes: fc.Arbitrary<BoxPrint> = fc.record({
  sides: fc.tuple(
    fc.integer({ min: 20, max: 80 }),
    fc.integer({ min: 30, max: 120 }),
    fc.integer({ min: 40, max: 160 }),
  ),
  supports: fc.array(fc.integer({ min: 0, max: 400_000 }), { minLength: 3, maxLength: 3 }),
  factors: fc.array(
    fc.integer({ min: 10, max: 60 }).map((tenths) => tenths / 10),
    { minLength: 3, maxLength: 3 },
  ),
  speeds: fc.tuple(fc.integer({ min: 20, max: 60 }), fc.integer({ min: 40, max: 120 })),
  layerChange: fc.integer({ min: 0, max: 4 }),
  spool: fc.integer({ min: 100, max: 1000 }),
  pricePerKilogram: fc.integer({ min: 10, max: 60 }),
  pricePerHour: fc.integer({ min: 0, max: 2 }),
});

const bases = fc.record({
  layerHeight: fc.constantFrom(0.12, 0.17, 0.2, 0.28),
  shells: fc.integer({ min: 1, max: 5 }),
  infill: fc.constantFrom(0, 10, 15, 33, 50),
  supportShare: fc.constantFrom(0, 10, 20, 50),
});

/** Shares of what the base takes: some within reach, some not. */
const bounds = fc
  .uniqueArray(fc.constantFrom(...wishFigures), { minLength: 1, maxLength: 4 })
  .chain((figures) =>
    fc.tuple(
      ...figures.map((figure) =>
        fc.record({
          figure: fc.constant(figure),
          share: fc.integer({ min: 30, max: 130 }).map((percent) => percent / 100),
          isStrict: fc.boolean(),
        }),
      ),
    ),
  );

describe("the cheapest change that meets a wish", () => {
  it(`is what trying everything finds, over 200 wishes (seed ${seed})`, async () => {
    let met = 0;
    let made = 0;
    await fc.assert(
      fc.asyncProperty(
        boxes,
        bases,
        fc.integer({ min: 0, max: 2 }),
        bounds,
        async (box, settings, orientation, asked) => {
          const base = { ...withSettings(boxBase, settings), orientation };
          const before = { ...printBox(box, base), weakest: boxArm(box, base) };
          const conditions = asked.map(({ figure, share, isStrict }) => {
            const value = figureOf(before, figure)!;
            const limit = figure === "factor" ? value / share : value * share;
            return {
              figure,
              limit: figure === "spools" ? Math.max(1, Math.round(limit)) : limit,
              isStrict: isStrict && figure !== "spools",
              text: `${figure} ${limit}`,
            };
          });
          const wish = { conditions };
          const evaluator = boxEvaluator(box);
          const answer = await meetWish(wish, base, boxCandidates, evaluator, {
            nozzle,
            mostGeometries: 1000,
          });
          const best = tryEverything(wish, base, [0, 1, 2], figuresOfBox(box));
          if (answer.outcome === "unknown") throw new Error("everything is known of the box");
          expect(answer.isSure).toBe(true);
          expect(answer.outcome).toBe(best.excess === 0 ? "met" : "impossible");
          const excess = answer.outcome === "met" ? 0 : Math.max(...answer.missed.map((one) => one.excess));
          expect(excess).toBe(best.excess);
          if (best.excess === 0) expect(compareCosts(answer.choice.cost, best.cost)).toBe(0);
          expect(answer.geometries).toBe(new Set(evaluator.calls.map(geometryKey)).size);
          met += best.excess === 0 ? 1 : 0;
          made += 1;
        },
      ),
      { seed, numRuns: 200 },
    );
    // Both ways are tried often enough to mean something.
    expect(made).toBe(200);
    expect(met).toBeGreaterThan(40);
    expect(met).toBeLessThan(160);
  });

  it(`is found although time bends a little over layers and shells (seed ${seed})`, async () => {
    await fc.assert(
      fc.asyncProperty(fc.integer(), fc.integer({ min: 50, max: 100 }), async (phase, percent) => {
        // Up to 0.8 % either way, by layer height and shells: less than what the search leaves room for.
        const bent = (variant: Variant) => {
          const { layerHeight, shells } = variant.settings;
          const bend = 1 + 0.008 * Math.sin(phase + 131 * layerHeight + 17 * shells + variant.orientation);
          const { hours, grams, metres, spools } = printBox(aBox, variant);
          return { hours: hours * bend, grams: grams * bend, metres: metres * bend, spools };
        };
        const before = bent(boxBase);
        const limit = (before.hours * percent) / 100;
        const wish: Wish = { conditions: [{ figure: "hours", limit, isStrict: false, text: "hours" }] };
        const answer = await meetWish(
          wish,
          boxBase,
          boxCandidates,
          { estimate: bent },
          { nozzle, mostGeometries: 1000 },
        );
        if (answer.outcome === "unknown") throw new Error("hours are known");
        const judged = tryEverything(wish, boxBase, [0, 1, 2], bent);
        expect(answer.outcome).toBe(judged.excess === 0 ? "met" : "impossible");
        if (answer.outcome === "impossible") expect(answer.missed[0].excess).toBe(judged.excess);
        else expect(compareCosts(answer.choice.cost, judged.cost)).toBe(0);
      }),
      { seed, numRuns: 40 },
    );
  });

  it("lays paths for few ways of printing", async () => {
    const base = printBox(aBox, boxBase);
    const all = new Set(allVariants(boxBase, [0, 1, 2]).map(geometryKey)).size;
    expect(all).toBe(45);
    const evaluator = boxEvaluator();
    for (const share of [1.1, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.2]) {
      const wish = wishOf(`under ${share * base.hours} h, under ${share * base.grams} g`);
      const answer = await meetWish(wish, boxBase, boxCandidates, evaluator, { nozzle });
      if (answer.outcome === "unknown") throw new Error("hours and grams are known");
      expect(answer.isSure).toBe(true);
      expect(answer.geometries).toBeLessThanOrEqual(answer.outcome === "met" ? 35 : 15);
    }
  });

  it("says so where its bound did not let it look at everything", async () => {
    const { hours } = printBox(aBox, boxBase);
    const evaluator = boxEvaluator();
    const wish = wishOf(`under ${0.8 * hours} h`);
    const answer = await meetWish(wish, boxBase, boxCandidates, evaluator, { nozzle, mostGeometries: 1 });
    expect(new Set(evaluator.calls.map(geometryKey)).size).toBe(1);
    if (answer.outcome === "unknown") throw new Error("hours are known");
    expect(answer.isSure).toBe(false);
    expect(answer.words).toMatch(/not all were|not every way of printing was looked at/);
  });
});

describe("the answer to a wish", () => {
  it("is nothing changed where the base does", async () => {
    const evaluator = boxEvaluator();
    const answer = await meetWish(wishOf("under 1000 h, 2 kg"), boxBase, boxCandidates, evaluator, {
      nozzle,
    });
    expect(answer).toMatchObject({
      outcome: "met",
      choice: { variant: boxBase, changed: [], change: "nothing changed", line: "" },
    });
    expect(evaluator.calls.length).toBe(1);
    const { hours, grams } = printBox(aBox, boxBase);
    expect(answer).toHaveProperty(
      "words",
      `Met as set up: ${Number(hours.toFixed(1))} h, ${Math.round(grams)} g.`,
    );
  });

  it("tells the change, its line, what it takes and what it costs in strength", async () => {
    const before = printBox(aBox, boxBase);
    // Fewer grams than supports alone can save: infill or shells must go.
    const light = printBox(aBox, withSettings(boxBase, { infill: 5, supportShare: 5 }));
    const wish = wishOf(`under ${light.grams + 0.5} g`);
    const answer = await meetWish(wish, boxBase, boxCandidates.slice(0, 1), boxEvaluator(), { nozzle });
    if (answer.outcome !== "met") throw new Error("infill and supports at 5 % meet it");
    const { variant, figures, change, line, cost } = answer.choice;
    expect(answer.before.hours).toBe(before.hours);
    expect(figures.grams).toBeLessThan(light.grams + 0.5);
    const factors = [boxArm(aBox, boxBase).factor, boxArm(aBox, variant).factor];
    expect(cost.strengthLoss).toBeCloseTo(1 - factors[1] / factors[0], 2);
    expect(answer.words).toContain(
      `Met by ${change}: ${Math.round(figures.grams)} g, instead of ${Math.round(before.grams)} g.`,
    );
    const [then, now] = factors.map((factor) => Math.floor(factor * 100) / 100);
    const percent = Math.round(100 * (1 - factors[1] / factors[0]));
    expect(percent).toBeGreaterThan(0);
    expect(answer.words).toContain(
      `The weakest arm, "the arm", has a factor of ${now} instead of ${then} (${percent} % less)`,
    );
    expect(line).toMatch(/^print: \{ .*infill: 5/);
  });

  it("rather changes what costs no strength", async () => {
    const { hours } = printBox(aBox, withSettings(boxBase, { layerHeight: 0.24 }));
    const wish = wishOf(`at most ${hours} h`);
    const answer = await meetWish(wish, boxBase, boxCandidates.slice(0, 1), boxEvaluator(), { nozzle });
    expect(answer).toMatchObject({ outcome: "met", choice: { cost: { strengthLoss: 0, changes: 1 } } });
  });

  it("strengthens where strength is wished for", async () => {
    const { factor } = boxArm(aBox, withSettings(boxBase, { shells: 4, infill: 25 }));
    const answer = await meetWish(
      wishOf(`factor at least ${factor}`),
      boxBase,
      boxCandidates.slice(0, 1),
      boxEvaluator(),
      {
        nozzle,
      },
    );
    if (answer.outcome !== "met") throw new Error("4 shells and 25 % meet it");
    expect(answer.choice.figures.weakest!.factor).toBeGreaterThanOrEqual(factor);
    expect(answer.words).toMatch(/% more\)/);
  });

  it("names the nearest, what it misses by how much, and what else could help", async () => {
    const wish = wishOf("under 1 h, factor at least 1");
    const answer = await meetWish(wish, boxBase, boxCandidates, boxEvaluator(), { nozzle });
    if (answer.outcome !== "impossible") throw new Error("no box of that size is printed in an hour");
    const [missed, ...others] = answer.missed;
    expect(others).toEqual([]);
    const { hours } = printBox(aBox, answer.choice.variant);
    expect(missed).toMatchObject({ condition: { text: "under 1 h" }, value: hours, excess: hours - 1 });
    expect(answer.words).toMatch(/^Not to be met within sensible print settings\. Nearest, /);
    expect(answer.words).toContain(`${Number(hours.toFixed(1))} h, ${Number((hours - 1).toFixed(1))} h`);
    expect(answer.words).toContain('over "under 1 h"');
    expect(answer.remedies.join("; ")).toMatch(/smaller piece.*larger nozzle/);
  });

  it("tells a factor that is out of reach, with the arm", async () => {
    const answer = await meetWish(wishOf("factor at least 50"), boxBase, boxCandidates, boxEvaluator(), {
      nozzle,
    });
    if (answer.outcome !== "impossible") throw new Error("a solid arm has a factor of 6");
    expect(answer.words).toMatch(/a factor of [\d.]+, \d\d % short of "factor at least 50"/);
    expect(answer.remedies.join("; ")).toMatch(/thicker root of "the arm"/);
  });

  it("takes only ways up that fit, unless none does", async () => {
    const alike = { ...aBox, factors: [5, 5, 5] };
    const upright = boxCandidates.map((candidate, i) => ({ ...candidate, fits: i === 1 }));
    const answer = await meetWish(wishOf("under 1000 h"), boxBase, upright, boxEvaluator(alike), { nozzle });
    expect(answer).toMatchObject({ outcome: "met", choice: { changed: ["orientation"], fits: true } });
    const none = boxCandidates.map((candidate) => ({ ...candidate, fits: false }));
    const tooLarge = await meetWish(wishOf("under 1 h"), boxBase, none, boxEvaluator(), { nozzle });
    if (tooLarge.outcome !== "impossible") throw new Error("not in an hour");
    expect(tooLarge.choice.fits).toBe(false);
    expect(tooLarge.remedies.at(-1)).toMatch(/pieces that fit the plate/);
  });

  it("does not answer what is not known", async () => {
    const { estimate } = boxEvaluator();
    const unpriced = {
      estimate(variant: Variant) {
        const { hours, grams, metres, spools } = estimate(variant) as ReturnType<typeof printBox>;
        return { hours, grams, metres, spools };
      },
    };
    const answer = await meetWish(
      wishOf("price under 20, factor 2, 60 h"),
      boxBase,
      boxCandidates,
      unpriced,
      { nozzle },
    );
    if (answer.outcome !== "unknown") throw new Error("neither price nor strength is known");
    expect(answer.problems.map(({ text }) => text)).toEqual([
      '"price under 20": no prices are known',
      '"factor 2": the strength of the piece is not known',
    ]);
    for (const { suggestion } of answer.problems) expect(suggestion.length).toBeGreaterThan(10);
  });

  it("takes a piece without free arms to be as strong as is wished", async () => {
    const armless = { ...boxEvaluator(), weakest: () => undefined };
    const answer = await meetWish(wishOf("factor at least 5"), boxBase, boxCandidates, armless, { nozzle });
    expect(answer).toMatchObject({ outcome: "met", choice: { changed: [] } });
    expect(answer).toHaveProperty("words", "Met as set up: no free arm to break.");
  });

  it("ends when nobody wants it any more, and refuses an empty wish", async () => {
    const ended = new AbortController();
    const evaluator = boxEvaluator();
    const answer = meetWish(
      wishOf("under 1 h"),
      boxBase,
      boxCandidates,
      {
        ...evaluator,
        estimate(variant) {
          if (evaluator.calls.length === 3) ended.abort(new Error("a newer design"));
          return evaluator.estimate(variant);
        },
      },
      { nozzle, signal: ended.signal },
    );
    await expect(answer).rejects.toThrow("a newer design");
    expect(evaluator.calls.length).toBe(4);
    await expect(meetWish({ conditions: [] }, boxBase, boxCandidates, evaluator, { nozzle })).rejects.toThrow(
      RangeError,
    );
  });
});
