import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { buildHeadForm } from "../../src/head";
import { wearerFromDocument } from "../../src/head/wearer";
import { realEvaluator } from "./bundleEvaluator";
import { EvaluatorRig, designName as name } from "./evaluatorRig";

/** The process as it ships, with the language of the product: what is the language's own is tested there. */
let rig: EvaluatorRig;
beforeAll(async () => {
  const { wearer } = wearerFromDocument({ name: "Marin", units: "mm", girth: 570 });
  const form = buildHeadForm(wearer!.measurements);
  const head = form.grown({ offset: 2, hairThickness: 3 }).toData();
  rig = await EvaluatorRig.create(realEvaluator, { head, values: {} });
});
afterAll(() => rig.dispose());
beforeEach(() => rig.newFolder());
afterEach(() => rig.folder.remove());

const design = (body: string, more = "") => `import { band, headpiece, tube, onHead, solid } from "anadem";
import { primitives } from "@jscad/modeling";
export default headpiece({
  name: "Coral crown",
  ${more}
  make({ head, random }) {
${body}
  },
});
`;

test("a crown of the real language, with lines", async () => {
  const { header, result, messages } = await rig.run(
    design(`    const up = onHead({ azimuth: 0, elevation: 40, lift: 60 });
    return [
      /*@*/band("ring", head.girthLine, { radius: 5 }),
      /*@*/tube("branch", [onHead({ azimuth: 0, elevation: 0 }), up], { radius: 4 }),
    ];`),
  );
  expect(messages).toEqual([]);
  expect(header).toMatchObject({ name: "Coral crown", origin: { line: 3, column: 16 } });
  expect(result?.parts.map(({ name, kind, origin }) => ({ name, kind, ...origin }))).toEqual([
    { name: "ring", kind: "tube", ...rig.folder.place(name) },
    { name: "branch", kind: "tube", ...rig.folder.place(name, 1) },
  ]);
  const again = await rig.run({});
  expect(again.result).toEqual(result);
});

describe("mistakes, at their lines", () => {
  test.each([
    [
      "a radius that is no number",
      `return [/*@*/tube("a", [[0, 0, 150], [0, 0, 200]], { radius: Number.NaN })];`,
    ],
    ["a negative radius", `return [/*@*/tube("a", [[0, 0, 150], [0, 0, 200]], { radius: -2 })];`],
    ["two equal points", `return [/*@*/tube("a", [[0, 0, 150], [0, 0, 150]], { radius: 2 })];`],
    ["a misspelt option", `return [/*@*/tube("a", [[0, 0, 150], [0, 0, 200]], { radus: 2 } as never)];`],
  ])("%s", async (_, body) => {
    const error = await rig.errorAtMark(design(body));
    expect(error.text).not.toBe("");
  });

  test("an async make", async () => {
    const { messages } = await rig.run(design("return [];").replace("make(", "async make("));
    expect(messages).toMatchObject([{ severity: "error", file: rig.folder.file(name), line: 3, column: 16 }]);
  });

  test("a default export that is none", async () => {
    const error = await rig.errorAtMark(`/*@*/export default { name: "Crown", make: () => [] };\n`);
    expect(error.id).toBe("no-headpiece");
  });

  test("10,000 tubes", async () => {
    const error = await rig.errorAtMark(
      design(`const all = [];
    for (let i = 0; i < 5000; i++) all.push(tube("a" + i, [[0, i, 150], [0, i, 200]], { radius: 2 }));
    for (let i = 5000; i < 10000; i++) all.push(/*@*/tube("a" + i, [[0, i, 150], [0, i, 200]], { radius: 2 }));
    return all;`),
    );
    expect(error.id).toBe("too-large");
  });
});
