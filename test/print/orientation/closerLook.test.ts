import { expect, test } from "vitest";
import { closerLook } from "../../../src/print/orientation/closerLook";
import type { FoundOrientation, OrientationSearch } from "../../../src/print/orientation/orientationSearch";

const found = (tilt: number, names: FoundOrientation["names"], fits = true): FoundOrientation => ({
  names,
  orientation: { tilt, towards: 0, turn: 0 },
  figures: {
    hours: 1,
    supportVolume: 1,
    contactArea: 10,
    scars: 4,
    height: tilt,
    footprint: 1,
    thinColumns: 0,
    weakest: tilt,
  },
  cost: 1,
  room: fits ? 1 : -1,
  fits,
});

const ways = [
  found(10, ["as designed"]),
  found(20, ["best of all"]),
  found(30, ["fewest hours", "least support"]),
  found(40, ["strongest"]),
  found(5, ["lowest"], false),
];
const search = { found: ways, asDesigned: ways[0], best: ways[1] } as unknown as OrientationSearch;

test("figures are the plan's; what is best at one thing is named by them, what does not fit is best at nothing", () => {
  const closer = closerLook(search, ({ tilt }) => ({
    hours: 100 - tilt,
    supportVolume: tilt,
    contactArea: 20,
    thinColumns: tilt,
  }));
  expect(closer.found.map(({ orientation, names }) => [orientation.tilt, ...names])).toEqual([
    [10, "as designed", "least support", "lowest"],
    [20, "best of all"],
    [40, "fewest hours", "strongest"],
  ]);
  expect(closer.asDesigned.figures).toMatchObject({ hours: 90, thinColumns: 10, contactArea: 20, scars: 8 });
  expect(closer.best).toBe(closer.found[1]);
});
