import { DOMParser } from "@xmldom/xmldom";
import { expect, test } from "vitest";
import { meanHead } from "../../../src/export/measuring/meanHead";
import { composeMeasuringReport, measuringText } from "../../../src/export/measuring/measuringReport";
import { measuringSheet } from "../../../src/export/measuring/measuringSheet";
import { TAKEN_FIELDS } from "../../../src/head/readings";
import { wearerFromDocument } from "../../../src/head/wearer";
import { readMeasures } from "../../../src/head/wearerMeasures";
import { WearerReader } from "../../../src/head/wearerReader";

const document = {
  name: "Pip & <the> Minnow",
  units: "cm" as const,
  girth: { readings: [53.4, 53.6] },
  breadth: { value: 14.6, tolerance: 0.2 },
};
const { wearer } = wearerFromDocument(document);
const report = composeMeasuringReport(
  document.name,
  "cm",
  readMeasures(new WearerReader(), document, "cm"),
  wearer?.estimated ?? [],
);

const textOf = (html: string) => {
  const faults: string[] = [];
  const page = new DOMParser({ onError: (_level, text) => faults.push(text) }).parseFromString(
    html.replace("<!DOCTYPE html>\n", ""),
    "application/xhtml+xml",
  );
  expect(faults).toEqual([]);
  return page;
};

test("a report tells what was measured and what is estimated, in the file's units", () => {
  expect(report.measured).toEqual([
    {
      measure: "girth",
      value: 53.5,
      tolerance: 0.3,
      readings: [53.4, 53.6],
      difference: 0.2,
      differenceAllowed: 0.6,
    },
    { measure: "breadth", value: 14.6, tolerance: 0.2, differenceAllowed: 0.3 },
  ]);
  expect(report.missing.map(({ measure }) => measure)).toEqual(
    TAKEN_FIELDS.filter((field) => field !== "girth" && field !== "breadth"),
  );
  const length = wearer?.estimated.find(({ field }) => field === "length");
  expect(report.missing[0].estimate).toBeCloseTo((length?.value ?? 0) / 10, 2);
  expect(report.missing[0].tolerance).toBeCloseTo((2 * (length?.standardError ?? 0)) / 10, 2);
  expect(measuringText(report)).toContain("53.5 cm ± 0.3 (53.4 and 53.6 differ by 0.2; up to 0.6 is usual)");
});

test("a blank sheet has every measure with its drawing and four empty boxes", () => {
  const html = measuringSheet({ form: meanHead() });
  const page = textOf(html);
  const boxes = Array.from(page.getElementsByTagName("div")).filter(
    (one) => one.getAttribute("class") === "boxes",
  );
  expect(boxes).toHaveLength(TAKEN_FIELDS.length);
  for (const one of boxes) {
    const values = Array.from(one.getElementsByTagName("b"));
    expect(values.map(({ textContent }) => textContent)).toEqual(["", "", "", ""]);
  }
  expect(page.getElementsByTagName("desc")).toHaveLength(TAKEN_FIELDS.length);
  const ids = [...html.matchAll(/\sid="([^"]+)"/g)].map(([, id]) => id);
  expect(new Set(ids).size).toBe(ids.length);
  expect(html).toContain("not protective equipment");
  expect(html).toContain("6 mm (0.24 in)");
  expect(html).not.toMatch(/<script|src=|href=/);
});

test("a sheet of a wearer is filled with what is known, and escapes names", () => {
  const html = measuringSheet({ form: meanHead(), report, notes: "Glasses & <fringe>", helps: "length" });
  const page = textOf(html);
  expect(page.getElementsByTagName("h1")[0].textContent).toBe("Measuring sheet of Pip & <the> Minnow");
  const values = Array.from(page.getElementsByTagName("b")).map(({ textContent }) => textContent);
  expect(values.slice(0, 4)).toEqual(["53.4", "53.6", "", "53.5"]);
  expect(values.slice(8, 12)).toEqual(["", "", "", "14.6"]);
  expect(html).toContain("Not measured yet; estimated");
  expect(html.match(/helps most/g)).toHaveLength(1);
});
