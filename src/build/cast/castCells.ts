import { createHash } from "node:crypto";
import { basename } from "node:path";
import type { CastPiece } from "../castFile";
import type { RefitRow } from "../refit/refitRow";
import type { RefitCell } from "../refit/refitting";
import type { Cast } from "./cast";

/** A piece on a printer, by index, and what was made of it. */
export interface CastRow {
  readonly piece: number;
  /** Index among the cast's printers. */
  readonly printer: number;
  readonly row: RefitRow;
}

/** A piece made for somebody else. */
export interface OtherRow {
  readonly piece: number;
  readonly row: RefitRow;
}

/** A cell, and the places in the plan that ask for it. */
export interface AskedCell<Place> {
  readonly cell: RefitCell;
  readonly places: Place[];
}

type PiecePlace = Omit<CastRow, "row">;

/** Every piece on every kind of printer that it may be printed on; what is asked for twice is made once. */
export function cellsOf(cast: Cast): AskedCell<PiecePlace>[] {
  return asked(
    cast.pieces.flatMap((piece, i) =>
      printersFor(cast, piece).map((printer) => ({
        cell: cellOf(piece, piece.wearer, cast.printers[printer].file),
        place: { piece: i, printer },
      })),
    ),
  );
}

/** Those that fit no printer whole, cut, on every printer that they may be printed on. */
export function cutCellsOf(cast: Cast, rows: readonly CastRow[]): AskedCell<PiecePlace>[] {
  const isTooLarge = (i: number) => {
    const own = rows.filter(({ piece }) => piece === i);
    return own.length > 0 && own.every(({ row }) => row.verdict !== "failed" && row.plate?.fits === false);
  };
  return asked(
    rows
      .filter(({ piece }) => isTooLarge(piece))
      .map(({ piece, printer }) => ({
        cell: {
          ...cellOf(cast.pieces[piece], cast.pieces[piece].wearer, cast.printers[printer].file, "cut"),
          isCut: true,
        },
        place: { piece, printer },
      })),
  );
}

/** Those that do not suit whom they are for, on everybody else of the cast. */
export function otherCellsOf(cast: Cast, rows: readonly CastRow[]): AskedCell<{ readonly piece: number }>[] {
  return asked(
    cast.pieces.flatMap((piece, i) => {
      const row = bestRow(rows, i);
      if (row?.row.verdict !== "dont") return [];
      return cast.wearers
        .filter(({ file }) => file !== piece.wearer)
        .map(({ file }) => ({
          cell: cellOf(piece, file, cast.printers[row.printer].file),
          place: { piece: i },
        }));
    }),
  );
}

/** The row that tells of a piece: on a printer that it fits, where there is one. */
export const bestRow = (rows: readonly CastRow[], piece: number): CastRow | undefined => {
  const own = rows.filter((one) => one.piece === piece);
  return own.find(({ row }) => row.plate?.fits) ?? own.find(({ row }) => row.verdict !== "failed") ?? own[0];
};

/** Indices of the printers that a piece may be printed on: one of each kind is enough to know how it prints there. */
export const printersFor = (cast: Cast, { printer }: CastPiece): number[] =>
  cast.printers.flatMap(({ file }, i) => (printer === undefined || printer === file ? [i] : []));

function cellOf(piece: CastPiece, wearer: string, printer: string, ...more: readonly string[]): RefitCell {
  const { design, print, material, parameters } = piece;
  const words = [
    stem(printer),
    ...[print, material].flatMap((file) => (file === undefined ? [] : [stem(file)])),
    ...(parameters ? [`values-${shortHash(parameters)}`] : []),
    ...more,
  ];
  return {
    design,
    wearer,
    printer,
    ...(print !== undefined && { print }),
    ...(material !== undefined && { material }),
    ...(parameters && { values: parameters }),
    name: words.join("-"),
  };
}

/** Alike cells become one. */
function asked<Place>(
  wanted: readonly { readonly cell: RefitCell; readonly place: Place }[],
): AskedCell<Place>[] {
  const byCell = new Map<string, AskedCell<Place>>();
  for (const { cell, place } of wanted) {
    const key = JSON.stringify(cell);
    const known = byCell.get(key);
    if (known) known.places.push(place);
    else byCell.set(key, { cell, places: [place] });
  }
  return toldApart([...byCell.values()]);
}

/** Files of one name in different folders would share a folder of rows. */
function toldApart<Place>(cells: readonly AskedCell<Place>[]): AskedCell<Place>[] {
  const keyOf = ({ cell: { design, wearer, name } }: AskedCell<Place>) =>
    JSON.stringify([stem(design), stem(wearer), name]);
  const counts = new Map<string, number>();
  for (const each of cells) counts.set(keyOf(each), (counts.get(keyOf(each)) ?? 0) + 1);
  return cells.map((each) =>
    counts.get(keyOf(each)) === 1
      ? each
      : { ...each, cell: { ...each.cell, name: `${each.cell.name}-${shortHash(each.cell)}` } },
  );
}

/** `hall-220` of `hall-220.printer.json`. */
const stem = (file: string): string => basename(file).replace(/\.[^.]+\.json$|\.json$/, "");

const shortHash = (value: unknown): string =>
  createHash("sha256").update(JSON.stringify(value)).digest("hex").slice(0, 8);
