import { describe, expect, test } from "vitest";
import type { Finding } from "../../src/checks/finding";
import type { ReportPlan } from "../../src/export/planReport";
import type { Report } from "../../src/export/report";
import { changesSentence, reportChanges } from "../../src/export/reportChanges";
import { reportSummary } from "../../src/export/reportSummary";
import type { ReportWear } from "../../src/export/wearReport";
import { builtState } from "../extension/states";

const wear = {
  verdict: "wear",
  reasons: [],
  gap: { girthPlayMm: 8 },
  wayOn: { passes: true, passesOverHair: true, best: "straight down", ways: [] },
  stayOn: { inBalance: true, nodForwardDegrees: 40 },
  strength: { arms: [{ part: "branch 1", factor: 2.1 }] },
  limitsSet: {},
  findings: [],
} as unknown as ReportWear;
const plan = {
  hours: 20,
  grams: 500,
  spools: 1,
  supports: { volumeCm3: 40, thinColumns: [] },
  orientation: { words: "as designed" },
  settings: { infill: 15, shells: 3 },
  findings: [],
} as unknown as ReportPlan;
const base: Report = { ...builtState().report!, massPrintedG: 412, wear, plan };
const finding = (id: string, severity: Finding["severity"], part: string, text: string) =>
  ({ id, severity, part, text }) as unknown as Finding;

const sentences = (after: Partial<Report>, before: Partial<Report> = {}) =>
  reportChanges({ ...base, ...before }, { ...base, ...after }).map(({ sentence }) => sentence);

