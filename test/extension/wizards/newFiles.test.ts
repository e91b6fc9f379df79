import { expect, test } from "vitest";
import { namedParties } from "../../../src/extension/tree/partyUse";
import { checkFileName, fileNameOf } from "../../../src/extension/wizards/fileNames";
import { newDesignFiles } from "../../../src/extension/wizards/newDesignFiles";
import { plainTexts } from "../plainTexts";

test.each([
  ["Pip, the Minnow", "pip-the-minnow"],
  ["  Reed -- Crown!", "reed-crown"],
  ["Ondine’s crown", "ondines-crown"],
  ["Mære Øy", "mære-øy"],
  ["!!", ""],
])("%j makes the file name %j", (name, file) => {
  expect(fileNameOf(name)).toBe(file);
});

test("a name that was made from another is always good", () => {
  for (const name of ["Pip, the Minnow", `A ${"very ".repeat(30)}long name`, "crown 2"]) {
    expect(checkFileName(fileNameOf(name), () => false, plainTexts)).toBeUndefined();
  }
});

test.each([
  ["", /Give a name/],
  ["!!", /Use letters and digits/],
  ["Reed Crown", /write reed-crown/],
  ["reed_crown", /write reed-crown/],
  ["../crown", /write crown/],
  ["crown.headpiece.ts", /write crown-headpiece-ts/],
  ["con", /Windows/],
  ["there", /already/],
  ["a".repeat(61), /At most 60/],
])("the name %j is refused", (name, why) => {
  const verdict = checkFileName(name, (one) => one === "there", plainTexts);
  expect(verdict).toMatchObject({ isError: true, text: expect.stringMatching(why) });
});

test("a new design for a known wearer is one file that names it", () => {
  const [design, ...others] = newDesignFiles(
    "/court/act two",
    "reed-crown",
    "/court/wearers/minnow.wearer.json",
  );
  expect(others).toEqual([]);
  expect(design.path).toBe("/court/act two/reed-crown.headpiece.ts");
  expect(namedParties(design.content)).toEqual({ wearer: "../wearers/minnow.wearer.json" });
  expect(design.content).toContain('name: "Reed crown"');
});

test("a new design without a wearer comes with one, and with nothing else", () => {
  const files = newDesignFiles("/court", "reed-crown", undefined);
  expect(files.map(({ path }) => path)).toEqual([
    "/court/reed-crown.headpiece.ts",
    "/court/reed-crown.wearer.json",
  ]);
  expect(namedParties(files[0].content)).toEqual({ wearer: "reed-crown.wearer.json" });
});
