import type { Document } from "@xmldom/xmldom";
import { describe, expect, it } from "vitest";
import type { WorkshopInput } from "../../src/export/workshop/workshopInput";
import { workshopSheet } from "../../src/export/workshop/workshopSheet";
import { attributesOf, parsedXml } from "./threeMfReading";
import { bareSheet, cautions, fullSheet, layersOf, print, square } from "./workshopInputs";

/** The sheet by a strict XML parser, which throws where it is not well-formed. */
const parsed = (input: WorkshopInput): Document =>
  parsedXml(workshopSheet(input).replace("<!DOCTYPE html>\n", ""));

const elements = (document: Document) => [...document.getElementsByTagName("*")];
const body = (input: WorkshopInput): string =>
  parsed(input).getElementsByTagName("body")[0].textContent ?? "";

const sheets: Record<string, WorkshopInput> = {
  bare: bareSheet,
  full: fullSheet,
  "of two plates": {
    ...fullSheet,
    prints: [
      { ...print, name: "Plate 1" },
      { ...print, name: "Plate 2" },
    ],
  },
};

describe("workshopSheet", () => {
  for (const [name, input] of Object.entries(sheets)) {
    it(`is well-formed and needs nothing from outside: ${name}`, () => {
      const document = parsed(input);
      const found = elements(document);
      const ids = found.map((element) => element.getAttribute("id")).filter((id) => id !== null && id !== "");
      expect(new Set(ids).size).toBe(ids.length);
      const allowed = new Set(["http://www.w3.org/1999/xhtml", "http://www.w3.org/2000/svg"]);
      for (const element of found) {
        expect(["script", "link", "iframe", "object", "base", "form", "a", "use"]).not.toContain(
          element.nodeName,
        );
        for (const [attribute, value] of Object.entries(attributesOf(element))) {
          expect(attribute).not.toMatch(/^on/);
          if (attribute === "src") expect(value).toMatch(/^data:image\/svg\+xml,/);
          else if (attribute === "xmlns") expect(allowed).toContain(value);
          else expect(value).not.toMatch(/https?:|\/\//);
          expect(attribute).not.toMatch(/href/);
          const reference = /url\((.*?)\)/.exec(value);
          if (reference !== null) expect(ids).toContain(reference[1].replace(/^#/, ""));
        }
      }
      const style = document.getElementsByTagName("style")[0].textContent ?? "";
      expect(style).not.toMatch(/url\(|@import|https?:/);
      expect(style).toContain("@page");
    });
  }

  it("allows itself no script and no network", () => {
    const policy = [...parsed(bareSheet).getElementsByTagName("meta")].find(
      (meta) => meta.getAttribute("http-equiv") === "Content-Security-Policy",
    );
    expect(policy?.getAttribute("content")).toBe(
      "default-src 'none'; img-src data:; style-src 'unsafe-inline'",
    );
  });

  it("always has all its cautions, and is refused without", () => {
    for (const input of Object.values(sheets)) {
      for (const caution of cautions) expect(body(input)).toContain(caution);
    }
    expect(() => workshopSheet({ ...fullSheet, cautions: [] })).toThrow(/cautions/);
  });

  it("says everything that it was given", () => {
    const said = body(fullSheet);
    const given: string[] = [];
    const collect = (value: unknown): void => {
      if (typeof value === "string") given.push(value);
      else if (Array.isArray(value)) value.forEach(collect);
      else if (typeof value === "object" && value !== null) Object.values(value).forEach(collect);
    };
    const { standing, prints, filament, findings, pieces, ...rest } = fullSheet;
    collect(rest);
    collect([standing?.words, standing?.choices?.map(({ picture, ...choice }) => choice)]);
    collect([pieces?.rows, pieces?.assembly, pieces?.plates?.map(({ picture, ...plate }) => plate)]);
    expect(given.length).toBeGreaterThan(50);
    for (const text of given) expect(said).toContain(text);
    const numbers = [
      // Supports and props.
      ...["412.3", "38.21", "6.4", "17 columns", "120.2", "9.3", "181", "4.2", "179", "6.5", "1.8"],
      // The piece's size to the tenth; filament by kind; the finding with its place, by name alone.
      ...[
        "210 × 120.4 × 88",
        "312",
        "402",
        "310.2 g, 104 m",
        "98.1 g, 32.9 m",
        "kelp-crest.headpiece.ts, line 41",
      ],
      // 120,000 mm² of surface, primer at 8 m²/l twice, paint at 10 m²/l twice; 1250 mm² of scars.
      ...["1200 cm²", "30 ml", "24 ml", "12.5 cm²"],
      // 300 s + 500 · 70 s + 250 · 30 s = 42,800 s; the spool's end in the 300th layer after 22,800 s.
      ...["11 h 53 min", "500 layers", "100 mm high", "layer 300, 60 mm", "6 h 20 min"],
    ];
    for (const number of numbers) expect(said).toContain(number);
    expect(said).not.toContain("/home/someone");
  });

  it("leaves out what is not there", () => {
    const said = body(bareSheet);
    for (const heading of [
      "Supports",
      "Props",
      "Pieces",
      "Finishing",
      "What if",
      "Which way up",
      "Hours and filament",
    ]) {
      expect(said).not.toContain(heading);
      expect(body(fullSheet)).toContain(heading);
    }
    expect(said).not.toMatch(/undefined|NaN|\[object/);
    expect(body(fullSheet)).not.toMatch(/undefined|NaN|\[object/);
  });

  it("escapes whatever it is called", () => {
    const nasty = `<script>alert("1")</script> & 'Krone' ]]> \u0000 &amp;`;
    const shown = `<script>alert("1")</script> & 'Krone' ]]>  &amp;`;
    const input: WorkshopInput = {
      ...fullSheet,
      title: nasty,
      wearer: nasty,
      setup: nasty,
      figures: [{ label: nasty, value: nasty, note: nasty }],
      standing: { words: nasty, picture: square },
      prints: [{ ...print, name: nasty }],
      settings: [{ label: nasty, value: nasty, note: nasty }],
      findings: [{ id: "x", severity: "note", text: nasty, suggestion: nasty, file: nasty }],
      whatIf: { wish: nasty, columns: [nasty], rows: [{ cells: [nasty] }] },
      cautions: [nasty],
    };
    const document = parsed(input);
    expect(document.getElementsByTagName("script").length).toBe(0);
    expect(document.getElementsByTagName("h1")[0].textContent).toBe(`${shown} for ${shown}`);
    expect(document.getElementsByTagName("img")[0].getAttribute("alt")).toContain(shown);
  });

  it("keeps pictures as they were given, each by itself", () => {
    const images = [...parsed(fullSheet).getElementsByTagName("img")];
    expect(images.length).toBe(3);
    for (const image of images) {
      const address = image.getAttribute("src") ?? "";
      expect(decodeURIComponent(address.slice(address.indexOf(",") + 1))).toBe(square);
      expect(image.getAttribute("alt")).not.toBe("");
    }
  });

  it("gives the same text again", () => {
    expect(workshopSheet(fullSheet)).toBe(workshopSheet(structuredClone(fullSheet)));
  });

  it("refuses layers that hold no numbers, and names them", () => {
    const broken = (more: Partial<typeof print>) => () =>
      workshopSheet({ ...bareSheet, prints: [{ ...print, ...more }] });
    expect(
      broken({ layers: layersOf(3, 0.2, (kind, i) => (kind === "travel" && i === 1 ? Number.NaN : 1)) }),
    ).toThrow(/Layer 1 takes NaN s of "travel"/);
    expect(broken({ layers: layersOf(0, 0.2, () => 1), spoolEnds: [] })).toThrow(/at least one layer/);
    expect(broken({ layers: layersOf(3, 0, () => 1), spoolEnds: [] })).toThrow(/0 mm high/);
    expect(broken({ layers: layersOf(3, 0.2, () => 1) })).toThrow(/Spool 1 ends in layer 299/);
    expect(broken({ startTime: -1 })).toThrow(/-1 s/);
  });
});
