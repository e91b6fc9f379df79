import { describe, expect, test } from "vitest";
import { FindingLedger } from "../../../src/extension/diagnostics/findingLedger";
import { findingOf, isProblem, stretchOf } from "../../../src/extension/diagnostics/findings";
import type { Message } from "../../../src/message";

const design = "/court/wreath.headpiece.ts";
const text = [
  'import { tube } from "anadem";',
  "export default headpiece({",
  '  make: () => [tube("core", line, { radius: 6 }), tube("reed", [',
  "    one, // a ) that closes nothing",
  "  ])],",
  "});",
].join("\n");

const message = (rest: Partial<Message> = {}): Message => ({
  id: "loose-piece",
  severity: "error",
  text: '"reed" stands apart from the piece',
  suggestion: "let it reach another part",
  ...rest,
});

const marked = (line: number, column: number, length?: number): string => {
  const { startLine, startCharacter, endLine, endCharacter } = stretchOf(
    { line, column, ...(length !== undefined && { length }) },
    text,
  );
  expect(endLine).toBe(startLine);
  return text.split("\n")[startLine].slice(startCharacter, endCharacter);
};

describe("what a place covers", () => {
  test("a call on one line is covered whole", () => {
    expect(marked(3, 16)).toBe('tube("core", line, { radius: 6 })');
  });
  test("of a call over several lines the name", () => {
    expect(marked(3, 51)).toBe("tube");
    expect(marked(2, 16)).toBe("headpiece");
  });
  test("else the word or the text that stands there", () => {
    expect(marked(1, 10)).toBe("tube");
    expect(marked(1, 22)).toBe('"anadem"');
  });
  test("a length that is known is believed", () => {
    expect(marked(1, 8, 6)).toBe("{ tube");
  });
  test("without the text, or past its end, it is empty", () => {
    expect(stretchOf({ line: 3, column: 16 }, undefined)).toEqual({
      startLine: 2,
      startCharacter: 15,
      endLine: 2,
      endCharacter: 15,
    });
    expect(stretchOf({ line: 99, column: 4 }, text).endLine).toBe(5);
  });
});

describe("a message as a finding", () => {
  test("stands on the first line of the design where it names no file", () => {
    const finding = findingOf(message(), design, () => undefined);
    expect(finding).toMatchObject({ file: design, stretch: { startLine: 0, startCharacter: 0 } });
  });
  test("says what is right on a line of its own, and gives placed notes as related places", () => {
    const notes = [
      { text: "called in weave", file: "/court/parts/weave.ts", line: 4, column: 3 },
      { text: "it was the third" },
    ];
    const finding = findingOf(message({ notes }), design, () => undefined);
    expect(finding.text).toBe(
      '"reed" stands apart from the piece\nlet it reach another part\nit was the third',
    );
    expect(finding.related).toMatchObject([{ file: "/court/parts/weave.ts", text: "called in weave" }]);
  });
});

test("a note without a place is no problem; all else is", () => {
  expect(isProblem(message({ severity: "note" }))).toBe(false);
  expect(isProblem(message({ severity: "note", file: design, line: 3, column: 1 }))).toBe(true);
  expect(isProblem(message({ severity: "warning" }))).toBe(true);
});

describe("findings of designs that share a helper", () => {
  const helper = "/court/parts/antler.ts";
  const inHelper = message({ file: helper, line: 2, column: 1 });
  const find = (...messages: Message[]) => messages.map((each) => findingOf(each, design, () => undefined));

  test("are shown once, and stay until the last of them is fixed", () => {
    const ledger = new FindingLedger();
    expect(ledger.replace("/court/stag", find(inHelper))).toEqual([helper]);
    ledger.replace("/court/elk", find(inHelper));
    expect(ledger.of(helper)).toHaveLength(1);
    expect(ledger.replace("/court/stag", [])).toEqual([helper]);
    expect(ledger.of(helper)).toHaveLength(1);
    ledger.replace("/court/elk", []);
    expect(ledger.of(helper)).toEqual([]);
  });

  test("name every file whose findings change, those that lose theirs too", () => {
    const ledger = new FindingLedger();
    ledger.replace("/court/stag", find(inHelper));
    const files = ledger.replace("/court/stag", find(message({ file: design, line: 1, column: 1 })));
    expect(new Set(files)).toEqual(new Set([helper, design]));
  });
});
