import { describe, expect, it } from "vitest";
import { checkNames } from "../../src/checks/finding";
import { noGap } from "../../src/checks/fit/innerGaps";
import { verdictOf } from "../../src/checks/verdict";
import { wear, wearAnswers } from "../../src/checks/wear";
import { WornHead } from "../../src/checks/wornHead";
import type { Vec3 } from "../../src/geometry/vector";
import { limitsOf } from "../../src/wearLimits";
import { box, insideOut, meshOf, moved, together, torus } from "./shapes";
import { formOf, headOf, pieceOf } from "./wornBodies";

const limits = limitsOf();
const form = formOf();
const head = headOf(undefined, { ease: 1.3, hair: 3, hairPressed: 2 }, form);

/** A shell of some mm all over the upper head, so that every question has something to look at. */
const cap = (() => {
  const shell = (offset: number) => form.grown({ offset, hairThickness: 3 }).mesh();
  return pieceOf(together(shell(5), insideOut(shell(1.3))));
})();

describe("the verdict", () => {
  const finding = (severity: "error" | "warning" | "note", text: string) => ({ severity, text });

  it("is the gravest finding's, with reasons in that order; notes speak against nothing", () => {
    expect(verdictOf([])).toEqual({ word: "wear", reasons: [] });
    expect(verdictOf([finding("note", "softens")])).toEqual({ word: "wear", reasons: [] });
    expect(verdictOf([finding("warning", "loose"), finding("note", "softens")])).toEqual({
      word: "adjust",
      reasons: ["loose"],
    });
    expect(verdictOf([finding("warning", "loose"), finding("error", "no way on")])).toEqual({
      word: "dont",
      reasons: ["no way on", "loose"],
    });
  });
});

describe("fit and wear", () => {
  it("answers every question once, in plain finite data, and tells each as it comes", () => {
    const told: string[] = [];
    const found = wear(cap, head, limits, ({ check }) => told.push(check));
    expect([...told].sort()).toEqual([...checkNames].sort());
    expect(Object.keys(found.answers).sort()).toEqual([...checkNames].sort());
    expect(found.findings.filter(({ id }) => id === "no-answer")).toEqual([]);
    expect(structuredClone(found.answers)).toEqual(found.answers);
    JSON.stringify(found, (key, value) => {
      if (typeof value === "number") expect(Number.isFinite(value), key).toBe(true);
      return value;
    });
    for (const finding of found.findings) {
      expect(finding.text).not.toMatch(/NaN|undefined|Infinity/);
      expect(finding.suggestion ?? "").not.toMatch(/NaN|undefined|Infinity/);
    }
    // A shell over the whole face: nobody wears that.
    expect(found.verdict.word).toBe("dont");
  });

  it("gives with the gap its field: a number at each vertex of the inside, none outside", () => {
    const [gap] = [...wearAnswers(cap, head, limits)].filter(({ check }) => check === "gap");
    const { positions } = cap.mesh;
    expect(gap.innerGaps).toHaveLength(positions.length / 3);
    const outer = gap.innerGaps!.slice(0, positions.length / 6);
    const inner = gap.innerGaps!.slice(positions.length / 6);
    expect(outer.filter((value) => value !== noGap).length / outer.length).toBeLessThan(0.1);
    const known = inner.filter((value) => value !== noGap);
    expect(known.length / inner.length).toBeGreaterThan(0.6);
    // Both shells are cut off flat at the neck: there they touch.
    expect(known.filter((value) => value < 100).length / known.length).toBeLessThan(0.05);
    expect(Math.max(...known)).toBeLessThan(480);
  });

  it("one question that goes wrong leaves the others, and says so", () => {
    const broken = new Proxy(cap, {
      get(target, key) {
        if (key === "material") throw new Error("the label is gone");
        const value = Reflect.get(target, key, target);
        return typeof value === "function" ? value.bind(target) : value;
      },
    });
    const found = wear(broken, head, limits);
    const lost = found.findings.filter(({ id }) => id === "no-answer");
    expect(lost.length).toBeGreaterThan(0);
    expect(lost[0].text).toContain("the label is gone");
    expect(found.answers.gap).toBeDefined();
    expect(found.answers.weight).toBeDefined();
  });

  // Pieces and heads as they come: no crash, numbers, a verdict.
  const speck = box([0, 0, 0], [0.4, 0.4, 0.4]);
  const oddPieces: readonly (readonly [string, ReturnType<typeof pieceOf>])[] = [
    ["a speck far away", pieceOf(moved(speck, [900, -400, 2000]))],
    ["a ring below the neck", pieceOf(moved(torus(120, 6, 60, 12), [0, 0, -250]))],
    ["a block that swallows the head", pieceOf(box([-300, -300, -300], [300, 300, 300]))],
    [
      "two loose rings",
      pieceOf([moved(torus(90, 4, 60, 12), [0, 0, 40]), moved(torus(70, 3, 60, 12), [0, 0, 110])]),
    ],
    ["a body that no part made", pieceOf(moved(torus(90, 4, 60, 12), [0, 0, 40]), { parts: [] })],
    ["a needle", pieceOf(box([-0.3, -0.3, 100], [0.3, 0.3, 260]))],
  ];
  const { positions, triangles } = form.mesh();
  const torn = { positions, triangles: triangles.filter((_, i) => Math.floor(i / 3) % 7 !== 3) };
  const spiked = positions.map((value, i) => (i % 997 === 0 ? value * 1.6 : value));
  const speckHead = meshOf(
    [
      [0, 0, 0],
      [1, 0, 0],
      [0, 1, 0],
    ] as Vec3[],
    [[0, 1, 2]],
  );
  const oddHeads = [
    ["the form", head],
    ["a torn and open scan", new WornHead(form, head.room, torn)],
    ["a scan inside out", new WornHead(form, head.room, insideOut({ positions, triangles }))],
    ["a scan with spikes", new WornHead(form, head.room, { positions: spiked, triangles })],
    ["a single triangle", new WornHead(form, head.room, speckHead)],
    ["a bald head without ease", new WornHead(form, { ease: 0, hair: 0, hairPressed: 0 })],
  ] as const;
  it.each(oddHeads.flatMap(([on, odd]) => oddPieces.map(([what, piece]) => [what, on, piece, odd] as const)))(
    "%s on %s has a verdict and numbers",
    (_what, _on, piece, odd) => {
      const found = wear(piece, odd, limits);
      expect(found.findings.filter(({ id }) => id === "no-answer").map(({ text }) => text)).toEqual([]);
      for (const { text, suggestion } of found.findings) {
        expect(suggestion, text).toBeTruthy();
        expect(`${text} ${suggestion}`).not.toMatch(/NaN|undefined|Infinity/);
      }
      JSON.stringify(found, (key, value) => {
        if (typeof value === "number") expect(Number.isFinite(value), key).toBe(true);
        return value;
      });
      expect(["wear", "adjust", "dont"]).toContain(found.verdict.word);
    },
  );
});
