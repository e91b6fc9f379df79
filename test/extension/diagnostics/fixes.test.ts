import { describe, expect, test } from "vitest";
import { fixesFor } from "../../../src/extension/diagnostics/fixes";
import type { Message } from "../../../src/message";
import { changed, plainText } from "../plainText";

const neighbours = ["kelp-queen.wearer.json", "minnow.wearer.json", "pla.material.json"];

/** The fixes of a message that stands where `‸` is, by title and with the text that each makes. */
function fixed(message: Omit<Message, "severity">, marked: string, fileName = "a.headpiece.ts") {
  const offset = marked.indexOf("‸");
  const text = marked.replace("‸", "");
  return fixesFor({
    message: { severity: "error", ...message },
    text,
    offset,
    fileName,
    neighbours,
    l10n: plainText,
  }).map(({ title, changes, isSafe }) => ({ title, isSafe, text: changed(text, changes) }));
}

describe("a misspelt name", () => {
  test("of an option becomes the nearest", () => {
    const message = {
      id: "unknown-option",
      text: 'tube has no option "raduis"',
      suggestion: 'did you mean "radius"?',
    };
    const [fix, ...others] = fixed(
      message,
      '[‸tube("raduis", line, {\n  /* raduis: 1 */ raduis: [3, 2],\n})]',
    );
    expect(fix).toEqual({
      title: "Change to “radius”",
      isSafe: true,
      text: '[tube("raduis", line, {\n  /* raduis: 1 */ radius: [3, 2],\n})]',
    });
    expect(others).toEqual([]);
  });

  test("of an option in an object within", () => {
    const message = {
      id: "unknown-option",
      text: 'ease has no option "grith"',
      suggestion: 'did you mean "girth"?',
    };
    expect(fixed(message, "‸headpiece({ ease: { grith: 8 }, make })")[0].text).toBe(
      "headpiece({ ease: { girth: 8 }, make })",
    );
  });

  test("in shorthand keeps the variable's name", () => {
    const message = {
      id: "unknown-option",
      text: 'tube has no option "raduis"',
      suggestion: 'did you mean "radius"?',
    };
    expect(fixed(message, '‸tube("a", line, { raduis })')[0].text).toBe(
      'tube("a", line, { radius: raduis })',
    );
  });

  test("that stands twice, or that is like none, is left to the person", () => {
    const near = {
      id: "unknown-option",
      text: 'tip has no option "pont"',
      suggestion: 'did you mean "point"?',
    };
    expect(fixed(near, '‸tube("a", l, { startTip: { pont: 1 }, endTip: { pont: 1 } })')).toEqual([]);
    const far = {
      id: "unknown-option",
      text: 'tube has no option "colour"',
      suggestion: "it knows radius, tip",
    };
    expect(fixed(far, '‸tube("a", line, { colour: 1 })')).toEqual([]);
  });

  test("of a word", () => {
    const message = {
      id: "unknown-word",
      text: 'the end tip of "horn" is "rund"',
      suggestion: 'did you mean "round"?',
    };
    expect(fixed(message, '‸tube("horn", line, { endTip: "rund" })')[0].text).toBe(
      'tube("horn", line, { endTip: "round" })',
    );
  });

  test("of an imported file and of an imported name", () => {
    const file = {
      id: "import-not-found",
      text: '"./parts/antlr" cannot be imported: there is no such file',
      suggestion: 'did you mean "./parts/antler"?',
    };
    expect(fixed(file, "import { antler } from ‸'./parts/antlr';")[0].text).toBe(
      "import { antler } from './parts/antler';",
    );
    const name = {
      id: "import-name",
      text: 'parts/antler.ts does not export "antlr"',
      suggestion: 'did you mean "antler"?',
    };
    expect(fixed(name, 'import { ‸antlr } from "./parts/antler";\nantlr();')[0].text).toBe(
      'import { antler as antlr } from "./parts/antler";\nantlr();',
    );
  });

  test("of a key in a data file", () => {
    const message = {
      id: "unknown-key",
      text: 'Unknown key "girht".',
      suggestion: 'Did you mean "girth"?',
      field: "girht",
    };
    expect(fixed(message, '{\n  ‸"girht": 556\n}', "maris.wearer.json")[0].text).toBe('{\n  "girth": 556\n}');
  });

  test("of a wearer's file: the nearest, else each that is there", () => {
    const text = "the wearer's file /court/kelp-quen.wearer.json does not exist";
    const design = '‸headpiece({ name: "Crest", wearer: "./kelp-quen.wearer.json", make })';
    const near = fixed(
      { id: "file-not-found", text, suggestion: 'did you mean "kelp-queen.wearer.json"?' },
      design,
    );
    expect(near).toMatchObject([
      { isSafe: true, text: 'headpiece({ name: "Crest", wearer: "./kelp-queen.wearer.json", make })' },
    ]);
    const far = fixed({ id: "file-not-found", text, suggestion: "the folder has …" }, design);
    expect(far.map(({ title }) => title)).toEqual([
      "Change to “kelp-queen.wearer.json”",
      "Change to “minnow.wearer.json”",
    ]);
  });
});

