import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { fileMeant, toolInputOf, toolInputSchema } from "../../../src/extension/languageModel/toolInput";
import { fitExplanation, resultJson } from "../../../src/extension/languageModel/toolResult";
import { message, reportPlan, reportWith } from "../states";

const files = [
  "/court/coral-crown.headpiece.ts",
  "/court/act two/reed-wreath.headpiece.ts",
  "/court/old/reed-wreath.headpiece.ts",
];
const meant = (wanted: string) => fileMeant(wanted, files, ".headpiece.ts", "design");

test.each([
  ["coral-crown", files[0]],
  ["coral-crown.headpiece.ts", files[0]],
  ["./coral-crown.headpiece.ts", files[0]],
  ["/court/coral-crown.headpiece.ts", files[0]],
  ["old/reed-wreath", files[2]],
  ["act two\\reed-wreath.headpiece.ts", files[1]],
])("%s means one file", (wanted, file) => {
  expect(meant(wanted)).toBe(file);
});

test.each([
  ["reed-wreath", /could be .*act two.* or .*old.*: give more of the path/],
  ["coral-crwn", /did you mean "coral-crown"\?/],
  ["zz", /there are coral-crown, reed-wreath/],
  // The end of a name is no name.
  ["crown", /The workspace has no design "crown"/],
])("%s means none, and is told why", (wanted, why) => {
  expect(() => meant(wanted)).toThrow(why);
});

test("an input is taken as it is when all is right", () => {
  const input = {
    design: "coral-crown",
    wearer: "minnow",
    values: { branches: 12, calm: true, weave: "tight" },
  };
  expect(toolInputOf(input)).toEqual(input);
});

test.each<[unknown, RegExp]>([
  ["coral-crown", /must be an object/],
  [{}, /"design" must be the path/],
  [{ design: 3 }, /"design" must be the path/],
  [{ design: "a", waerer: "b" }, /did you mean "wearer"/],
  [{ design: "a", printer: "" }, /"printer" must be the path/],
  [{ design: "a", values: [1] }, /"values" must be an object/],
  [{ design: "a", values: { b: null } }, /value of "b" must be/],
])("an input %j is refused with what would be right", (input, why) => {
  expect(() => toolInputOf(input)).toThrow(why);
});

test("the schema asks for what the check asks for", () => {
  expect(toolInputSchema.required).toEqual(["design"]);
  for (const name of Object.keys(toolInputSchema.properties)) {
    if (name !== "design") expect(() => toolInputOf({ design: "a", [name]: undefined })).not.toThrow();
  }
});

const report = reportWith({});

test("the JSON is the report of the command line", () => {
  const build = { ok: true, messages: [message("note")], report };
  expect(JSON.parse(resultJson(build))).toEqual(build);
});

test("the fit is explained by ease, measures taken and estimated, plate and findings", () => {
  const text = fitExplanation({
    ok: true,
    messages: [message("warning"), message("note", "by the way")],
    report,
  });
  expect(text).toContain("1.59 mm all round, that is 10 mm of girth, and 5 mm more where hair grows");
  expect(text).toContain("Measured: girth 562 mm (head form 561.8); length 190 mm.");
  expect(text).toMatch(/Estimated from the others.*breadth 147\.2 mm, estimated ± 4\.8/);
  expect(text).toContain(
    "On Hall printer (220 × 220 × 250 mm) it fits as designed, 8.4 mm to spare in width.",
  );
  expect(text).toContain("- warning: it is loose");
  expect(text).not.toContain("by the way");
  expect(text).toContain("not protective equipment");
});

test("the print is told with hours, filament, spools, supports, and what speaks against it", () => {
  const planned = fitExplanation({ ok: true, messages: [], report: reportWith({ plan: reportPlan }) });
  expect(planned).toContain(
    "Printed on Hall printer with layers of 0.2 mm, 3 shells, 15 % infill: Hours: 12 h 30 min; likely 12 to 16 h. " +
      "Filament: 141 g, 47.4 m of PLA, 12 g of it for supports. Spools: one is enough. Way up: upright. " +
      "Supports: 38.2 cm³ in 14 places, 15.5 cm² touched. Thin columns: 1, under branch 2.",
  );
  expect(planned).toContain("- warning: the support under branch 2 peels (give it a prop)");
  expect(planned).not.toContain("a spool is enough");
  expect(fitExplanation({ ok: true, messages: [], report })).not.toContain("Printed on");
});

test("what does not fit or does not build is said", () => {
  const plate = { ...report.plates[0], fits: false, excessMm: 14 };
  const tooLarge = fitExplanation({ ok: false, messages: [], report: reportWith({ plates: [plate] }) });
  expect(tooLarge).toContain("it is too large by 14 mm in width");
  const broken = fitExplanation({ ok: false, messages: [message("error")], report: null });
  expect(broken).toContain("does not build");
  expect(broken).toContain("- error: it is loose");
});

test("the manifest asks for the same input as the tools check", () => {
  const manifest = JSON.parse(readFileSync(new URL("../../../package.json", import.meta.url), "utf8"));
  const tools: { name: string; inputSchema: unknown }[] = manifest.contributes.languageModelTools;
  expect(tools.map(({ name }) => name)).toEqual(["anadem_build", "anadem_fit"]);
  for (const { inputSchema } of tools) expect(inputSchema).toEqual(toolInputSchema);
});
