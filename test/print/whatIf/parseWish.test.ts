import { describe, expect, it } from "vitest";
import { parseWish } from "../../../src/print/whatIf/parseWish";

/** Figure, limit, and whether the limit itself does not do, of each condition. */
function read(text: string, currency?: string) {
  const { wish, problems } = parseWish(text, currency);
  expect(problems).toBeUndefined();
  return wish!.conditions.map(({ figure, limit, isStrict }) => [figure, limit, isStrict]);
}

function refused(text: string, currency?: string) {
  const { wish, problems } = parseWish(text, currency);
  expect(wish).toBeUndefined();
  return problems!;
}

describe("a wish as it is written", () => {
  it("is read condition by condition", () => {
    expect(read("under 60 h, under 600 g, one spool, under 20 €, factor at least 2")).toEqual([
      ["hours", 60, true],
      ["grams", 600, true],
      ["spools", 1, false],
      ["price", 20, true],
      ["factor", 2, false],
    ]);
  });

  it("is joined by commas, semicolons, line ends and words", () => {
    const whole = [
      ["grams", 700, true],
      ["hours", 60, false],
    ];
    expect(read("under 700 g and 60 h on this printer")).toEqual(whole);
    expect(read("under 700 g; 60 h")).toEqual(whole);
    expect(read("under 700 g\n60 h\n")).toEqual(whole);
    expect(read("Under 700 G,60 H,")).toEqual(whole);
  });

  it.each([
    ["90 min", "hours", 1.5],
    ["2 d", "hours", 48],
    ["2 d 6 h", "hours", 54],
    ["at most 1 h 30 min", "hours", 1.5],
    ["two days", "hours", 48],
    ["a day", "hours", 24],
    ["1.2 kg", "grams", 1200],
    ["no more than a kilo", "grams", 1000],
    [".5kg", "grams", 500],
    ["200 m", "metres", 200],
    ["filament up to 200 m", "metres", 200],
    ["filament at most 600 g", "grams", 600],
    ["2 spools", "spools", 2],
    ["at most three spools of filament", "spools", 3],
    ["≤ 60h", "hours", 60],
    ["time at most 60", "hours", 60],
    ["hours max 60", "hours", 60],
    ["max 60 hours", "hours", 60],
    ["it should take no more than 60 hours", "hours", 60],
    ["price at most 20", "price", 20],
    ["€20", "price", 20],
    ["at most 20 euros", "price", 20],
    ["strength at least 2", "factor", 2],
    ["factor 2.5", "factor", 2.5],
    ["factor ≥ 2", "factor", 2],
    ["min factor 2", "factor", 2],
    ["strength not less than 2", "factor", 2],
    ["at least 2 times the strength", "factor", 2],
  ])("%s", (text, figure, limit) => {
    const [[found, value, isStrict], ...others] = read(text);
    expect(others).toEqual([]);
    expect(found).toBe(figure);
    expect(value).toBeCloseTo(limit, 12);
    expect(isStrict).toBe(false);
  });

  it("leaves the limit out where it is under it, save for one spool", () => {
    expect(read("less than 60 h, fewer than 3 spools, < 600 g, under one spool, strength over 2")).toEqual([
      ["hours", 60, true],
      ["spools", 3, true],
      ["grams", 600, true],
      ["spools", 1, false],
      ["factor", 2, true],
    ]);
  });

  it("knows the workshop's own currency", () => {
    expect(read("under 300 crowns", "crowns")).toEqual([["price", 300, true]]);
    expect(read("under 20 eur", "€")).toEqual([["price", 20, true]]);
  });

  it.each([
    ["", /empty/, /under 60 h/],
    [" , ;", /empty/, /under 60 h/],
    ["undr 60 h", /"undr" is not understood/, /under/],
    ["under 60 houes", /"houes" is not understood/, /hours/],
    ["one spol", /"spol" is not understood/, /spool/],
    ["under 60", /60 has no unit/, /h, min or d; g or kg/],
    ["under a lot", /"lot" is not understood/, /.+/],
    ["under h", /no number/, /under 60 h/],
    ["1,5 kg", /"1,5" is no plain number/, /point/],
    ["1.200.000 g", /"1.200.000" is no plain number/, /point/],
    ["under 0 h", /0 is not more than zero/, /under 60 h/],
    ["-5 h", /"-" is not understood/, /.+/],
    ["at least 60 h", /the hours can only be bounded from above/, /under 60 h/],
    ["over 600 g", /the mass can only be bounded from above/, /under 600 g/],
    ["factor under 2", /factor of the weakest arm can only be bounded from below/, /at least 2/],
    ["no less than 60 h", /bounded from above/, /under 60 h/],
    ["1.5 spools", /1.5 spools: they are counted whole/, /"1 spool"/],
    ["under 60 h 600 g", /more than one thing/, /comma/],
    ["under 60 600 g", /60 has no unit/, /h, min or d/],
    ["strength under 60 h", /"strength" is not measured in h/, /factor at least 2/],
    ["filament under 60 h", /"filament" is not measured in h/, /200 m/],
    ["at most 2 plates", /"plates" is not understood/, /.+/],
  ])("refuses %j and says what would be right", (text, what, right) => {
    const [problem, ...others] = refused(text);
    expect(others).toEqual([]);
    expect(problem.text).toMatch(what);
    if (text.trim().length > 3) expect(problem.text.startsWith(`"${text}": `)).toBe(true);
    expect(problem.suggestion).toMatch(right);
  });

  it("refuses another currency than prices are known in", () => {
    const [problem] = refused("under 20 $", "€");
    expect(problem.text).toMatch(/prices are known in €, not in \$/);
    expect(problem.suggestion).toBe("give the price in €");
  });

  it("tells every condition that is wrong", () => {
    const problems = refused("undr 60 h, under 600 g, under 5");
    expect(problems.map(({ text }) => text.split(":")[0])).toEqual(['"undr 60 h"', '"under 5"']);
  });
});
