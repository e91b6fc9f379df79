import { mkdirSync, readFileSync } from "node:fs";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { type DataKind, readDataFile, readDataText } from "../../src/build/dataFile";
import { defaultMaterial } from "../../src/build/materialFile";
import { defaultPrinter } from "../../src/build/printerFile";
import { printSetupOf } from "../../src/build/printFile";
import { defaultOrientationWeights } from "../../src/orientation";
import { defaultPrintSettings } from "../../src/printSettings";
import { DesignFolder } from "./designFolder";

let folder: DesignFolder;
beforeEach(() => {
  folder = new DesignFolder();
});
afterEach(() => folder.remove());

/** Reads a text in which `«` stands before the place of the message, `»` behind what it covers. */
function readMarked(marked: string, kind: DataKind) {
  const at = marked.indexOf("«");
  const length = marked.indexOf("»") - at - 1;
  const before = marked.slice(0, at);
  const { value, messages } = readDataText(marked.replace(/[«»]/g, ""), "a.json", kind);
  const line = before.split("\n").length;
  const column = before.length - before.lastIndexOf("\n");
  return {
    value,
    messages,
    place: { file: "a.json", line, column, ...(length > 0 && { length }) },
  };
}

const printer = (more: string, plate = `{ "shape": "rectangular", "width": 220, "depth": 200 }`) =>
  `{\n  "name": "Workshop",\n  "plate": ${plate},\n  ${more}\n}\n`;

describe("printers", () => {
  test("a rectangular plate; all else has defaults", () => {
    expect(readDataText(printer(`"height": 250`), "a.json", "printer")).toEqual({
      value: {
        ...defaultPrinter,
        name: "Workshop",
        plate: { shape: "rectangular", width: 220, depth: 200 },
        height: 250,
        nozzle: 0.4,
        filamentDiameter: 1.75,
      },
      messages: [],
    });
  });

  test("speeds that are given, the others as usual; prices; notes are no figure", () => {
    const { value } = readDataText(
      printer(`"height": 250, "speeds": { "travel": 200 }, "pricePerHour": 0.4, "notes": "loud"`),
      "a.json",
      "printer",
    );
    expect(value).toEqual({
      ...defaultPrinter,
      name: "Workshop",
      plate: { shape: "rectangular", width: 220, depth: 200 },
      speeds: { ...defaultPrinter.speeds, travel: 200 },
      pricePerHour: 0.4,
    });
    const wrong = readDataText(printer(`"height": 250, "speeds": { "travell": 200 }`), "a.json", "printer");
    expect(wrong.messages[0]).toMatchObject({ id: "unknown-key", suggestion: 'did you mean "travel"?' });
  });

  test("a round plate", () => {
    const { value } = readDataText(
      printer(
        `"height": 400, "nozzle": 0.8, "filamentDiameter": 2.85`,
        `{ "shape": "round", "diameter": 300 }`,
      ),
      "a.json",
      "printer",
    );
    expect(value).toMatchObject({
      plate: { shape: "round", diameter: 300 },
      nozzle: 0.8,
      filamentDiameter: 2.85,
    });
  });

  test.each([
    [
      "unknown-key",
      printer(`"height": 250, «"heigth"»: 3`),
      'unknown key "heigth"',
      'did you mean "height"?',
    ],
    ["missing-key", printer(`"nozzle": 0.4`).replace("{", "«{»"), '"height" is missing', 'add "height": 250'],
    ["wrong-type", printer(`"height": «"250"»`), '"height" is "250"', "give a number above 0"],
    ["out-of-range", printer(`"height": «-3»`), '"height" is -3', "give a number above 0 up to 5000"],
    ["out-of-range", printer(`"height": 2, "nozzle": «40»`), '"nozzle" is 40', "from 0.05 up to 5"],
    ["wrong-type", printer(`"height": «1e999»`), '"height" is Infinity', "give a number"],
    [
      "unknown-word",
      printer(`"height": 250`, `{ "shape": «"rectangle"», "width": 1, "depth": 1 }`),
      '"plate.shape" is "rectangle"',
      'did you mean "rectangular"?',
    ],
    [
      "missing-key",
      printer(`"height": 250`, `«{» "shape": "round" }`),
      '"plate.diameter" is missing',
      'add "diameter": 300',
    ],
    [
      "unknown-key",
      printer(`"height": 250`, `{ "shape": "round", "diameter": 2, «"width"»: 3 }`),
      'unknown key "plate.width"',
      "the known keys are shape, diameter",
    ],
    ["wrong-type", printer(`"height": 250`, `«"round"»`), '"plate" is "round"', "give a group in braces"],
  ])("%s at its place: %s", (id, marked, text, suggestion) => {
    const { value, messages, place } = readMarked(marked, "printer");
    expect(value).toBeUndefined();
    expect(messages.map(({ suggestion: _, ...rest }) => rest)).toEqual([
      expect.objectContaining({ id, severity: "error", text, ...place }),
    ]);
    expect(messages[0].suggestion).toContain(suggestion);
  });

  test("the built-in one is a file that would be accepted", () => {
    const { value, messages } = readDataText(JSON.stringify(defaultPrinter), "a.json", "printer");
    expect({ value, messages }).toEqual({ value: defaultPrinter, messages: [] });
  });
});

