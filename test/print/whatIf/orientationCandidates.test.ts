import { describe, expect, it } from "vitest";
import { orientationCandidates } from "../../../src/print/whatIf/orientationCandidates";

describe("ways up to compare", () => {
  const found = [
    { names: ["as designed", "lowest"] as const, orientation: { tilt: 0, towards: 0, turn: 0 }, fits: false },
    { names: ["least support"] as const, orientation: { tilt: 62.4, towards: 90, turn: 12 }, fits: true },
  ];

  it("are those that were found, the chosen one among them as it was chosen", () => {
    const rounded = { tilt: 62, towards: 90, turn: 0 };
    const { candidates, chosen } = orientationCandidates(found, { orientation: rounded, fits: false });
    expect(chosen).toBe(1);
    expect(candidates).toEqual([
      { name: "as designed, lowest", orientation: { tilt: 0, towards: 0, turn: 0 }, fits: false },
      { name: "least support", orientation: rounded, fits: false },
    ]);
  });

  it("have the chosen one added where it is another", () => {
    const own = { tilt: 90, towards: 0, turn: 30 };
    const { candidates, chosen } = orientationCandidates(found, { orientation: own, fits: true });
    expect(chosen).toBe(2);
    expect(candidates[2]).toEqual({ name: "as chosen", orientation: own, fits: true });
  });
});