describe("what differs", () => {
  test("nothing for the same report", () => {
    expect(reportChanges(base, structuredClone(base))).toEqual([]);
    expect(changesSentence([])).toBe("nothing that is measured changed");
  });

  test("a step of the last digit is rounding, two are not", () => {
    expect(sentences({ massPrintedG: 412.1 })).toEqual([]);
    expect(sentences({ massPrintedG: 412.2 })).toEqual(["printed mass 412.2 g instead of 412 g"]);
    expect(sentences({ boxMm: { ...base.boxMm, width: base.boxMm.width + 0.1 } })).toEqual([]);
    // What somebody sets counts to the last digit.
    expect(sentences({ hairMm: base.hairMm + 0.01 })).toHaveLength(1);
  });

  test("mass, hours and verdict", () => {
    const after = {
      massPrintedG: 431,
      plan: { ...plan, hours: 22 },
      wear: { ...wear, verdict: "adjust" as const, reasons: ["it is tight at the brow", "more"] },
    };
    expect(sentences(after)).toEqual([
      "printed mass 431 g instead of 412 g (+4.6 %)",
      "time to print 22 h instead of 20 h (+10 %)",
      "verdict adjust instead of wear: it is tight at the brow",
    ]);
    const changes = reportChanges(base, { ...base, ...after });
    expect(changes[0]).toMatchObject({
      key: "massPrintedG",
      label: "printed mass",
      before: 412,
      after: 431,
      unit: "g",
    });
    const branch = { name: "branch 10", kind: "tube", lengthMm: 90, share: 0.1, massPrintedG: 3 } as const;
    expect(changesSentence(reportChanges(base, { ...base, ...after, parts: [...base.parts, branch] }))).toBe(
      "heavier by 19 g (412 → 431 g) and 2 h longer to print; 1 tube added (branch 10); verdict now adjust",
    );
  });

  test("parts by name, and the way on, the plate, the arm", () => {
    const tube = (name: string, lengthMm: number) =>
      ({ name, kind: "tube", lengthMm, share: 0.2, massPrintedG: 10 }) as const;
    const before = { parts: [tube("a", 100), tube("b", 50), tube("c", 20)] };
    expect(sentences({ parts: [tube("a", 110), tube("c", 20), tube("d", 5)] }, before)).toEqual([
      "1 part more: d",
      "1 part fewer: b",
      "a is 110 mm long instead of 100 mm",
    ]);
    expect(sentences({ wear: { ...wear, wayOn: { ...wear.wayOn!, passes: false } } })).toEqual([
      "cannot be put on any more",
    ]);
    const plate = base.plates[0];
    if (plate) {
      expect(
        sentences({ plates: [{ ...plate, fits: !plate.fits, excessMm: 4 }] }, { plates: [plate] })[0],
      ).toMatch(/plate of/);
    }
    expect(sentences({ wear: { ...wear, strength: undefined } as ReportWear })[0]).toMatch(/^no strength/);
  });

  test("what went in: wearer, material, settings, measures, parameters", () => {
    expect(
      sentences(
        {
          wearer: "Minnow",
          material: { name: "PETG", densityGPerCm3: 1.27 },
          plan: { ...plan, settings: { ...plan.settings, infill: 20 } },
          head: { girth: { valueMm: 540, source: "given" } },
          parameters: [{ name: "reachOut", value: 90, unit: "mm", changed: true }],
        },
        {
          wearer: "Ondine",
          material: { name: "PLA", densityGPerCm3: 1.24 },
          head: { girth: { valueMm: 560, source: "given" } },
          parameters: [{ name: "reachOut", value: 80, unit: "mm", changed: false }],
        },
      ),
    ).toEqual([
      "for Minnow instead of Ondine",
      "material PETG instead of PLA",
      "infill 20 % instead of 15 %",
      "girth of the head 540 mm instead of 560 mm",
      "parameter reach out 90 mm instead of 80 mm",
    ]);
  });

  test("findings that came and went, not those whose number or leading part changed", () => {
    const of = (...findings: Finding[]) => ({ wear: { ...wear, findings } });
    const thin = finding("thin-neck", "warning", "leaf 1", "a neck of 1 mm");
    const other = finding("thin-neck", "warning", "leaf 2", "a neck of 1.1 mm");
    const tip = finding("sharp-tip", "error", "ray 1", "a sharp tip");
    expect(sentences(of(thin, tip), of(thin))).toEqual(["new error: a sharp tip"]);
    expect(sentences(of({ ...thin, text: "a neck of 0.9 mm" }), of(thin))).toEqual([]);
    expect(sentences(of(other), of(thin))).toEqual([]);
    expect(sentences(of(thin), of(thin, other))).toEqual(["no longer: a neck of 1.1 mm"]);
    expect(sentences(of(), of(thin, other))).toEqual(["no longer: a neck of 1 mm, and 1 more like it"]);
  });

  test("a report of an older version that lacks most of it", () => {
    const old = { format: "anadem-report", formatVersion: 1, headpiece: base.headpiece } as unknown as Report;
    expect(() => reportChanges(old, base)).not.toThrow();
    expect(() => reportChanges(base, old)).not.toThrow();
  });
});

test("a sentence names so many and counts the rest; the verdict is never only counted", () => {
  const after: Report = {
    ...base,
    headpiece: "Other",
    wearer: "Minnow",
    massPrintedG: 300,
    parts: [],
    boxMm: { width: 1, depth: 2, height: 3 },
    wear: { ...wear, verdict: "dont" },
  };
  const changes = reportChanges(base, after);
  const sentence = changesSentence(changes, 3);
  expect(sentence).toContain("verdict now don't");
  expect(sentence).toMatch(new RegExp(`; ${changes.length - 3} further changes$`));
});

test("the summary of a report is one sentence", () => {
  const input = {
    headpiece: "Tide ring",
    wearer: "Marin",
    massPrintedG: 54.2,
    boxMm: { width: 190, depth: 220.5, height: 80 },
  };
  expect(reportSummary({ ...input, verdict: "adjust", hours: 4.25 })).toBe(
    "Tide ring for Marin: adjust first; 54.2 g printed in 4 h 15 min; 190 × 220.5 × 80 mm wide, deep, high.",
  );
  expect(reportSummary(input)).toBe(
    "Tide ring for Marin: 54.2 g printed; 190 × 220.5 × 80 mm wide, deep, high.",
  );
});
