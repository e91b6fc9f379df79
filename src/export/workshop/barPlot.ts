import { num } from "../sheet/svg";
import { filledBox, groupPatterns, type KindGroup } from "./kindStyles";
import { plotDocument, plotText } from "./plotFrame";

export interface Bar {
  readonly label: string;
  readonly value: number;
  /** The value as it is read. */
  readonly text: string;
  readonly group: KindGroup;
}

const width = 420;
const rowHeight = 22;
const [from, to] = [128, 292];

/**
 * Amounts as bars on their sides, the greatest first, those of nothing left out: SVG, 420 px wide.
 * @param name unique in the page
 * @throws RangeError when an amount is negative or not finite.
 */
export function barPlot(bars: readonly Bar[], title: string, name: string): string {
  for (const { label, value } of bars) {
    if (!(value >= 0) || !Number.isFinite(value)) {
      throw new RangeError(`"${label}" is ${value}: a bar shows a finite number from 0.`);
    }
  }
  const shown = bars.filter(({ value }) => value > 0).sort((a, b) => b.value - a.value);
  const greatest = shown[0]?.value ?? 1;
  const height = Math.max(1, shown.length) * rowHeight + 12;
  return plotDocument(
    name,
    { width, height },
    title,
    `${shown.map(({ label, text }) => `${label} ${text}`).join("; ")}.`,
    [
      groupPatterns(name),
      ...shown.map(({ label, value, text, group }, i) => {
        const y = 6 + i * rowHeight;
        const length = ((to - from) * value) / greatest;
        return (
          plotText(from - 8, y + 14, label, { anchor: "end" }) +
          filledBox(name, group, { x: from, y: y + 2, width: length, height: rowHeight - 5 }) +
          plotText(from + length + 7, y + 14, text)
        );
      }),
      `<path d="M${num(from)} 4V${num(height - 4)}" stroke="#1b1d21" stroke-width="1"/>`,
    ],
  );
}
