import type { Finishing } from "../../print/finishing";
import { counted, readable } from "../reportSentences";
import { num } from "../sheet/svg";
import { list, type Markup, markup, picture, section, table } from "./markup";
import type { WorkshopPieces, WorkshopProps, WorkshopSupports, WorkshopWhatIf } from "./workshopInput";

const number = (title: string) => ({ title, isNumber: true });
const text = (title: string) => ({ title });

/** Supports: how much, by which tubes, which columns may fail. */
export function supportSection(supports: WorkshopSupports): Markup {
  const { volumeCm3, contactCm2, landingCm2, columns, tubes, thinColumns } = supports;
  return section(
    "Supports",
    markup`<p>${counted(columns, "column")}, ${readable(volumeCm3)} cm³ within their outlines; they touch ${readable(contactCm2)} cm² of the piece from below and stand on ${readable(landingCm2)} cm² of it.</p>
`,
    tubes.length === 0
      ? undefined
      : table(
          [text("caused by"), number("volume, cm³"), number("contact, cm²"), number("columns")],
          tubes.map((tube) => ({
            cells: [tube.part, readable(tube.volumeCm3), readable(tube.contactCm2), String(tube.columns)],
          })),
        ),
    thinColumns.length === 0
      ? undefined
      : markup`<h3>Tall thin columns: watch these</h3>
${table(
  [text("under"), number("height, mm"), number("width, mm"), text("may fail"), text("remedy")],
  thinColumns.map(({ part, heightMm, widthMm, risk, remedy }) => ({
    cells: [part, readable(heightMm), readable(widthMm), risk, remedy],
  })),
)}`,
  );
}

/** Props that are printed with the piece and broken off. */
export function propSection({ rows, comparison = [] }: WorkshopProps): Markup {
  return section(
    "Props",
    markup`<p>Printed with the piece; each breaks off at its neck.</p>
`,
    rows.length === 0
      ? undefined
      : table(
          [
            text("prop"),
            text("hold up"),
            number("up to, mm high"),
            number("up to, mm thick"),
            number("neck, mm"),
          ],
          rows.map(({ name, part, heightMm, thicknessMm, neckMm }) => ({
            cells: [name, part, readable(heightMm), readable(thicknessMm), readable(neckMm)],
          })),
        ),
    comparison.length === 0
      ? undefined
      : table(
          [text(""), number("without props"), number("with props")],
          comparison.map((row) => ({ cells: [row.label, row.without, row.with] })),
        ),
  );
}

/** Pieces that are joined, in which order, on which plates. */
export function pieceSection({ rows, assembly, plates = [] }: WorkshopPieces): Markup {
  return section(
    "Pieces",
    table(
      [
        text("piece"),
        number("size, mm"),
        number("volume, cm³"),
        number("g"),
        number("time"),
        text("plate"),
        text("file"),
      ],
      rows.map(({ name, sizeMm, volumeCm3, grams, hours, plate, file }) => ({
        cells: [
          name,
          sizeMm.map((side) => num(Math.round(10 * side) / 10)).join(" × "),
          readable(volumeCm3),
          grams === undefined ? "" : readable(grams),
          hours,
          plate,
          file,
        ],
      })),
    ),
    assembly.length === 0
      ? undefined
      : markup`<h3>Joining them, in this order</h3>
<ol>${assembly.map((step) => markup`<li>${step}</li>`)}</ol>
`,
    plates.length === 0
      ? undefined
      : markup`<h3>Plates, from above</h3>
<div class="plots">${plates.map(
          (plate) => markup`<figure>
<figcaption>${plate.name}: <span>${plate.pieces.join(", ")}</span></figcaption>
${plate.picture === undefined ? undefined : picture(plate.picture, `${plate.name} from above: ${plate.pieces.join(", ")}.`)}</figure>
`,
        )}</div>
`,
  );
}

/** What sanding, primer and paint take. */
export function finishingSection({ paintAreaCm2, primerMl, paintMl, scarCm2, basis }: Finishing): Markup {
  const row = (label: string, value: number, unit: string) => ({
    cells: [label, `${readable(value)} ${unit}`],
  });
  return section(
    "Finishing",
    table(
      [text(""), number("")],
      [
        row("support scars to smooth", scarCm2, "cm²"),
        row("area to paint", paintAreaCm2, "cm²"),
        row("primer", primerMl, "ml"),
        row("paint", paintMl, "ml"),
      ],
    ),
    markup`<p class="hint">${basis}</p>
`,
  );
}

/** Other settings, what they would take, and how a wish is met. */
export function whatIfSection({ wish, answer, columns, rows }: WorkshopWhatIf): Markup {
  return section(
    "What if",
    wish === undefined
      ? undefined
      : list([markup`<b>Wished:</b> ${wish}`, ...(answer === undefined ? [] : [answer])]),
    table(
      columns.map((title, i) => ({ title, isNumber: i > 0 })),
      rows.map(({ cells, isChosen = false }) => ({ cells, isMarked: isChosen })),
    ),
  );
}
