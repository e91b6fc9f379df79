import { expect, test } from "vitest";
import { settleResting } from "../../src/build/settleResting";
import type { DesignResult, TubePart } from "../../src/design/part";
import { Curve } from "../../src/geometry/curve";
import { buildHeadForm } from "../../src/head/headForm";
import { wearerFromDocument } from "../../src/head/wearer";
import type { Message } from "../../src/message";

const { wearer } = wearerFromDocument({ name: "Marin", units: "mm", girth: 570 });
const head = buildHeadForm(wearer!.measurements).grown({ offset: 1.6, hairThickness: 3 });

/** A tube over the head from side to side, at some azimuth. */
const stem = (name: string, azimuth: number, radii: readonly number[], resting = true): TubePart => ({
  kind: "tube",
  name,
  shape: {
    path: {
      kind: "through",
      points: [20, 50, 80].map((elevation) => head.pointAt({ azimuth, elevation, lift: 15 })),
      closed: false,
    },
    radius: { shares: radii.map((_, i) => (radii.length > 1 ? i / (radii.length - 1) : 0)), radii },
    section: { kind: "circle" },
    twist: 0,
    startTip: { kind: "round" },
    endTip: { kind: "round" },
  },
  ...(resting && { resting: { heap: "heap", sink: 0.12, pinned: "none" as const } }),
});

function settled(...parts: readonly TubePart[]): { parts: readonly TubePart[]; messages: Message[] } {
  const messages: Message[] = [];
  const design: DesignResult = {
    name: "Kelp",
    print: {},
    parameters: [],
    values: {},
    parts,
  };
  return { parts: settleResting(design, head, messages).parts as TubePart[], messages };
}

test("a tube comes to rest on the head, its middle a radius less the sink away", () => {
  const { parts, messages } = settled(stem("kelp", 30, [5]));
  expect(messages).toEqual([]);
  const curve = new Curve(parts[0].shape.path);
  for (let share = 0; share <= 1; share += 0.05) {
    expect(Math.abs(head.signedDistance(curve.pointAt(share)) - 5 * (1 - 0.12))).toBeLessThan(0.5);
  }
});

test("what does not rest stays as it is", () => {
  const still = stem("stiff", 30, [5], false);
  const { parts } = settled(still, stem("kelp", -60, [5]));
  expect(parts[0]).toBe(still);
  expect(parts[1].shape.path).not.toEqual(stem("kelp", -60, [5]).shape.path);
});

test("ends as fine as nothing do not take for ever", () => {
  const { parts } = settled(stem("a", 10, [5, 6, 1e-12]), stem("b", -10, [5, 6, 1e-12]));
  // The radius itself is the maker's own.
  expect(parts[0].shape.radius.radii).toEqual([5, 6, 1e-12]);
});
