import { timeKinds } from "../../print/layers/layerPlan";
import { hoursAndMinutes, metresText } from "../durations";
import { counted } from "../reportSentences";
import { num } from "../sheet/svg";
import { type Bar, barPlot } from "./barPlot";
import { hoursByHeight } from "./hoursByHeight";
import { groupOf, kindNames } from "./kindStyles";
import { elapsed, timeByKind } from "./layerTimes";
import { Markup, markup, picture, section, table } from "./markup";
import { timeOfHeights } from "./timeOfHeights";
import type { WorkshopInput, WorkshopPrint, WorkshopStanding } from "./workshopInput";

/** Which way up, and the orientations that were compared. */
export function standingSection({ words, picture: svg, choices = [] }: WorkshopStanding): Markup {
  return section(
    "Which way up",
    markup`<figure class="standing">${svg === undefined ? undefined : picture(svg, `The piece on the plate: ${words}.`)}
<figcaption>As it stands on the plate: <span>${words}</span></figcaption></figure>
`,
    choices.length === 0
      ? undefined
      : markup`<h3>What was compared</h3>
<div class="choices">${choices.map(
          (choice) => markup`<div class="choice${choice.isChosen ? " marked" : ""}">
<h3>${choice.name}${choice.isChosen ? " ✓ chosen" : ""}</h3>
${choice.picture === undefined ? undefined : picture(choice.picture, `${choice.name}: ${choice.words}.`, "small")}
<p>${choice.words}</p>
<table><tbody>${choice.figures.map(
            ({ label, value, isBest }) =>
              markup`<tr><td>${label}</td><td class="number">${isBest ? markup`<b>${value} ★</b>` : value}</td></tr>`,
          )}</tbody></table></div>
`,
        )}</div>
<p class="hint">★ best of these</p>
`,
  );
}

/** Hours by height and by kind, filament by kind. */
export function timeSection({ prints = [], filament = [] }: WorkshopInput): Markup | undefined {
  if (prints.length === 0 && filament.length === 0) return undefined;
  const byKind = timeByKind(prints);
  const time = ([...timeKinds, "start"] as const).map(
    (kind): Bar => ({
      label: kindNames[kind],
      value: byKind[kind],
      text: hoursAndMinutes(byKind[kind]),
      group: groupOf[kind],
    }),
  );
  const material = filament.map(
    ({ kind, grams, metres }): Bar => ({
      label: kindNames[kind],
      value: grams,
      text: `${num(Math.round(10 * grams) / 10)} g, ${metresText(metres)}`,
      group: groupOf[kind],
    }),
  );
  return section(
    "Hours and filament",
    ...prints.map((print, i) => printPlots(print, `print-${i + 1}`)),
    markup`<div class="plots">${[
      prints.length === 0 ? undefined : figure("Time by kind", barPlot(time, "Time by kind", "time-kinds")),
      material.length === 0
        ? undefined
        : figure("Filament by kind", barPlot(material, "Filament by kind", "filament-kinds")),
    ].filter((one) => one !== undefined)}</div>
`,
    spoolTable(prints),
  );
}

function printPlots(print: WorkshopPrint, name: string): Markup {
  const { count, layerHeight } = print.layers;
  const after = elapsed(print)[count - 1];
  return markup`${print.name === undefined ? undefined : markup`<h3>${print.name}</h3>`}
<p>${counted(count, "layer")} of ${layerHeight} mm, ${num(count * layerHeight)} mm high: ${hoursAndMinutes(after)}, of which ${hoursAndMinutes(print.startTime)} before the first layer.</p>
<div class="plots">${figure("How high after how many hours", hoursByHeight(print, `${name}-hours`))}
${figure("Where the hours go", timeOfHeights(print, `${name}-heights`))}</div>
`;
}

const figure = (title: string, plot: string): Markup =>
  markup`<figure><figcaption>${title}</figcaption>
${new Markup(plot)}</figure>
`;

function spoolTable(prints: readonly WorkshopPrint[]): Markup | undefined {
  const ends = prints.flatMap(({ name, spoolEnds }) => spoolEnds.map((end) => ({ name, end })));
  if (ends.length === 0) return undefined;
  const named = ends.some(({ name }) => name !== undefined);
  const rows = ends.map(({ name, end }) => ({
    cells: [
      ...(named ? [name] : []),
      `spool ${end.spool}`,
      String(end.layer + 1),
      `${num(end.height)} mm`,
      hoursAndMinutes(end.seconds),
    ],
  }));
  const numbers = ["in layer", "at height", "after"].map((title) => ({ title, isNumber: true }));
  return markup`<h3>Where a spool ends</h3>
${table([...(named ? [{ title: "print" }] : []), { title: "" }, ...numbers], rows)}`;
}
