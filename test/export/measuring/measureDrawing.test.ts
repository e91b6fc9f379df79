import { DOMParser } from "@xmldom/xmldom";
import { beforeAll, describe, expect, it, test } from "vitest";
import { meanHead } from "../../../src/export/measuring/meanHead";
import { measureDrawing } from "../../../src/export/measuring/measureDrawing";
import { measureStrokes, strokeLength } from "../../../src/export/measuring/measureStrokes";
import { MEASURE_WORDS } from "../../../src/export/measuring/measureWords";
import { completeMeasurements } from "../../../src/head/completeMeasurements";
import { buildHeadForm, type HeadForm } from "../../../src/head/headForm";
import { measureLevel } from "../../../src/head/measureMesh";
import { TAKEN_FIELDS } from "../../../src/head/readings";

const parsed = (svg: string) => {
  const faults: string[] = [];
  const document = new DOMParser({ onError: (_level, text) => faults.push(text) }).parseFromString(
    svg,
    "image/svg+xml",
  );
  expect(faults).toEqual([]);
  return document;
};

describe.each([
  ["a mean head", { girth: 568 }],
  ["a long head", { girth: 590, length: 210, breadth: 150, crownHeight: 135 }],
  ["a child's head", { girth: 505 }],
])("on %s", (_name, given) => {
  let form: HeadForm;
  beforeAll(() => {
    form = buildHeadForm(completeMeasurements(given).measurements);
  });

  // What the tape is held against is read off the form's mesh: level sections and their hulls.
  it("the tape and the instruments are as long as the measures that the form's own mesh has", () => {
    const { measured } = form;
    for (const field of ["girth", "length", "breadth", "crownHeight"] as const) {
      const drawn = strokeLength(measureStrokes(form, field).strokes[0]);
      expect(Math.abs(drawn / measured[field] - 1), field).toBeLessThan(0.01);
    }
  });

  it("the tape round the neck is as long as the section of the mesh there", () => {
    const [tape] = measureStrokes(form, "neckGirth").strokes;
    const section = measureLevel(form.mesh(), tape.points[0][2]);
    expect(section).toBeDefined();
    expect(Math.abs(strokeLength(tape) / (section?.girth ?? 0) - 1)).toBeLessThan(0.01);
  });

  it("the others are as long as the form was asked for", () => {
    for (const field of ["earLength", "earProtrusion", "interpupillaryDistance"] as const) {
      const drawn = strokeLength(measureStrokes(form, field).strokes[0]);
      expect(Math.abs(drawn / (form.measurements[field] ?? 0) - 1), field).toBeLessThan(0.01);
    }
  });

  it("a tape lies on the head", () => {
    for (const field of ["girth", "bitragionArc", "neckGirth"] as const) {
      const [tape] = measureStrokes(form, field).strokes;
      expect(tape.kind).toBe("tape");
      for (const point of tape.points) expect(Math.abs(form.nearest(point).distance)).toBeLessThan(0.1);
    }
  });
});

test("the arc over the crown of a mean head is what its measures foretell", () => {
  const drawn = strokeLength(measureStrokes(meanHead(), "bitragionArc").strokes[0]);
  expect(Math.abs(drawn / (meanHead().measurements.bitragionArc ?? 0) - 1)).toBeLessThan(0.01);
});

test("the rule at the ear spans the ear: a form without ears differs from it between its ends only", () => {
  const form = meanHead();
  const earless = buildHeadForm({ ...form.measurements, earProtrusion: 0.001 });
  const [{ points }] = measureStrokes(form, "earLength").strokes;
  const [lobe, top] = points;
  const sideAt = (head: HeadForm, y: number, z: number) => {
    let side = 50;
    for (let x = 50; x < 110; x += 0.25) if (head.signedDistance([x, y, z]) < 0) side = x;
    return side;
  };
  const reliefAt = (share: number) => {
    const [y, z] = [1, 2].map((axis) => lobe[axis] + share * (top[axis] - lobe[axis]));
    return sideAt(form, y, z) - sideAt(earless, y, z);
  };
  for (const inside of [0.05, 0.3, 0.5, 0.7, 0.95]) expect(reliefAt(inside)).toBeGreaterThan(2);
  for (const outside of [-0.1, 1.1]) expect(reliefAt(outside)).toBeLessThan(0.5);
});

describe.each(TAKEN_FIELDS)("the drawing of %s", (field) => {
  it("is well-formed, told in words, and loads and runs nothing", () => {
    const svg = measureDrawing(meanHead(), field, "one");
    const document = parsed(svg);
    const whole = document.documentElement;
    expect(whole?.getAttribute("role")).toBe("img");
    expect(whole?.getAttribute("aria-labelledby")).toBe("one-title one-desc");
    expect(document.getElementById("one-title")?.textContent).toBe(MEASURE_WORDS[field].title);
    expect(document.getElementById("one-desc")?.textContent).toBe(MEASURE_WORDS[field].picture);
    const names = [
      ...new Set(Array.from(document.getElementsByTagName("*")).map(({ localName }) => localName)),
    ];
    expect(
      names.every((name) => ["svg", "title", "desc", "path", "circle", "text"].includes(name ?? "")),
    ).toBe(true);
    expect(svg).not.toMatch(/style=|href|url\(|NaN|Infinity/);
    expect(svg.length).toBeLessThan(40_000);
  });

  it("is the same each time", () => {
    expect(measureDrawing(meanHead(), field)).toBe(measureDrawing(meanHead(), field));
  });
});

test("straight measures have their length on the page too", () => {
  for (const field of ["length", "breadth", "interpupillaryDistance"] as const) {
    const svg = measureDrawing(meanHead(), field);
    const scale = Number(/data-scale="([\d.]+)"/.exec(svg)?.[1]);
    const path =
      /class="measure" stroke="#000" stroke-width="2.6" d="M([\d.-]+) ?([\d.-]+)l(-?[\d.]+)[ -]/.exec(svg);
    const mm = Math.abs(Number(path?.[3])) / scale;
    expect(Math.abs(mm / (meanHead().measurements[field] ?? 0) - 1), field).toBeLessThan(0.01);
  }
});

test("what the head hides of the tape is dashed", () => {
  const svg = measureDrawing(meanHead(), "girth");
  const hidden = svg.match(/class="measure hidden"/g) ?? [];
  expect(hidden.length).toBeGreaterThanOrEqual(1);
  expect(svg).toContain("stroke-dasharray");
});
