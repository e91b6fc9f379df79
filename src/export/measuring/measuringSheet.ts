import { COSTUME_CAUTION } from "../../checks/cautions";
import type { HeadForm } from "../../head/headForm";
import { READING_LIMITS, TAKEN_FIELDS, type TakenField } from "../../head/readings";
import { inUnit, type Unit } from "../../head/units";
import { list, Markup, markup } from "../workshop/markup";
import { sheetDocument } from "../workshop/sheetDocument";
import { measureDrawing } from "./measureDrawing";
import { MEASURE_WORDS } from "./measureWords";
import { type MeasuringReport, measuredWords, missingWords } from "./measuringReport";
import { measuringSheetStyle } from "./measuringSheetStyle";

/** What a measuring sheet is made of. */
export interface MeasuringSheetInput {
  /** The head that measures are drawn on. */
  readonly form: HeadForm;
  /** What is known; absent: a blank sheet. */
  readonly report?: MeasuringReport;
  /** Hair and notes as the wearer's file has them. */
  readonly hair?: string;
  readonly notes?: string;
  /** The measure that makes the fit of a design surest, if it is taken next. */
  readonly helps?: TakenField;
}

/** Cautions of measuring (common practice, no source). */
const measuringCautions = [
  COSTUME_CAUTION,
  "Keep the points of calipers and the corners of a rule from eyes and ears; touch, never press.",
  "A child is measured with an adult beside it. Stop when somebody does not like it.",
  "Measures of a person are personal: show them to those who need them only.",
];

/**
 * The sheet to measure a head by: one HTML document that is well-formed XML too, with its style and drawings inside, no
 * script and nothing from outside. It prints on A4 and Letter. The same input gives the same text.
 */
export function measuringSheet({ form, report, hair, notes, helps }: MeasuringSheetInput): string {
  const title = report ? `Measuring sheet of ${report.wearer}` : "Measuring sheet";
  const body = markup`<header><h1>${title}</h1>
<p>Take each measure twice, with the instrument laid on anew, and write both down as they are; what counts is the mean. If the two differ by more than is allowed, take a third and strike out the one that stands apart. The girth is needed; each of the others makes the fit surer.</p>
</header>
<dl class="person">${[
    field("name or role", report?.wearer, true),
    field("date", undefined),
    field("units", report?.units ?? "mm / cm / in"),
    field("measured by", undefined, true),
    field("hair: flat 2–5 mm, thick or braided 5–15 mm", hair, true),
  ]}</dl>
<main>
${TAKEN_FIELDS.map((one) => measureBlock(form, one, report, one === helps))}<section class="notes"><h2>Notes</h2>
<p class="hint">Fringe, glasses, hearing aids, places that hurt, how the hair is worn under the piece.</p>
<p>${notes}</p></section>
<section class="cautions"><h2>Take care</h2>
${list(measuringCautions)}</section>
</main>
<footer>Made with anadem. The measures are those of ISO 7250-1 and ISO 8559-1; drawn on a head of mean size. Enter them with: anadem measure NAME.wearer.json --reading girth=567 --reading girth=570</footer>`;
  return sheetDocument(body, { title, style: measuringSheetStyle });
}

const field = (label: string, value: string | undefined, isBroad = false): Markup =>
  markup`<div${isBroad ? markup` class="broad"` : undefined}><dt>${label}</dt><dd>${value}</dd></div>`;

function measureBlock(
  form: HeadForm,
  measure: TakenField,
  report: MeasuringReport | undefined,
  isNext: boolean,
): Markup {
  const words = MEASURE_WORDS[measure];
  const known = report?.measured.find((one) => one.measure === measure);
  const missing = report?.missing.find((one) => one.measure === measure);
  const readings = known?.readings ?? [];
  const status = known
    ? markup`<p class="known">Known: ${measuredWords(known, report?.units ?? "mm")}</p>
`
    : missing?.estimate !== undefined
      ? markup`<p class="known">Not measured yet; estimated ${missingWords(missing, report?.units ?? "mm")}</p>
`
      : undefined;
  return markup`<section class="measure"><div>${new Markup(measureDrawing(form, measure, `sheet-${measure}`))}</div>
<div><h2>${words.title}</h2>
${isNext ? markup`<p class="first">Take this one next: it helps most.</p>\n` : undefined}<p class="instrument">With: ${words.instrument}</p>
<p>${words.where} ${words.how}</p>
<p class="hint">Often wrong: ${words.mistakes}</p>
${status}<div class="boxes">${[
    box("first", readings[0]),
    box("second", readings[1]),
    box(`third, if more than ${allowed(measure, report?.units)} apart`, readings[2], "spare"),
    box("mean", known?.value),
  ]}</div></div></section>
`;
}

/** The difference that is allowed, in the units of the sheet; in millimetres and inches where they are open. */
const allowed = (measure: TakenField, units: Unit | undefined): string => {
  const limit = READING_LIMITS[measure];
  return units ? inUnit(limit, units) : `${inUnit(limit, "mm")} (${inUnit(limit, "in")})`;
};

const box = (label: string, value: number | undefined, kind?: string): Markup =>
  markup`<div${kind === undefined ? undefined : markup` class="${kind}"`}>${label}<b>${value}</b></div>`;
