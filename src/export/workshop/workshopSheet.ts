import type { Message } from "../../message";
import { demandLayers } from "./layerTimes";
import { list, type Markup, markup, section, table } from "./markup";
import { finishingSection, pieceSection, propSection, supportSection, whatIfSection } from "./pieceSections";
import { standingSection, timeSection } from "./printSections";
import { sheetDocument } from "./sheetDocument";
import { sheetStyle } from "./sheetStyle";
import { workshopSteps } from "./steps";
import type { WorkshopInput } from "./workshopInput";

/**
 * The sheet for the person at the printer: one HTML document that is well-formed XML too, with its style and pictures
 * inside, no script and nothing from outside. It prints on A4 and reads on a phone. The same input gives the same text.
 * @throws RangeError when there are no cautions, or the layers of a print hold a number that is none.
 */
export function workshopSheet(input: WorkshopInput): string {
  if (input.cautions.length === 0)
    throw new RangeError("A workshop sheet always has its cautions: none were given.");
  for (const print of input.prints ?? []) demandLayers(print);
  const { title, wearer, setup, figures, settings, supports, props, pieces, whatIf } = input;
  const heading = wearer === undefined ? title : `${title} for ${wearer}`;
  const steps = workshopSteps(input);
  const body = markup`<header><h1>${heading}</h1>
<p>Workshop sheet${setup === undefined ? "" : `: ${setup}`}</p></header>
<main>
<dl class="figures">${figures.map(
    ({ label, value, note }) => markup`<div><dt>${label}</dt><dd>${value}</dd>${
      note === undefined ? undefined : markup`<dd class="note">${note}</dd>`
    }</div>
`,
  )}</dl>
${[
  findingSection(input.findings ?? []),
  steps.length === 0 ? undefined : section("Step by step", list(steps, "steps")),
  input.standing && standingSection(input.standing),
  timeSection(input),
  supports && supportSection(supports),
  props && propSection(props),
  pieces && pieceSection(pieces),
  input.finishing && finishingSection(input.finishing),
  settingSection(settings),
  whatIf && whatIfSection(whatIf),
  input.basis && input.basis.length > 0 ? section("What the figures rest on", list(input.basis)) : undefined,
].filter((one) => one !== undefined)}<section class="cautions"><h2>Take care</h2>
${list(input.cautions)}</section>
</main>
<footer>Made with anadem. Hours, filament and prices are estimates; look after the printer while it runs.</footer>`;
  return sheetDocument(body, { title: `${heading}: workshop sheet`, style: sheetStyle, hasPictures: true });
}

function settingSection(settings: WorkshopInput["settings"]): Markup | undefined {
  if (settings.length === 0) return undefined;
  const noted = settings.some(({ note }) => note !== undefined);
  return section(
    "Settings",
    table(
      [{ title: "setting" }, { title: "value", isNumber: true }, ...(noted ? [{ title: "" }] : [])],
      settings.map(({ label, value, note }) => ({ cells: noted ? [label, value, note] : [label, value] })),
    ),
  );
}

const severityWords = { error: "Does not work", warning: "Look at this", note: "To know" } as const;

function findingSection(findings: readonly Message[]): Markup | undefined {
  if (findings.length === 0) return undefined;
  return section(
    "What was found",
    findings.map(({ severity, text, suggestion, file, line }) => {
      const place =
        file === undefined ? "" : ` (${baseName(file)}${line === undefined ? "" : `, line ${line}`})`;
      return markup`<div class="finding ${severity}"><p><b>${severityWords[severity]}:</b> ${text}<span class="place">${place}</span></p>
${suggestion === undefined ? undefined : markup`<p class="hint">→ ${suggestion}</p>`}</div>
`;
    }),
  );
}

/** A sheet passes from hand to hand: where the file lies on this machine is nobody's concern. */
const baseName = (path: string): string => path.split(/[\\/]/).at(-1) ?? path;
