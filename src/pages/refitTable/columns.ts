import type { RowFigures } from "./protocol";
import { boxText, chanceText, girthText, hoursText, massText, plateText, verdicts } from "./rowWords";

/** The columns that hold one figure, or a word, of a row. */
export const columnNames = ["wearer", "verdict", "girth", "chance", "mass", "box", "plate", "hours"] as const;
export type ColumnName = (typeof columnNames)[number];

interface Column {
  readonly title: string;
  /** What it tells, for who wonders. */
  readonly help: string;
  /** What rows are sorted by; undefined where it is not known. */
  readonly value: (figures: RowFigures) => number | string | undefined;
  /** What stands in the cell; undefined where it is not known. */
  readonly text: (figures: RowFigures) => string | undefined;
}

export const columns: Readonly<Record<ColumnName, Column>> = {
  wearer: {
    title: "Wearer",
    help: "Who would wear it",
    value: ({ wearer }) => wearer.toLowerCase(),
    text: ({ wearer }) => wearer,
  },
  verdict: {
    title: "Verdict",
    help: "Whether it may be worn, with the first reason against it",
    value: ({ verdict }) => verdicts[verdict].rank,
    text: ({ verdict }) => verdicts[verdict].word,
  },
  girth: {
    title: "Girth play",
    help: "Girth to spare where the piece closes round the head most tightly",
    value: ({ girthPlay }) => girthPlay,
    text: ({ girthPlay }) => girthText(girthPlay),
  },
  chance: {
    title: "Sure",
    help: "Chance that it goes on and rests, given what was measured of the wearer",
    value: ({ chance }) => chance,
    text: ({ chance }) => chanceText(chance),
  },
  mass: {
    title: "Mass",
    help: "As printed",
    value: ({ mass }) => mass,
    text: ({ mass }) => massText(mass),
  },
  box: {
    title: "Box",
    help: "Width, depth and height; sorted by the longest of them",
    value: ({ box }) => box && Math.max(box.width, box.depth, box.height),
    text: ({ box }) => boxText(box),
  },
  plate: {
    title: "Plate",
    help: "Whether it fits the printer's plate",
    value: ({ plate }) => plate && (plate.fits ? 0 : 1),
    text: ({ plate }) => plateText(plate),
  },
  hours: {
    title: "Print",
    help: "Estimate of the time that the print takes",
    value: ({ hours }) => hours,
    text: ({ hours }) => hoursText(hours),
  },
};

/** By which column rows are sorted, and which way. */
export interface Sorting {
  readonly column: ColumnName;
  readonly isDescending: boolean;
}

/** What a press on a column's head leads to: up, down, and then as they were asked for. */
export function nextSorting(before: Sorting | undefined, column: ColumnName): Sorting | undefined {
  if (before?.column !== column) return { column, isDescending: false };
  return before.isDescending ? undefined : { column, isDescending: true };
}

/**
 * Rows in the order of a column; as they came where there is none. What is not known stands last, whichever way; rows
 * that are alike keep their order.
 */
export function sorted<Row>(
  rows: readonly Row[],
  sorting: Sorting | undefined,
  figuresOf: (row: Row) => RowFigures | undefined,
): readonly Row[] {
  if (!sorting) return rows;
  const { value } = columns[sorting.column];
  const way = sorting.isDescending ? -1 : 1;
  const keyed = rows.map((row) => {
    const figures = figuresOf(row);
    return { row, by: figures && value(figures) };
  });
  keyed.sort((a, b) => {
    if (a.by === undefined || b.by === undefined)
      return Number(a.by === undefined) - Number(b.by === undefined);
    return way * (a.by < b.by ? -1 : Number(a.by > b.by));
  });
  return keyed.map(({ row }) => row);
}
