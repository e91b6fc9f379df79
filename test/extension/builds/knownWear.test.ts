import { describe, expect, it } from "vitest";
import { type CheckName, checkNames, type Finding } from "../../../src/checks/finding";
import type { KnownWear } from "../../../src/extension/builds/designRecord";
import { withAnswer } from "../../../src/extension/builds/knownWear";
import { wearScene } from "../../../src/extension/preview/wearScene";

const finding = (check: CheckName, severity: Finding["severity"], at?: Finding["at"]): Finding => ({
  id: "some-finding",
  check,
  severity,
  text: `${check} found something`,
  value: 1,
  unit: "mm",
  part: "reed 3",
  file: "/tide/wreath.headpiece.ts",
  line: 12,
  column: 5,
  ...(at && { at }),
});

/** As the engine tells them: the quick and the most asked first. */
const order: readonly CheckName[] = [
  "gap",
  "weight",
  "heat",
  "wayOn",
  "stayOn",
  "sureness",
  "sight",
  "sharp",
  "strength",
];

describe("what is known of fit and wear", () => {
  it("grows answer by answer, and is whole with the last, whichever that is", () => {
    let known: KnownWear | undefined;
    for (const [i, check] of order.entries()) {
      const findings = check === "sharp" ? [finding(check, "warning", [1, 2, 3])] : [];
      known = withAnswer(known, { check, answers: {}, findings }, 4);
      expect(known.isWhole).toBe(i === order.length - 1);
      expect(wearScene(known).verdict !== undefined).toBe(known.isWhole);
    }
    expect([...known!.answered].sort()).toEqual([...checkNames].sort());
    expect(wearScene(known!).verdict).toEqual({ word: "adjust", reasons: ["sharp found something"] });
  });

  it("of an older solid is left behind", () => {
    const old = withAnswer(undefined, { check: "gap", answers: {}, findings: [finding("gap", "error")] }, 4);
    const now = withAnswer(old, { check: "gap", answers: {}, findings: [] }, 5);
    expect(now).toMatchObject({ version: 5, findings: [], isWhole: false });
  });

  it("is marked where it was found, with the line that made it; what has no place is not", () => {
    const known = withAnswer(
      undefined,
      {
        check: "sharp",
        answers: {},
        findings: [finding("sharp", "warning", [1, 2, 3]), finding("sharp", "note")],
      },
      1,
    );
    expect(wearScene(known).marks).toEqual([
      {
        at: [1, 2, 3],
        severity: "warning",
        check: "sharp",
        text: "sharp found something",
        part: "reed 3",
        place: { file: "/tide/wreath.headpiece.ts", line: 12, column: 5 },
      },
    ]);
  });
});