describe("materials", () => {
  const material = (more: string) =>
    `{ "name": "Reed green", "density": 1.27, "softening": [80, 85], "strength": 50, "modulus": 1.8${more} }`;

  test("a spool is 1 kg unless given", () => {
    const { value, messages } = readDataText(material(""), "a.json", "material");
    expect(messages).toEqual([]);
    expect(value).toEqual({
      name: "Reed green",
      density: 1.27,
      softening: [80, 85],
      strength: 50,
      modulus: 1.8,
      spool: 1000,
    });
  });

  test.each([
    ["wrong-count", material("").replace("[80, 85]", "«[80]»"), '"softening" has 1 values', "give 2 values"],
    ["out-of-range", material("").replace("[80, 85]", "«[85, 80]»"), "goes from 85 down to 80", "[80, 85]"],
    ["wrong-type", material("").replace("85", '«"85"»'), '"softening.1" is "85"', "give a number"],
    ["out-of-range", material("").replace("1.27", "«1270»"), '"density" is 1270', "g/cm³"],
    ["empty-text", material("").replace('"Reed green"', '«""»'), '"name" is empty', "give a text"],
  ])("%s at its place: %s", (id, marked, text, suggestion) => {
    const { messages, place } = readMarked(marked, "material");
    expect(messages).toMatchObject([{ id, ...place }]);
    expect(messages[0].text).toContain(text);
    expect(messages[0].suggestion).toContain(suggestion);
  });

  test("the built-in one lies within published figures", () => {
    // PLA density 1.24 g/cm³, softening 55–65 °C, strength 37–73 MPa: filament makers' tables (second hand);
    // modulus 2.3–3.5 GPa: from memory.
    const { density, softening, strength, modulus } = defaultMaterial;
    expect(density).toBe(1.24);
    expect(softening).toEqual([55, 65]);
    expect(strength).toBeGreaterThanOrEqual(37);
    expect(strength).toBeLessThanOrEqual(73);
    expect(modulus).toBeGreaterThanOrEqual(2.3);
    expect(modulus).toBeLessThanOrEqual(3.5);
    // 335.3 m of 1.75 mm filament a kilogram follow from the density.
    const metres = 1000 / density / (Math.PI * 0.0875 ** 2) / 100;
    expect(metres).toBeCloseTo(335.3, 1);
    expect(readDataText(JSON.stringify(defaultMaterial), "a.json", "material").value).toEqual(
      defaultMaterial,
    );
  });
});

describe("texts that are not JSON (RFC 8259)", () => {
  test.each([
    [`{\n  "name": "a"\n  «"height"»: 3\n}`, "a comma is expected", "comma"],
    [`{ "name": "a", «}»`, "a comma stands before }", "take the last comma away"],
    [`{ "softening": [1, «]» }`, "a comma stands before ]", "take the last comma away"],
    [`{ «// the brow»\n "name": "a" }`, "holds no comments", "notes"],
    [`{ "name": «'a'» }`, "is not understood", "double quotes"],
    [`{ "name" «"a"» }`, "a colon is expected", '"key": value'],
    [`{ "name": «"a»\n}`, "no closing quote", "close it"],
    [`{ "height": 250«»`, "} is expected before the end of the file", "close the group"],
    [`{ "height": 250 } «{»}`, "nothing is expected after", "take it away"],
    ["«»", "the file is empty", "begin with {"],
    [`«[»{}]`, "one group of fields, not a list", "begin with {"],
  ])("%s", (marked, text, suggestion) => {
    const { value, messages, place } = readMarked(marked, "printer");
    expect(value).toBeUndefined();
    expect(messages).toHaveLength(1);
    expect(messages[0].text).toContain(text);
    expect(messages[0].suggestion).toContain(suggestion);
    const { line, column } = place;
    expect(messages[0]).toMatchObject({ severity: "error", file: "a.json", line, column });
    // The reference parser refuses them too, except for a list, which is JSON but no group.
    const bare = marked.replace(/[«»]/g, "");
    if (!bare.startsWith("[")) expect(() => JSON.parse(bare)).toThrow();
  });

  test("a key that stands twice", () => {
    const { messages, place } = readMarked(`{ "name": "a",\n  «"name"»: "b" }`, "printer");
    expect(messages).toMatchObject([
      { id: "duplicate-key", text: '"name" is given twice', ...place, notes: [{ line: 1, column: 3 }] },
    ]);
  });

  test("a byte order mark is passed over", () => {
    folder.write({ "a.printer.json": `\uFEFF${printer(`"height": 0`)}` });
    expect(readDataFile(folder.file("a.printer.json"), "printer").messages).toMatchObject([
      { line: 4, column: 13 },
    ]);
  });
});

