import { hoursAndMinutes } from "../durations";
import { num } from "../sheet/svg";
import { elapsed } from "./layerTimes";
import { heightFrame, plotDocument, plotText } from "./plotFrame";
import type { WorkshopPrint } from "./workshopInput";

/** Points that the line has at most, besides the ends of spools. */
const mostPoints = 240;
const line = "#123f6e";
const mark = "#8a4f00";

/**
 * How high the piece has grown after how many hours, with the places where a spool ends: a plot as SVG, 420 px wide.
 * @param name unique in the page
 */
export function hoursByHeight(print: WorkshopPrint, name: string): string {
  const { layers, startTime, spoolEnds } = print;
  const after = elapsed(print);
  const total = after[layers.count - 1];
  const tall = layers.count * layers.layerHeight;
  const frame = heightFrame(total, tall, "time since the start");
  const step = Math.max(1, Math.ceil(layers.count / mostPoints));
  const shown = new Set([layers.count - 1, ...spoolEnds.map(({ layer }) => layer)]);
  for (let layer = step - 1; layer < layers.count; layer += step) shown.add(layer);
  const points = [...shown]
    .sort((a, b) => a - b)
    .map((layer) => `${num(frame.x(after[layer]))} ${num(frame.y((layer + 1) * layers.layerHeight))}`);
  const start = `${num(frame.x(startTime))} ${num(frame.y(0))}`;
  let lastLabel = Infinity;
  const ends = [...spoolEnds]
    .sort((a, b) => a.height - b.height)
    .map(({ spool, height, seconds }) => {
      const [x, y] = [frame.x(seconds), frame.y(height)];
      const isFree = lastLabel - y >= 14;
      if (isFree) lastLabel = y;
      // Under the line near the plot's top, over it elsewhere: the curve runs to the right of it.
      const label = `spool ${spool} ends: ${num(height)} mm, ${hoursAndMinutes(seconds)}`;
      return (
        `<path d="M${num(frame.left)} ${num(y)}H${num(x)}V${num(frame.bottom)}" fill="none" stroke="${mark}" stroke-width="1.2" stroke-dasharray="5 3"/>` +
        `<circle class="spool-end" cx="${num(x)}" cy="${num(y)}" r="3.6" fill="#ffffff" stroke="${mark}" stroke-width="1.8"/>` +
        (isFree ? plotText(frame.left + 6, y - frame.top < 16 ? y + 15 : y - 5, label, { isOver: true }) : "")
      );
    });
  return plotDocument(
    name,
    frame,
    "Hours by height",
    `The print takes ${hoursAndMinutes(total)} for ${num(tall)} mm of height in ${layers.count} layers.` +
      spoolEnds
        .map(
          ({ spool, layer, height, seconds }) =>
            ` Spool ${spool} ends in layer ${layer + 1}, at ${num(height)} mm, after ${hoursAndMinutes(seconds)}.`,
        )
        .join(""),
    [
      frame.axes,
      `<path class="hours" d="M${start}L${points.join("L")}" fill="none" stroke="${line}" stroke-width="2.2" stroke-linejoin="round"/>`,
      ...ends,
    ],
  );
}