describe("a number that is not allowed", () => {
  test("becomes the nearest allowed", () => {
    const message = {
      id: "out-of-range",
      text: 'point of the end tip of "tine" is 9',
      suggestion: "give a number above 0 and of at most 2.5",
    };
    expect(
      fixed(message, '‸tube("tine", line, { radius: 2.5, endTip: { point: 9, over: 9 } })'),
    ).toMatchObject([
      {
        title: "Set point to 2.5",
        isSafe: true,
        text: 'tube("tine", line, { radius: 2.5, endTip: { point: 2.5, over: 9 } })',
      },
    ]);
  });

  test("a negative one too, and the default of a parameter", () => {
    const wide = {
      id: "out-of-range",
      text: "width of band is -4",
      suggestion: "give a number of at least 0.5",
    };
    expect(fixed(wide, '‸band("a", line, { width: - 4 })')[0].text).toBe('band("a", line, { width: 0.5 })');
    const preset = {
      id: "out-of-range",
      text: "the default of count is 2.5",
      suggestion: "give a whole number of at least 3 and of at most 24",
    };
    expect(fixed(preset, "‸count(2.5, { least: 3 })")[0].text).toBe("count(3, { least: 3 })");
  });

  test("is left alone where it is computed, or where there is no nearest", () => {
    const message = {
      id: "out-of-range",
      text: "width of band is -4",
      suggestion: "give a number of at least 0.5",
    };
    expect(fixed(message, '‸band("a", line, { width: 2 - 6 })')).toEqual([]);
    const open = { id: "out-of-range", text: "point of tip is 0", suggestion: "give a number above 0" };
    expect(fixed(open, '‸tube("a", line, { tip: { point: 0 } })')).toEqual([]);
  });

  test("of an ease: the nearest, or the wearer's own", () => {
    const message = {
      id: "out-of-range",
      text: "girth of ease is 300",
      suggestion: "give a number of at least -20 and of at most 120",
    };
    const fixes = fixed(message, '‸headpiece({ name: "A", ease: { girth: 300 }, make })');
    expect(fixes.map(({ title, text }) => [title, text])).toEqual([
      ["Set girth to 120", 'headpiece({ name: "A", ease: { girth: 120 }, make })'],
      ["Use the wearer's ease", 'headpiece({ name: "A", make })'],
    ]);
  });
});

test("of two eases one is kept, or the wearer's", () => {
  const message = { id: "two-eases", text: "ease has a girth and an offset" };
  const fixes = fixed(message, '‸headpiece({\n  name: "A",\n  make,\n  ease: { girth: 8, offset: 2 },\n})');
  expect(fixes.map(({ text }) => text)).toEqual([
    'headpiece({\n  name: "A",\n  make,\n  ease: { girth: 8 },\n})',
    'headpiece({\n  name: "A",\n  make,\n  ease: { offset: 2 },\n})',
    'headpiece({\n  name: "A",\n  make,\n})',
  ]);
});

test("a tip of a closed path is taken away", () => {
  const message = {
    id: "tip-on-closed-path",
    text: '"ring" runs along a closed path and has no ends for a tip',
  };
  expect(fixed(message, '‸tube("ring", line, { radius: 3, tip: "flat" })')[0].text).toBe(
    'tube("ring", line, { radius: 3 })',
  );
});

describe("what is missing is added", () => {
  test("a wearer, one of those beside the design", () => {
    const message = { id: "no-wearer", text: '"Crest" names no wearer' };
    const fixes = fixed(message, 'export default ‸headpiece({\n  name: "Crest",\n  make,\n});');
    expect(fixes.map(({ title }) => title)).toEqual([
      "Make it for kelp-queen.wearer.json",
      "Make it for minnow.wearer.json",
    ]);
    expect(fixes[0].text).toBe(
      'export default headpiece({\n  name: "Crest",\n  wearer: "kelp-queen.wearer.json",\n  make,\n});',
    );
    expect(fixed(message, '‸headpiece({ name: "Crest", make })')[0].text).toBe(
      'headpiece({ name: "Crest", wearer: "kelp-queen.wearer.json", make })',
    );
  });

  test("units, a name, and a key with the example of the message", () => {
    const units = { id: "missing-units", text: "The units are missing." };
    expect(fixed(units, '‸{\n  "girth": 556\n}').map(({ text }) => text)[1]).toBe(
      '{\n  "units": "cm",\n  "girth": 556\n}',
    );
    const name = { id: "missing-name", text: "The wearer has no name." };
    expect(fixed(name, '‸{ "girth": 556 }', "kelp-queen.wearer.json")[0].text).toBe(
      '{ "name": "Kelp queen", "girth": 556 }',
    );
    const key = {
      id: "missing-key",
      text: '"density" is missing',
      suggestion: 'add "density": 1.24 (g/cm³)',
      field: "density",
    };
    expect(fixed(key, "‸{}", "pla.material.json")[0].text).toBe('{\n  "density": 1.24\n}');
  });

  test("a last comma is taken away", () => {
    const message = { id: "json-syntax", text: "a comma stands before }, and nothing after it" };
    expect(fixed(message, '{\n  "girth": 556,\n‸}')[0].text).toBe('{\n  "girth": 556\n}');
  });
});
