import { describe, expect, it } from "vitest";
import { boxOf } from "../../src/checks/massProperties";
import { type DrawingInput, drawingSheet } from "../../src/export/drawing";
import type { PartMesh, TriangleMesh } from "../../src/geometry/mesh";
import { buildHeadForm } from "../../src/head";
import { box, ellipsoid, moved, together, torus } from "../checks/shapes";
import { extentOfPath, wellFormed } from "./svgReading";

const head = buildHeadForm({ girth: 561, length: 190, breadth: 148, crownHeight: 127 }).mesh();

function pieceOf(...parts: TriangleMesh[]): PartMesh {
  return {
    ...together(...parts),
    partOfTriangle: Int32Array.from(parts.flatMap((part, i) => Array(part.triangles.length / 3).fill(i))),
  };
}

/** A ring about the brow with four posts of different height, none hidden behind the head at its end. */
const crown = pieceOf(
  moved(torus(1, 0.07, 120, 24), [0, 4, 62], [88, 106, 88]),
  box([80, -10, 60], [90, 10, 171.3]),
  box([-103.4, -10, 60], [-80, 10, 150]),
  box([-12, 100, 55], [12, 121.7, 140]),
  box([-12, -118.2, 60], [12, -95, 160]),
);

const input: DrawingInput = {
  piece: crown,
  head,
  headpiece: "Crown of posts",
  wearer: "Maren of the Shoals",
  material: "PLA",
  massPrinted: 230.6,
  massSolid: 402.4,
  cautions: ["This is costume, not protective equipment.", "It burns."],
};
const svg = drawingSheet(input);

/** The part of the sheet that draws one view. */
function viewOf(sheet: string, name: string): { text: string; reduction: number } {
  const start = sheet.indexOf(`<g id="${name}-view"`);
  const end = sheet.indexOf("\n</g>\n<g id=", start);
  const text = sheet.slice(start, end > 0 ? end : undefined);
  return { text, reduction: Number(/data-reduction="([\d.]+)"/.exec(text)?.[1]) };
}

const pathOf = (text: string, name: string): string =>
  new RegExp(`<path class="${name}"[^>]* d="([^"]+)"`).exec(text)?.[1] ?? "";

