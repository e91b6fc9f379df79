import { describe, expect, it } from "vitest";
import type { Part } from "../../../src/design/part";
import { placedPiece, toHeadFrame } from "../../../src/print/placedPiece";
import { findSupport } from "../../../src/print/support/findSupport";
import { supportFindings } from "../../../src/print/support/supportFindings";
import { box, ellipsoid, moved } from "../../checks/shapes";
import { parted, settings } from "./bodies";

const ball = (x: number, z: number, radius: number) =>
  moved(ellipsoid(1, 1, 1, 48, 48), [x, 0, z], [radius, radius, radius]);
const solid = (name: string, line: number): Part => ({
  kind: "solid",
  name,
  mesh: ball(0, 0, 1),
  origin: { file: "tide.headpiece.ts", line, column: 5 },
});
const parts = [solid("rock", 3), solid("pearl 1", 7), solid("pearl 2", 7), solid("lantern", 9)];
const plate = { shape: "rectangular", width: 300, depth: 300 } as const;

describe("what supports mean for the print", () => {
  const design = parted(
    box([-60, -20, 0], [-20, 20, 40]),
    ball(20, 120, 3),
    ball(60, 90, 3),
    ball(100, 40, 15),
  );
  const placed = placedPiece(design.mesh, { tilt: 0, towards: 0, turn: 35 }, plate);
  const support = findSupport(placed, settings());
  const findings = supportFindings(support, placed, parts);

  it("names tall thin columns by what they hold up, one finding a line", () => {
    const thin = findings.filter(({ id }) => id === "support-peels");
    expect(thin).toHaveLength(1);
    const [finding] = thin;
    expect(finding).toMatchObject({
      severity: "warning",
      topic: "support",
      part: "pearl 1",
      line: 7,
      limit: { value: 10, source: "common practice, no source" },
    });
    expect(finding.text).toMatch(
      /under "pearl 1" may peel off: 118 mm tall and 3\.\d mm thick.*; 1 more like it/,
    );
    expect(finding.notes?.map(({ text }) => text)).toEqual([expect.stringMatching(/^"pearl 2": 88 mm tall/)]);
    expect(finding.suggestion).toMatch(/prop\("pearl 1 prop", …\).*anadem plan --props.*another way up/);
    expect(finding.value).toBe(Math.max(...support.columns.map(({ slenderness }) => slenderness)));
    // Head frame: under the pearl.
    expect(finding.at?.[0]).toBeCloseTo(20, 0);
    expect(finding.at?.[2]).toBeCloseTo(117, 0);
  });

  it("names what causes the most support", () => {
    const [note] = findings.filter(({ id }) => id === "most-support");
    expect(note).toMatchObject({ severity: "note", part: "lantern", unit: "cm³" });
    expect(note.text).toMatch(/^"lantern" causes \d\d % of the support/);
    expect(note.value).toBeCloseTo(support.byPart[0].volume / 1000, 9);
    expect(note.notes?.map(({ text }) => text)).toEqual([
      expect.stringMatching(/^"pearl 1" and "pearl 2": \d\d %$/),
    ]);
  });

  it("says nothing where nothing is held up", () => {
    const none = findSupport(placed, settings({ supportShare: 0 }));
    expect(supportFindings(none, placed, parts)).toEqual([]);
  });

  it("speaks of what the head left where no part is to blame", () => {
    const mesh = {
      ...design.mesh,
      partOfTriangle: design.mesh.partOfTriangle.map((part) => (part === 1 ? -1 : part)),
    };
    const own = supportFindings(findSupport({ mesh }, settings()), placed, parts);
    const [finding] = own.filter(({ text }) => text.includes("what the head left"));
    expect(finding.part).toBeUndefined();
    expect(finding.at).toEqual(
      toHeadFrame(
        placed,
        findSupport({ mesh }, settings()).columns.find((column) => column.parts[0] === -1)?.at ?? [0, 0, 0],
      ),
    );
  });
});
