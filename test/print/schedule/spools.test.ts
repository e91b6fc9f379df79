import { describe, expect, test } from "vitest";
import { planSpools, type SpoolPrint } from "../../../src/print/schedule/spools";
import { seeded } from "./rig";

/** Prints one after the other. */
const inTurn = (...grams: number[]): SpoolPrint[] =>
  grams.map((each, i) => ({ grams: each, start: 10 * i, end: 10 * i + 9 }));

describe("by hand", () => {
  test("six prints on two spools, none is changed", () => {
    // 700 + 300 and 500 + 400 + 100 fill two spools of 1000 g to the last gram.
    const plan = planSpools(inTurn(300, 700, 400, 500, 100), [], 1000);
    expect(plan).toMatchObject({ need: 2000, stock: 0, buy: 2, changes: 0 });
    expect(plan.uses.map(([{ spool }]) => spool)).toEqual([0, 0, 1, 1, 1]);
    expect(plan.buyForNoChange).toBeUndefined();
  });

  test("what is in stock goes first", () => {
    const plan = planSpools(inTurn(400, 250), [300, 500], 1000);
    expect(plan).toMatchObject({ need: 650, stock: 800, buy: 0, changes: 0 });
    expect(plan.uses).toEqual([[{ spool: 1, grams: 400 }], [{ spool: 0, grams: 250 }]]);
  });

  test("where the least number asks for a change, it says how many would not", () => {
    // 1200 g are two spools; three prints of 400 g: two on one spool, one on the other.
    expect(planSpools(inTurn(400, 400, 400), [], 1000)).toMatchObject({ buy: 2, changes: 0 });
    // Three of 600 g are 1800 g: two spools, the third print over both remainders.
    const plan = planSpools(inTurn(600, 600, 600), [], 1000);
    expect(plan).toMatchObject({ buy: 2, changes: 1, buyForNoChange: 3 });
    expect(plan.uses[2]).toEqual([
      { spool: 0, grams: 400 },
      { spool: 1, grams: 200 },
    ]);
  });

  test("a print of more than a spool is changed whatever is bought", () => {
    const plan = planSpools(inTurn(1500), [], 1000);
    expect(plan).toMatchObject({ buy: 2, changes: 1 });
    expect(plan.buyForNoChange).toBeUndefined();
  });

  test("two printers at once take two spools", () => {
    const together = [300, 300].map((grams) => ({ grams, start: 0, end: 9 }));
    expect(planSpools(together, [], 1000)).toMatchObject({ buy: 2, changes: 0 });
    expect(planSpools(inTurn(300, 300), [], 1000)).toMatchObject({ buy: 1, changes: 0 });
  });

  test("nothing to print", () => {
    expect(planSpools([], [200], 1000)).toMatchObject({ need: 0, buy: 0, changes: 0, uses: [] });
  });

  test("a spool that holds nothing is refused", () => {
    expect(() => planSpools([], [], 0)).toThrow(RangeError);
  });
});

test("every gram comes from a spool, and no spool gives more than it has", () => {
  const seed = 4;
  const draw = seeded(seed);
  for (let i = 0; i < 60; i++) {
    const prints = Array.from({ length: draw(1, 12) }, () => {
      const start = draw(0, 60);
      return { grams: draw(20, 900), start, end: start + draw(2, 30) };
    });
    const stock = Array.from({ length: draw(0, 3) }, () => draw(50, 1000));
    const plan = planSpools(prints, stock, 1000);
    const spools = [...stock, ...Array.from({ length: plan.buy }, () => 1000)];
    const taken = spools.map(() => 0);
    plan.uses.forEach((uses, print) => {
      for (const { spool, grams } of uses) {
        taken[spool] += grams;
        for (const [other, theirs] of plan.uses.entries()) {
          if (other === print || !theirs.some((use) => use.spool === spool)) continue;
          const [a, b] = [prints[print], prints[other]];
          expect(a.end <= b.start || b.end <= a.start, `seed ${seed}, ${i}: one spool at a time`).toBe(true);
        }
      }
      const sum = uses.reduce((total, { grams }) => total + grams, 0);
      expect(sum).toBeCloseTo(prints[print].grams, 6);
    });
    taken.forEach((grams, spool) => {
      expect(grams, `seed ${seed}, ${i}`).toBeLessThanOrEqual(spools[spool] + 1e-6);
    });
    expect(plan.changes).toBe(plan.uses.reduce((sum, uses) => sum + uses.length - 1, 0));
  }
});
