import { expect, test } from "vitest";
import { distinctLabels } from "../../../src/extension/tree/labels";
import { namedParties, nameOfPath, pathOfNamed } from "../../../src/extension/tree/partyUse";

test("files of the same stem are told apart by as many folders as it takes", () => {
  const paths = ["/a.headpiece.ts", "/one/b.headpiece.ts", "/x/two/b.headpiece.ts", "/y/two/b.headpiece.ts"];
  expect(distinctLabels(paths, ".headpiece.ts")).toEqual(["a", "one/b", "x/two/b", "y/two/b"]);
});

test("a file above another of the same stem keeps the bare name", () => {
  expect(distinctLabels(["/b.headpiece.ts", "/old/b.headpiece.ts"], ".headpiece.ts")).toEqual(["b", "old/b"]);
});

test("the files that a design names are found in its text, those that it computes are not", () => {
  const text = `export default headpiece({ name: "x", wearer: 'a/b.wearer.json', printer: choose(), "material": "pla.material.json" });`;
  expect(namedParties(text)).toEqual({ wearer: "a/b.wearer.json", material: "pla.material.json" });
});

test("names lead from design to file and back, with slashes", () => {
  const design = "/c:/court/pieces/crown.headpiece.ts";
  for (const named of ["diver.wearer.json", "../wearers/diver.wearer.json", "deep/er/diver.wearer.json"]) {
    expect(nameOfPath(design, pathOfNamed(design, named))).toBe(named);
  }
  expect(pathOfNamed(design, "..\\wearers\\diver.wearer.json")).toBe("/c:/court/wearers/diver.wearer.json");
});
