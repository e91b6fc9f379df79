import { describe, expect, it } from "vitest";
import { cautions } from "../../src/checks/cautions";

const pla = { name: "PLA", softening: [55, 65] as const };
const abs = { name: "ABS", softening: [105, 105] as const };
const all = (input: Parameters<typeof cautions>[0]): string => cautions(input).join("\n");

describe("cautions", () => {
  it("always speaks of protection, neck, tips, heat, flame, senses, small parts and rules", () => {
    const text = all({ material: pla, mass: 200 });
    for (const word of ["costume", "neck", "tip", "softens", "flames", "hearing", "Small parts", "rules"]) {
      expect(text).toContain(word);
    }
  });

  // Parked car cabins reach 41 to 76 °C: Grundstein, Meentemeyer, Dowd 2009.
  it("warns of parked cars for a plastic that softens below 76 °C only", () => {
    expect(all({ material: pla, mass: 200 })).toContain(
      "PLA softens at 55 to 65 °C; a parked car reaches 41 to 76 °C",
    );
    expect(all({ material: abs, mass: 200 })).toContain("ABS softens near 105 °C.");
    expect(all({ material: abs, mass: 200 })).not.toContain("parked car");
  });

  it("has a stronger word for a heavy piece and names its mass", () => {
    expect(all({ material: pla, mass: 1130.4 })).toContain("Its 1130 g rest on the neck: wear it briefly");
    expect(all({ material: pla, mass: 180 })).not.toContain("wear it briefly");
  });

  it("names the sharp tips, and no blunt one", () => {
    const tips = [
      { part: "spine 1", radius: 0.6 },
      { part: "branch 2", radius: 3 },
    ];
    const text = all({ material: pla, mass: 200, tips });
    expect(text).toContain("Sharp tips: spine 1 (radius 0.6 mm)");
    expect(text).not.toContain("branch 2");
    const many = Array.from({ length: 9 }, (_, i) => ({ part: `spine ${i}`, radius: 0.5 }));
    expect(all({ material: pla, mass: 200, tips: many })).toContain("and 6 more");
  });

  it("minds doorways for a tall piece, and an adult for a child", () => {
    expect(all({ material: pla, mass: 200, aboveCrown: 260 })).toContain("stands 260 mm above the head");
    expect(all({ material: pla, mass: 200, aboveCrown: 60 })).not.toContain("doorways");
    expect(all({ material: pla, mass: 200, child: true })).toContain("an adult stays near");
  });
});
