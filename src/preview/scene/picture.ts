import type { BalanceLines } from "./balanceLayout";
import { centreRadius, quarters } from "./balanceMarks";
import { cssColour } from "./colour";
import type { Spot } from "./dimensionLayout";
import { arrowHeads } from "./dimensions";
import type { MarkColours } from "./markColours";
import { countPlace, countText, markSymbols, pinSize, pinStem } from "./markSymbols";
import type { OverlayContent } from "./overlay";
import type { Theme } from "./theme";

/** Pins that share a place stand this far apart, CSS pixels. */
const markStep = 20;

/**
 * A PNG of the picture with what stands over it.
 * @param canvas drawn in this same task, so that it still holds what it drew
 * @param ratio its dots per CSS pixel
 */
export async function pngOf(
  canvas: HTMLCanvasElement,
  ratio: number,
  content: OverlayContent,
  theme: Theme,
  markColours: MarkColours,
): Promise<ArrayBuffer> {
  const copy = document.createElement("canvas");
  copy.width = canvas.width;
  copy.height = canvas.height;
  const pen = copy.getContext("2d");
  if (!pen) throw new Error("the picture cannot be drawn: there is no 2D canvas here");
  pen.drawImage(canvas, 0, 0);
  pen.scale(ratio, ratio);
  pen.font = `12px ${getComputedStyle(canvas).fontFamily || "sans-serif"}`;
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  drawPlateLabel(pen, content.plateLabel, theme);
  drawDimensions(pen, content.dimensions, theme);
  if (content.balance) drawBalance(pen, content.balance, theme);
  if (content.tightLabel) {
    const { text, spot } = content.tightLabel;
    write(pen, text, spot.x, spot.y, theme.misfit, theme);
  }
  drawMarks(pen, content.marks, theme, markColours);
  const blob = await new Promise<Blob | null>((resolve) => copy.toBlob(resolve, "image/png"));
  if (!blob) throw new Error("the picture could not be made: it is too large or empty");
  return blob.arrayBuffer();
}

function drawPlateLabel(
  pen: CanvasRenderingContext2D,
  label: OverlayContent["plateLabel"],
  theme: Theme,
): void {
  if (label) write(pen, label.text, label.spot.x, label.spot.y + 15, theme.misfit, theme);
}

function drawDimensions(
  pen: CanvasRenderingContext2D,
  lines: OverlayContent["dimensions"],
  theme: Theme,
): void {
  pen.strokeStyle = cssColour(theme.foreground);
  pen.fillStyle = cssColour(theme.foreground);
  pen.lineWidth = 1;
  for (const line of lines) {
    pen.beginPath();
    for (const [from, to] of [...line.extensions, [line.from, line.to] as const]) {
      pen.moveTo(from.x, from.y);
      pen.lineTo(to.x, to.y);
    }
    pen.stroke();
    for (const [tip, ...others] of arrowHeads(line)) {
      pen.beginPath();
      pen.moveTo(tip.x, tip.y);
      for (const { x, y } of others) pen.lineTo(x, y);
      pen.fill();
    }
    write(pen, line.text, line.label.x, line.label.y, theme.foreground, theme);
  }
}

function drawMarks(
  pen: CanvasRenderingContext2D,
  marks: OverlayContent["marks"],
  theme: Theme,
  colours: MarkColours,
): void {
  for (const { mark, others, spot, isBehind, rank } of marks) {
    if (!spot) continue;
    const { body, sign } = markSymbols[mark.severity];
    pen.save();
    pen.translate(spot.x + rank * markStep - pinSize.width / 2, spot.y - pinSize.height);
    pen.globalAlpha = isBehind ? 0.45 : 1;
    pen.lineWidth = 1.5;
    pen.strokeStyle = cssColour(theme.foreground);
    pen.stroke(new Path2D(pinStem));
    pen.fillStyle = colours[mark.severity];
    pen.strokeStyle = cssColour(theme.background);
    pen.fill(new Path2D(body));
    pen.stroke(new Path2D(body));
    pen.lineWidth = 2.2;
    pen.lineCap = "round";
    pen.stroke(new Path2D(sign));
    if (others.length > 0) {
      pen.textAlign = "start";
      write(pen, countText(others.length), countPlace.x, countPlace.y, theme.foreground, theme);
    }
    pen.restore();
  }
}

function drawBalance(
  pen: CanvasRenderingContext2D,
  { contacts, centre, foot, joint }: BalanceLines,
  theme: Theme,
): void {
  pen.save();
  pen.strokeStyle = cssColour(theme.background);
  pen.fillStyle = cssColour(theme.lit);
  pen.lineWidth = 1.5;
  const disc = (x: number, y: number, radius: number) => {
    pen.beginPath();
    pen.arc(x, y, radius, 0, 2 * Math.PI);
    pen.fill();
    pen.stroke();
  };
  for (const { spot, radius } of contacts) disc(spot.x, spot.y, radius);
  pen.fillStyle = cssColour(theme.background);
  pen.strokeStyle = cssColour(theme.foreground);
  const line = (from: Spot | undefined, to: Spot | undefined, dash: number[]) => {
    if (!from || !to) return;
    pen.setLineDash(dash);
    pen.beginPath();
    pen.moveTo(from.x, from.y);
    pen.lineTo(to.x, to.y);
    pen.stroke();
    pen.setLineDash([]);
  };
  line(centre, foot, []);
  line(foot, joint, [4, 3]);
  if (joint) disc(joint.x, joint.y, 3.5);
  if (centre) {
    disc(centre.x, centre.y, centreRadius);
    pen.fillStyle = cssColour(theme.foreground);
    pen.fill(new Path2D(quarters(centre.x, centre.y)));
  }
  pen.restore();
}

function write(
  pen: CanvasRenderingContext2D,
  text: string,
  x: number,
  y: number,
  colour: Theme["foreground"],
  theme: Theme,
): void {
  pen.save();
  pen.lineWidth = 4;
  pen.lineJoin = "round";
  pen.strokeStyle = cssColour(theme.background);
  pen.strokeText(text, x, y);
  pen.fillStyle = cssColour(colour);
  pen.fillText(text, x, y);
  pen.restore();
}