describe("drawingSheet", () => {
  it("is well-formed, holds nothing from outside, and is the same text twice", () => {
    expect(wellFormed(svg)).toBe("");
    expect(svg.replace('xmlns="http://www.w3.org/2000/svg"', "")).not.toMatch(
      /https?:|href|<script|<image|@import/,
    );
    expect(drawingSheet(input) === svg).toBe(true);
    expect(svg.includes('width="420mm" height="297mm" viewBox="0 0 420 297"')).toBe(true);
    expect(svg.length).toBeLessThan(1_500_000);
    expect(/NaN|Infinity|undefined|\d\.\d{3}/.exec(svg)).toBeNull();
  });

  it("draws every view to the stated scale: outlines are as large as the piece's box", () => {
    const { least, most } = boxOf(crown);
    const size = most.map((value, axis) => value - least[axis]);
    const scale = Number(/1 : ([\d.]+), mm/.exec(svg)?.[1]);
    for (const [name, wide, high] of [
      ["front", size[0], size[2]],
      ["side", size[1], size[2]],
      ["top", size[0], size[1]],
    ] as const) {
      const { text, reduction } = viewOf(svg, name);
      expect(reduction).toBe(scale);
      const extent = extentOfPath(pathOf(text, "piece-outline"));
      // On paper, within a fifth of a millimetre: about half the width of the line.
      expect(Math.abs(extent.right - extent.left - wide / reduction), name).toBeLessThan(0.2);
      expect(Math.abs(extent.bottom - extent.top - high / reduction), name).toBeLessThan(0.2);
    }
  });

  it("shows the head's outline in each view, as broad and long as the head, and dashed inside the piece", () => {
    const { least, most } = boxOf(head);
    const { text, reduction } = viewOf(svg, "front");
    const front = extentOfPath(pathOf(text, "head-outline"));
    expect(Math.abs((front.right - front.left) * reduction - (most[0] - least[0]))).toBeLessThan(1);
    const side = extentOfPath(pathOf(viewOf(svg, "side").text, "head-outline"));
    expect(Math.abs((side.right - side.left) * reduction - (most[1] - least[1]))).toBeLessThan(1);
    for (const name of ["front", "side", "top", "picture"]) {
      expect(/class="head-inside"[^>]*stroke-dasharray/.test(viewOf(svg, name).text), name).toBe(true);
    }
  });

  it("lines the views up: front and side in height, front and above in breadth", () => {
    const outline = (name: string) => extentOfPath(pathOf(viewOf(svg, name).text, "piece-outline"));
    expect(Math.abs(outline("front").top - outline("side").top)).toBeLessThan(0.1);
    expect(Math.abs(outline("front").left - outline("top").left)).toBeLessThan(0.1);
    expect(outline("side").left).toBeGreaterThan(outline("front").right);
    expect(outline("top").top).toBeGreaterThan(outline("front").bottom);
  });

  it("writes the overall dimensions of the box, and the reach over the head", () => {
    const { least, most } = boxOf(crown);
    const text = (name: string): number =>
      Number(new RegExp(`data-name="${name}">.*?<text[^>]*>([\\d.]+)</text>`).exec(svg)?.[1]);
    expect(text("width")).toBeCloseTo(most[0] - least[0], 1);
    expect(text("depth")).toBeCloseTo(most[1] - least[1], 1);
    expect(text("height")).toBeCloseTo(most[2] - least[2], 1);
    expect(text("above the head")).toBeCloseTo(most[2] - boxOf(head).most[2], 1);
    for (const words of [
      "Crown of posts",
      "Maren of the Shoals",
      "231 g",
      "402 g",
      "197.6 × 239.9 × 116.3 mm",
      "costume, not",
    ]) {
      expect(svg.includes(words), words).toBe(true);
    }
  });

  it("has a scale bar as long as it says", () => {
    const bar = /<g class="scale-bar" data-mm="(\d+)">(.*?)<\/g>/.exec(svg);
    const widths = [...(bar?.[2] ?? "").matchAll(/<rect [^>]*? width="([\d.]+)"/g)].map((match) =>
      Number(match[1]),
    );
    const length = widths.reduce((a, b) => a + b, 0);
    expect(Math.abs(length * viewOf(svg, "front").reduction - Number(bar?.[1]))).toBeLessThan(0.2);
  });

  it("draws lines and tones in every view, not a blank", () => {
    for (const name of ["front", "side", "top", "picture"]) {
      const { text } = viewOf(svg, name);
      expect(text.match(/<path /g)?.length, name).toBeGreaterThan(9);
      expect(pathOf(text, "piece-seen").length, name).toBeGreaterThan(300);
    }
  });

  it.each([
    ["a comb of 30 mm", 0.15],
    ["a giant's of 1.5 m", 7],
  ])("keeps %s within the frame", (_, factor) => {
    const scaled = moved(crown, [0, 0, 0], [factor, factor, factor]);
    const sheet = drawingSheet({ ...input, piece: { ...crown, positions: scaled.positions } });
    expect(wellFormed(sheet)).toBe("");
    for (const name of ["front", "side", "top"]) {
      for (const line of ["piece-outline", "head-outline"]) {
        const d = pathOf(viewOf(sheet, name).text, line);
        if (d === "") continue;
        const { left, right, top, bottom } = extentOfPath(d);
        expect(left).toBeGreaterThan(10);
        expect(right).toBeLessThan(410);
        expect(top).toBeGreaterThan(10);
        if (line === "piece-outline") expect(bottom).toBeLessThan(287);
      }
    }
  });

  it("draws a piece without a head, and writes any name", () => {
    const none = { positions: new Float32Array(0), triangles: new Uint32Array(0) };
    const sheet = drawingSheet({ ...input, head: none, headpiece: 'Foam & "Salt" <3', wearer: "Ø \u0007" });
    expect(wellFormed(sheet)).toBe("");
    expect(sheet.includes("Foam &amp; &quot;Salt&quot; &lt;3")).toBe(true);
    expect(sheet.includes('class="head-outline"')).toBe(false);
  });

  it("refuses a piece without triangles", () => {
    const empty = {
      positions: new Float32Array(0),
      triangles: new Uint32Array(0),
      partOfTriangle: new Int32Array(0),
    };
    expect(() => drawingSheet({ ...input, piece: empty })).toThrow(/no triangles/);
  });

  it("hides behind the head what lies behind it", () => {
    const behind = pieceOf(ellipsoid(20, 20, 20, 20, 30), moved(ellipsoid(10, 10, 10, 20, 30), [0, 0, 0]));
    const sheet = drawingSheet({
      ...input,
      piece: { ...behind, positions: moved(behind, [0, -150, 60]).positions },
    });
    expect(pathOf(viewOf(sheet, "front").text, "piece-outline")).toBe("");
    expect(pathOf(viewOf(sheet, "front").text, "piece-whole")).not.toBe("");
    expect(pathOf(viewOf(sheet, "side").text, "piece-outline")).not.toBe("");
  });
});