describe("wearers", () => {
  test("a good one", () => {
    folder.write({ "marin.wearer.json": `{ "name": "Marin", "units": "cm", "girth": 57 }` });
    const { value, messages } = readDataFile(folder.file("marin.wearer.json"), "wearer");
    expect(messages.filter(({ severity }) => severity === "error")).toEqual([]);
    expect(value?.measurements.girth).toBeCloseTo(570, 9);
  });

  test.each([
    [`{ "name": "Marin", "units": "cm", «"grith"»: 57, "girth": 57 }`],
    [`{ "name": "Marin", "units": "cm", "girth": «"57"» }`],
    [`{ "name": "Marin", "units": «"m"», "girth": 57 }`],
    [`{ "name": "Marin", "units": "cm", "girth": 57, "ease": { "girth": «-1» } }`],
  ])("%s", (marked) => {
    const { value, messages, place } = readMarked(marked, "wearer");
    expect(value).toBeUndefined();
    expect(messages[0]).toMatchObject({ severity: "error", ...place });
  });
});

describe("files that are not there", () => {
  const askedBy = { file: "crown.headpiece.ts", line: 4, column: 11 };

  test("the design's line, and the nearest name", () => {
    folder.write({ "marin.wearer.json": "{}", "tidekeeper.wearer.json": "{}", "marine.printer.json": "{}" });
    const { messages } = readDataFile(folder.file("marni.wearer.json"), "wearer", askedBy);
    expect(messages).toEqual([
      {
        id: "file-not-found",
        severity: "error",
        text: `the wearer's file ${folder.file("marni.wearer.json")} does not exist`,
        suggestion: 'did you mean "marin.wearer.json"?',
        ...askedBy,
      },
    ]);
  });

  test("an ending left out, a list where nothing is near, a folder that is not there", () => {
    folder.write({ "marin.wearer.json": "{}", "tidekeeper.wearer.json": "{}" });
    const suggestion = (name: string) => readDataFile(folder.file(name), "wearer").messages[0].suggestion;
    expect(suggestion("marin.json")).toBe('did you mean "marin.wearer.json"?');
    expect(suggestion("xyz.wearer.json")).toBe("the folder has marin.wearer.json, tidekeeper.wearer.json");
    expect(suggestion("cast/marin.wearer.json")).toBe(`there is no folder ${folder.file("cast")}`);
  });

  test("a folder of that name", () => {
    mkdirSync(folder.file("marin.wearer.json"));
    const { messages } = readDataFile(folder.file("marin.wearer.json"), "wearer", askedBy);
    expect(messages).toMatchObject([{ id: "file-unreadable", ...askedBy }]);
    expect(messages[0].text).toMatch(/it is a folder/);
  });
});

test("the schemas describe every field, for an editor's hovers", () => {
  for (const kind of ["printer", "material"]) {
    const path = new URL(`../../src/build/${kind}.schema.json`, import.meta.url);
    const { properties } = JSON.parse(readFileSync(path, "utf8"));
    for (const [name, field] of Object.entries<{ description?: string }>(properties)) {
      expect({ name, description: field.description }).toEqual({ name, description: expect.any(String) });
    }
  }
});

describe("print settings", () => {
  const text = (more: string) => `{ "name": "fine"${more} }`;

  test("what the file says, and no more", () => {
    const given = `, "layerHeight": 0.12, "orientation": { "tilt": 35 }, "orientationWeights": { "hours": 3 }`;
    expect(readDataText(text(given), "a.print.json", "print")).toEqual({
      value: {
        name: "fine",
        settings: { layerHeight: 0.12 },
        orientation: { tilt: 35, towards: 0, turn: 0 },
        weights: { hours: 3 },
      },
      messages: [],
    });
  });

  test("what is wrong is told at its place", () => {
    const problem = (more: string) => readDataText(text(more), "a.print.json", "print").messages[0];
    expect(problem(`, "layerHeigth": 0.2`)).toMatchObject({
      id: "unknown-key",
      suggestion: 'did you mean "layerHeight"?',
      line: 1,
      column: 19,
    });
    expect(problem(`, "shells": 2.5`)?.text).toContain("2.5");
    expect(problem(`, "infill": 140`)).toMatchObject({ id: "out-of-range", field: "infill" });
    expect(problem(`, "orientation": "sideways"`)?.field).toBe("orientation");
    expect(problem(`, "orientation": { "towards": 20 }`)?.text).toContain("tilt");
  });

  test("the design goes before the file, the file before what is usual", () => {
    const file = { name: "fine", settings: { layerHeight: 0.12, shells: 4 }, orientation: "best" as const };
    const setup = printSetupOf({ settings: { shells: 2 }, weights: { height: 0 } }, file);
    expect(setup.settings).toEqual({ ...defaultPrintSettings, layerHeight: 0.12, shells: 2 });
    expect(setup).toMatchObject({ name: "fine, changed by the design", orientation: "best" });
    expect(setup.weights).toEqual({ ...defaultOrientationWeights, height: 0 });
    expect(printSetupOf({})).toEqual({
      name: "as usual",
      settings: defaultPrintSettings,
      orientation: "as designed",
      weights: defaultOrientationWeights,
    });
  });
});
