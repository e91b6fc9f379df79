import { expect, test } from "vitest";
import { columnNames, columns, nextSorting, sorted } from "../../../src/pages/refitTable/columns";
import { figures } from "./rows";

const rows = [
  { key: "queen", figures: figures({ mass: 212, wearer: "Kelp Queen" }) },
  {
    key: "pip",
    figures: figures({ mass: 164, wearer: "Pip, the Minnow", verdict: "dont", girthPlay: undefined }),
  },
  { key: "new", figures: undefined },
  {
    key: "warden",
    figures: figures({ mass: 212, wearer: "marsh warden", verdict: "adjust", girthPlay: -3 }),
  },
];
const by = (column: (typeof columnNames)[number], isDescending = false) =>
  sorted(rows, { column, isDescending }, ({ figures }) => figures).map(({ key }) => key);

test("rows stand as they were asked for until a column sorts them", () => {
  expect(sorted(rows, undefined, ({ figures }) => figures)).toEqual(rows);
});

test("what is alike keeps its order, what is not known stands last whichever way", () => {
  expect(by("mass")).toEqual(["pip", "queen", "warden", "new"]);
  expect(by("mass", true)).toEqual(["queen", "warden", "pip", "new"]);
  expect(by("girth")).toEqual(["warden", "queen", "pip", "new"]);
  expect(by("girth", true)).toEqual(["queen", "warden", "pip", "new"]);
});

test("names sort without regard to capitals, verdicts from wear to failed", () => {
  expect(by("wearer")).toEqual(["queen", "warden", "pip", "new"]);
  expect(by("verdict")).toEqual(["queen", "warden", "pip", "new"]);
});

test("sorting changes no list that it is given", () => {
  const before = [...rows];
  by("mass", true);
  expect(rows).toEqual(before);
});

test("a column's head leads up, down, and back; another column begins anew", () => {
  const up = nextSorting(undefined, "mass");
  expect(up).toEqual({ column: "mass", isDescending: false });
  const down = nextSorting(up, "mass");
  expect(down).toEqual({ column: "mass", isDescending: true });
  expect(nextSorting(down, "mass")).toBeUndefined();
  expect(nextSorting(down, "hours")).toEqual({ column: "hours", isDescending: false });
});

test("each column has a title, a help and a text", () => {
  const texts = columnNames.map((name) => columns[name].text(figures()));
  expect(texts).toEqual([
    "Kelp Queen",
    "Wear",
    "12.3 mm",
    "94 %",
    "212 g",
    "212 × 198 × 140 mm",
    "fits",
    "9 h 12 min",
  ]);
  for (const name of columnNames) expect(columns[name].help).toMatch(/^[A-Z].*[^.]$/);
});
