import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeEach, describe, expect, test } from "vitest";
import { readCast } from "../../src/build/cast/readCast";
import { startingCast } from "../../src/build/cast/startingCast";
import { MessageError } from "../../src/message";
import { dateOf, dayOf } from "../../src/print/schedule/calendar";

const folder = mkdtempSync(join(tmpdir(), "anadem-cast-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const write = (name: string, content: unknown) => {
  writeFileSync(
    join(folder, name),
    typeof content === "string" ? content : JSON.stringify(content, undefined, 2),
  );
  return join(folder, name);
};

const good = {
  production: "The Tide Court",
  opens: "2027-05-14",
  pieces: [{ design: "ring.headpiece.ts", wearer: "marin.wearer.json" }],
  printers: [{ file: "hall.printer.json" }],
};

beforeEach(() => {
  write("ring.headpiece.ts", 'export default headpiece({ wearer: "marin.wearer.json" });\n');
  write("marin.wearer.json", { name: "Marin", units: "mm", girth: 570 });
  write("hall.printer.json", {
    name: "Hall",
    plate: { shape: "rectangular", width: 220, depth: 220 },
    height: 250,
  });
  write("pla.material.json", { name: "PLA", density: 1.24, softening: [55, 65], strength: 37, modulus: 2.3 });
});

const read = (document: unknown) => readCast(write("tide.cast.json", document));
/** What is wrong, each with the text that stands where it is said to be. */
const wrong = (document: unknown) => {
  const { value, messages } = read(document);
  expect(value).toBeUndefined();
  const lines = readFileSync(join(folder, "tide.cast.json"), "utf8").split("\n");
  return messages.map(({ id, text, suggestion, file, line, column, length }) => {
    expect(file).toBe(join(folder, "tide.cast.json"));
    return { id, text, suggestion, at: lines[line! - 1].slice(column! - 1, column! - 1 + (length ?? 1)) };
  });
};

describe("a good file", () => {
  test("what is left out is as usual", () => {
    const { value, messages } = read(good);
    expect(messages).toEqual([]);
    expect(value).toMatchObject({ name: "The Tide Court", attended: [8, 20], stock: [] });
    expect(dateOf(value!.readyBy)).toBe("2027-05-07");
    expect(value!.pieces).toEqual([
      {
        design: join(folder, "ring.headpiece.ts"),
        wearer: join(folder, "marin.wearer.json"),
        copies: 1,
        by: dayOf("2027-05-07"),
      },
    ]);
    expect(value!.printers[0]).toMatchObject({
      label: "Hall",
      count: 1,
      hoursADay: 24,
      printer: { height: 250 },
    });
    expect(value!.printers[0].days).toHaveLength(7);
    expect(value!.wearers).toEqual([{ file: join(folder, "marin.wearer.json"), name: "Marin", girth: 570 }]);
    expect(value!.inputs).toHaveLength(4);
  });

  test("all that can be said", () => {
    const { value, messages } = read({
      ...good,
      readyBy: "2027-05-01",
      starts: "2027-04-01",
      attended: { from: 9, to: 22 },
      pieces: [
        {
          ...good.pieces[0],
          role: "The Warden",
          copies: 2,
          by: "2027-04-20",
          material: "pla.material.json",
          printer: "hall.printer.json",
          parameters: { rays: 5 },
        },
      ],
      printers: [
        {
          file: "hall.printer.json",
          hoursADay: 10,
          days: ["Mon", "Sat"],
          from: "2027-04-02",
          until: "2027-04-30",
        },
        { file: "hall.printer.json", count: 2 },
      ],
      spools: [{ material: "pla.material.json", grams: 300, count: 2 }],
      understudies: ["marin.wearer.json"],
      notes: "n",
    });
    expect(messages).toEqual([]);
    expect(value!.pieces[0]).toMatchObject({ copies: 2, by: dayOf("2027-04-20"), parameters: { rays: 5 } });
    expect(value!.printers.map(({ label }) => label)).toEqual(["Hall", "Hall (2)"]);
    expect(value!.stock.map(({ grams }) => grams)).toEqual([300, 300]);
  });

  test("the sample is one", () => {
    const { value, messages } = readCast(
      resolve(import.meta.dirname, "../../samples/the-tide-court.cast.json"),
    );
    expect(messages.filter(({ severity }) => severity === "error")).toEqual([]);
    expect(value!.pieces.length).toBeGreaterThanOrEqual(5);
    expect(new Set(value!.pieces.map(({ design }) => design)).size).toBe(5);
  });
});

describe("what is wrong is told at its place", () => {
  test("an unknown key, with the nearest", () => {
    const document = { ...good, printers: [{ file: "hall.printer.json", houresADay: 8 }] };
    expect(wrong(document)).toEqual([
      {
        id: "unknown-key",
        text: 'unknown key "printers.0.houresADay"',
        suggestion: 'did you mean "hoursADay"?',
        at: '"houresADay"',
      },
    ]);
  });

  test("a missing key, and a value out of range", () => {
    const found = wrong({ ...good, ready: -3, pieces: [{ design: "ring.headpiece.ts" }] });
    expect(found.map(({ id, at }) => [id, at])).toEqual(
      expect.arrayContaining([
        ["missing-key", "{"],
        ["out-of-range", "-3"],
      ]),
    );
  });

  test.each([
    ["out-of-range", { opens: "14 May 2027" }, '"14 May 2027"'],
    ["no-such-date", { opens: "2027-02-30" }, '"2027-02-30"'],
    ["no-such-date", { starts: "2027-13-01" }, '"2027-13-01"'],
    ["cast-clash", { ready: 5, readyBy: "2027-05-01" }, "5"],
    ["cast-clash", { readyBy: "2027-05-15" }, '"2027-05-15"'],
    ["cast-clash", { starts: "2027-05-09" }, '"2027-05-09"'],
    ["cast-clash", { attended: { from: 20, to: 8 } }, "8"],
    ["out-of-range", { printers: [{ file: "hall.printer.json", days: ["Monday"] }] }, '"Monday"'],
    [
      "cast-clash",
      { printers: [{ file: "hall.printer.json", from: "2027-04-02", until: "2027-04-01" }] },
      '"2027-04-01"',
    ],
    ["cast-clash", { pieces: [{ ...good.pieces[0], by: "2027-06-01" }] }, '"2027-06-01"'],
    ["wrong-type", { pieces: [{ ...good.pieces[0], copies: "two" }] }, '"two"'],
    ["wrong-count", { pieces: [] }, "["],
  ])("%s: %j", (id, change, at) => {
    const found = wrong({ ...good, ...change });
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ id });
    expect(found[0].at.startsWith(at)).toBe(true);
    expect(found[0].suggestion).toBeTruthy();
  });

  test("files that are not there, with the nearest name", () => {
    const found = wrong({
      ...good,
      pieces: [{ design: "rinf.headpiece.ts", wearer: "marni.wearer.json", printer: "hal.printer.json" }],
      printers: [{ file: "hall.printer.json" }],
    });
    expect(found.map(({ id, at, suggestion }) => [id, at, suggestion])).toEqual([
      ["printer-not-at-hand", '"hal.printer.json"', 'did you mean "hall.printer.json"?'],
      ["file-not-found", '"rinf.headpiece.ts"', 'did you mean "ring.headpiece.ts"?'],
      ["file-not-found", '"marni.wearer.json"', 'did you mean "marin.wearer.json"?'],
    ]);
  });

  test("a file that it names and that is wrong is told in that file", () => {
    write("marin.wearer.json", { name: "Marin", units: "mm", girth: "570" });
    const { value, messages } = read(good);
    expect(value).toBeUndefined();
    expect(messages).toHaveLength(1);
    expect(messages[0]).toMatchObject({ file: join(folder, "marin.wearer.json"), line: 4 });
  });

  test("no JSON at all", () => {
    expect(read('{ "production": ').messages[0]).toMatchObject({ id: "json-syntax", line: 1 });
    expect(readCast(join(folder, "tied.cast.json")).messages[0]).toMatchObject({
      id: "file-not-found",
      suggestion: 'did you mean "tide.cast.json"?',
    });
  });
});

describe("a cast to begin with", () => {
  test("has each design with its wearer, and reads well", () => {
    const text = startingCast(folder, "tide-court", dayOf("2027-01-04")!);
    const { value, messages } = readCast(write("new.cast.json", text));
    expect(messages).toEqual([]);
    expect(value).toMatchObject({ name: "Tide court", opens: dayOf("2027-03-01") });
    expect(value!.pieces.map(({ wearer }) => wearer)).toEqual([join(folder, "marin.wearer.json")]);
  });

  test("is refused where there is nothing to print, or to print on", () => {
    rmSync(join(folder, "hall.printer.json"));
    expect(() => startingCast(folder, "tide", 0)).toThrow(MessageError);
    rmSync(join(folder, "ring.headpiece.ts"));
    expect(() => startingCast(folder, "tide", 0)).toThrow(/no design/);
  });
});
