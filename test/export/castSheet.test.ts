import type { Document, Element } from "@xmldom/xmldom";
import { describe, expect, test } from "vitest";
import { dateText, momentText, plainHours, spareText } from "../../src/export/castDates";
import { type CastReport, castJson } from "../../src/export/castReport";
import { castSheet } from "../../src/export/castSheet/castSheet";
import { hoursOf, timeChart } from "../../src/export/castSheet/timeChart";
import { castAnswer, castText } from "../../src/export/castText";
import { goodCast, lateCast } from "./castReports";
import { wellFormed } from "./svgReading";
import { attributesOf, parsedXml } from "./threeMfReading";

/** The sheet by a strict XML parser, which throws where it is not well-formed. */
const parsed = (report: CastReport): Document =>
  parsedXml(castSheet(report).replace("<!DOCTYPE html>\n", ""));
const all = (document: Document | Element, name: string) => [...document.getElementsByTagName(name)];
const textOf = (report: CastReport) => all(parsed(report), "body")[0].textContent ?? "";

describe.each([
  ["in time", goodCast],
  ["late", lateCast],
] as const)("the sheet of a cast that is %s", (_, report) => {
  test("is well-formed and needs nothing from outside", () => {
    const document = parsed(report);
    for (const element of all(document, "*")) {
      expect(["script", "link", "iframe", "object", "base", "form", "a", "use"]).not.toContain(
        element.nodeName,
      );
      for (const [attribute, value] of Object.entries(attributesOf(element))) {
        expect(attribute).not.toMatch(/^on|href/);
        if (attribute === "src") expect(value).toMatch(/^data:image\/svg\+xml,/);
        else if (attribute !== "xmlns") expect(value).not.toMatch(/https?:|\/\//);
      }
    }
    const policy = all(document, "meta").find(
      (meta) => meta.getAttribute("http-equiv") === "Content-Security-Policy",
    );
    expect(policy?.getAttribute("content")).toBe(
      "default-src 'none'; img-src data:; style-src 'unsafe-inline'",
    );
    const ids = all(document, "*").flatMap((element) => element.getAttribute("id") || []);
    expect(new Set(ids).size).toBe(ids.length);
  });

  test("has every piece, print and caution", () => {
    const text = textOf(report);
    for (const { headpiece, wearer } of report.pieces) {
      expect(text).toContain(headpiece);
      expect(text).toContain(wearer);
    }
    for (const caution of report.cautions) expect(text).toContain(caution);
    const order = all(parsed(report), "table").find((one) => one.textContent!.includes("can wait"))!;
    expect(all(order, "tr")).toHaveLength(report.prints.length + 1);
    expect(text).toContain(castAnswer(report));
  });

  test("the same plan gives the same sheet", () => expect(castSheet(report)).toBe(castSheet(report)));
});

test("texts of the file do nothing in the sheet", () => {
  expect(castSheet(lateCast)).not.toContain("<script>");
  expect(castSheet(lateCast)).not.toContain('<b>"Tide');
});

test("whom nothing fits, and who could wear it", () => {
  const text = textOf(lateCast);
  expect(text).toContain("Don't wear");
  expect(text).toContain("Made for them, it could be worn by Maris.");
  expect(text).toContain("begin a day earlier");
  expect(text).toContain("no better one was found");
});

test("without cautions there is no sheet", () => {
  expect(() => castSheet({ ...goodCast, cautions: [] })).toThrow(RangeError);
});

test("pictures are on the sheet and not in the data", () => {
  expect(castSheet(goodCast)).toContain("data:image/svg+xml,");
  expect(castJson(goodCast)).not.toContain("<svg");
  expect(JSON.parse(castJson(goodCast)).pieces).toHaveLength(2);
});

describe("the chart of printers by day", () => {
  const svg = timeChart(lateCast, "chart");
  const document = parsedXml(svg);
  const bars = all(document, "rect").filter((rect) => rect.getAttribute("class")?.startsWith("print"));
  const number = (element: Element, name: string) => Number(element.getAttribute(name));

  test("is well-formed, and says in words what it shows", () => {
    expect(wellFormed(svg)).toBe("");
    const words = all(document, "desc")[0].textContent;
    expect(words).toContain("All has to be printed by Thu 22 Apr.");
    expect(words).toContain("Hall, no. 2: nothing.");
    expect(words).toContain("Kelp crest for Maris from Wed 21 Apr, 10:30 to Fri 23 Apr, 12:30, late");
  });

  test("bars are as long as their prints, on one scale, none over another in its row", () => {
    expect(bars).toHaveLength(3);
    const scales = bars.map((bar, i) => number(bar, "width") / lateCast.prints[i].hours);
    for (const scale of scales) expect(scale).toBeCloseTo(scales[0], 2);
    const [, first, second] = bars;
    expect(number(first, "y")).toBe(number(second, "y"));
    expect(number(second, "x")).toBeGreaterThan(number(first, "x") + number(first, "width"));
    // From 08:00 on the 19th to 10:30 on the 21st are 50.5 h.
    expect((number(second, "x") - number(first, "x")) / scales[0]).toBeCloseTo(50.5, 0);
  });

  test("a late print is told by a pattern of its own, and ends behind the line", () => {
    expect(bars.map((bar) => bar.getAttribute("class"))).toEqual(["print", "print", "print late"]);
    expect(bars[2].getAttribute("fill")).toBe("url(#chart-late)");
    const line = all(document, "path").find((path) => path.getAttribute("class") === "due")!;
    const due = Number(/^M([\d.]+)/.exec(line.getAttribute("d")!)![1]);
    expect(number(bars[1], "x") + number(bars[1], "width")).toBeLessThan(due);
    expect(number(bars[2], "x") + number(bars[2], "width")).toBeGreaterThan(due);
  });

  test("everything lies within it, also over half a year", () => {
    const long = { ...goodCast, readyBy: "2027-10-19" };
    for (const report of [goodCast, lateCast, long]) {
      const chart = parsedXml(timeChart(report, "c"));
      const [, , width] = chart.documentElement!.getAttribute("viewBox")!.split(" ").map(Number);
      for (const rect of all(chart, "rect")) {
        expect(number(rect, "x") + number(rect, "width")).toBeLessThanOrEqual(width + 0.01);
      }
      const labels = all(chart, "text").filter((each) => each.getAttribute("class") === "day");
      expect(labels.length).toBeGreaterThan(2);
      expect(labels.length).toBeLessThan(20);
    }
  });
});

describe("words", () => {
  test("dates and moments", () => {
    expect(dateText("2027-05-14", { withYear: true })).toBe("Fri 14 May 2027");
    expect(momentText("2027-05-14T08:05")).toBe("Fri 14 May, 08:05");
    expect(() => dateText("2027-02-30")).toThrow(RangeError);
    expect(hoursOf("1970-01-02T06:30")).toBe(30.5);
  });

  test("hours: what is to spare is never rounded up", () => {
    expect([0.3, 9.8, 24.4].map(plainHours)).toEqual(["0.5 h", "10 h", "24 h"]);
    expect([0.9, 47.9, 48, 71.9].map(spareText)).toEqual(["0.5 h", "47 h", "2 days", "2 days"]);
  });

  test("the answer in one sentence", () => {
    expect(castAnswer(goodCast)).toBe(
      "In time: the last print ends Fri 23 Apr, 12:30, 11 days to spare (prints by Tue 4 May)",
    );
    expect(castAnswer(lateCast)).toBe("1 print late, by up to 17 h");
    expect(castAnswer({ ...goodCast, prints: [], schedule: { optimised: "", method: "exact" } })).toBe(
      "Nothing to print",
    );
  });

  test("the terminal's text", () => {
    const text = castText(goodCast, { colour: false });
    expect(text).toContain("Kelp crest for Maris × 2");
    expect(text).toContain("Workshop (cut into 3)");
    expect(text).toContain(
      "PLA: 1040 g and 104 g for waste, 0 g in stock: buy 2 spools of 1000 g (€ 44); 1 change of spool while something prints",
    );
    expect(text).toContain("PLA, new spool no. 2, then PLA, new spool no. 1");
  });
});
