import { expect } from "vitest";
import { type HeadpieceOptions, headpiece, type Make, type Parts, tube } from "../../src/design";
import type { DesignResult, ParameterValue } from "../../src/design/part";
import { runDesign } from "../../src/design/run";
import { sweepTube } from "../../src/geometry/sweep";
import type { TubeShape } from "../../src/geometry/tubeShape";
import { buildHeadForm, completeMeasurements } from "../../src/head";
import { type Message, MessageError } from "../../src/message";

/** The head that the tests of the language build around. */
export const grown = buildHeadForm(completeMeasurements({ girth: 570 }).measurements).grown({
  offset: 1.3,
  hairThickness: 3,
});
export const head = grown.toData();

type None = Record<never, never>;

/** What a `make` gives out, as data. */
export const run = (
  make: (given: Make<None>) => Parts,
  more: Partial<HeadpieceOptions<None>> = {},
  values: Record<string, ParameterValue> = {},
): DesignResult => runDesign(headpiece({ name: "Test", make, ...more }), { head, values });

/** What `look` finds inside a `make`. */
export function inMake<T>(look: (given: Make<None>) => T): T {
  let found: T | undefined;
  run((given) => {
    found = look(given);
    return stand();
  });
  return found as T;
}

/** A part for designs that are about something else. */
export const stand = () =>
  tube(
    "stand",
    [
      [0, 0, 150],
      [0, 0, 200],
    ],
    { radius: 4 },
  );

/** The single message of the error that `act` throws. */
export function errorOf(act: () => unknown): Message {
  try {
    act();
  } catch (error) {
    if (!(error instanceof MessageError)) throw error;
    expect(error.messages).toHaveLength(1);
    return error.messages[0];
  }
  throw new Error("no error was thrown");
}

/** The error of something done inside a `make`. */
export const errorInMake = (act: (given: Make<None>) => unknown): Message => errorOf(() => inMake(act));

/** The only tube of a design, or the one of a name. */
export function tubeShape(result: DesignResult, name?: string): TubeShape {
  const part = result.parts.find((other) => other.kind === "tube" && (!name || other.name === name));
  if (part?.kind !== "tube") throw new Error(`there is no tube ${name}`);
  return part.shape;
}

/** Mean of the vertices of a swept tube or of a mesh. */
export function middleOf(positions: ArrayLike<number>): [number, number, number] {
  const sum: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < positions.length; i++) sum[i % 3] += positions[i];
  return sum.map((value) => (3 * value) / positions.length) as [number, number, number];
}

/** Vertices of a swept tube, sorted, for a comparison of shapes. */
export function cloud(shape: TubeShape): number[][] {
  const { positions } = sweepTube(shape);
  return Array.from({ length: positions.length / 3 }, (_, i) => [...positions.slice(3 * i, 3 * i + 3)]);
}

/** Greatest distance from a point of one cloud to the nearest of the other. */
export function farthest(from: readonly number[][], to: readonly number[][]): number {
  let most = 0;
  for (const p of from) {
    let least = Number.POSITIVE_INFINITY;
    for (const q of to) least = Math.min(least, (p[0] - q[0]) ** 2 + (p[1] - q[1]) ** 2 + (p[2] - q[2]) ** 2);
    most = Math.max(most, least);
  }
  return Math.sqrt(most);
}

/** Compares points to a tolerance in mm. */
export function near(got: ArrayLike<number>, wanted: ArrayLike<number>, tolerance = 1e-6): void {
  expect(Array.from(got)).toHaveLength(wanted.length);
  const off = Math.max(...Array.from(got, (value, i) => Math.abs(value - wanted[i])));
  expect(off, `${Array.from(got)} against ${Array.from(wanted)}`).toBeLessThan(tolerance);
}
