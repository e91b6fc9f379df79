import { hoursAndMinutes } from "../durations";
import { num } from "../sheet/svg";
import { evenStep } from "./axis";
import { filledBox, groupNames, groupPatterns, kindGroups } from "./kindStyles";
import { timeByHeight } from "./layerTimes";
import { heightFrame, plotDocument, plotText } from "./plotFrame";
import type { WorkshopPrint } from "./workshopInput";

/** Bars that the plot has at most. */
const mostBars = 26;

/**
 * What each stretch of height takes, by what takes it: bars on their sides as SVG, 420 px wide.
 * @param name unique in the page
 */
export function timeOfHeights(print: WorkshopPrint, name: string): string {
  const { count, layerHeight } = print.layers;
  const tall = count * layerHeight;
  const step = Math.max(layerHeight, evenStep(tall, mostBars));
  const bars = timeByHeight(print, step);
  const totals = bars.map((bar) => kindGroups.reduce((sum, group) => sum + bar[group], 0));
  const greatest = Math.max(...totals);
  const legendHeight = 46;
  const frame = heightFrame(
    greatest > 0 ? greatest : 1,
    tall,
    `time for each ${num(step)} mm of height`,
    legendHeight,
  );
  const boxes = bars.flatMap((bar, i) => {
    const [low, high] = [frame.y(i * step), frame.y(Math.min(tall, (i + 1) * step))];
    let before = 0;
    return kindGroups.map((group) => {
      const [from, to] = [frame.x(before), frame.x(before + bar[group])];
      before += bar[group];
      if (to - from < 0.01) return "";
      const gap = low - high > 4 ? 0.7 : 0;
      return filledBox(name, group, {
        x: from,
        y: high + gap,
        width: to - from,
        height: low - high - 2 * gap,
      });
    });
  });
  const legend = kindGroups.map((group, i) => {
    const [x, y] = [12 + 146 * (i % 3), frame.bottom + 48 + 22 * Math.floor(i / 3)];
    return (
      filledBox(name, group, { x, y, width: 22, height: 13 }, "legend") +
      plotText(x + 28, y + 11, groupNames[group])
    );
  });
  const slowest = totals.indexOf(greatest);
  return plotDocument(
    name,
    frame,
    "Time by height and kind",
    `Of ${num(tall)} mm, the stretch from ${num(slowest * step)} to ${num(Math.min(tall, (slowest + 1) * step))} mm takes longest: ${hoursAndMinutes(greatest)}.`,
    [groupPatterns(name), frame.axes, ...boxes.filter((box) => box !== ""), ...legend],
  );
}
