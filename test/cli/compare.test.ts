import { cpSync, readFileSync } from "node:fs";
import { join } from "node:path";
import Ajv from "ajv";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import schema from "../../src/build/versions/comparison.schema.json";
import { comparisonMarkdown } from "../../src/build/versions/comparisonMarkdown";
import { root } from "../../src/tools/setup.mjs";
import { GitFolder } from "../extension/versions/gitFolder";
import { CommandLine, designText, wearerText } from "./commandLine";

let line: CommandLine;
let git: GitFolder;
const name = "ring.headpiece.ts";
beforeAll(async () => {
  line = await CommandLine.create();
  git = new GitFolder();
  git.write({ [name]: designText(), "marin.wearer.json": wearerText });
  git.commit("Ring with three rays");
  git.write({
    [name]: designText({
      part: 'tube("reed | one", [ring.atAzimuth(30), onHead({ azimuth: 30, elevation: 20, lift: 50 })], { radius: 3 }),',
    }),
  });
}, 120_000);
afterAll(() => {
  line.remove();
  git.remove();
});

const validate = new Ajv({ strict: true, allowUnionTypes: true }).compile(schema);

describe("anadem compare", () => {
  test("a table, the parts and a sentence for a person; exit code 0 though they differ", async () => {
    const { code, out, err } = await line.run(["compare", git.at(name)]);
    expect({ code, err }).toEqual({ code: 0, err: "" });
    expect(out).toContain(`HEAD (${git.git("rev-parse", "HEAD").slice(0, 10)}): Ring with three rays`);
    expect(out).toContain("1 tube added (reed | one)");
    expect(out).toMatch(/printed mass +[\d.]+ g +[\d.]+ g +\+/);
    expect(out).toMatch(/volume added +[\d.]+ (?:mm³|cm³)/);
    expect(out).toMatch(/greatest distance of the surfaces +[\d.]+ mm at /);
    expect(out).toMatch(/reed \| one +added/);
  });

  test("--json: one object that the schema holds; --strict: exit code 1 where they differ", async () => {
    const { code, out } = await line.run([
      "compare",
      git.at(name),
      "--json",
      "--strict",
      "--against",
      "main",
    ]);
    expect(code).toBe(1);
    const told = JSON.parse(out);
    expect(validate(told), JSON.stringify(validate.errors)).toBe(true);
    expect(told).toMatchObject({
      ok: true,
      comparison: { revision: { asked: "main" }, parts: [{ name: "reed | one", change: "added" }] },
    });
    expect(told.comparison.added).toBeGreaterThan(100);
    // The same as a comment on a change holds it; the recipes for continuous integration ask for it with --markdown.
    const markdown = comparisonMarkdown(told.comparison, "ring");
    expect(markdown).toMatch(/^### ring against main \(`[0-9a-f]{10}`\)\n\n\*\*heavier by /);
    expect(markdown).toContain("| Measurement | Before | Now | Change |");
    expect(markdown).toContain("| reed \\| one | added |  |");
  });

  test("an unknown commit: a message with the nearest name, exit code 1; --json still one object", async () => {
    const { code, out, err } = await line.run(["compare", git.at(name), "--against", "mian", "--json"]);
    expect(code).toBe(1);
    expect(err).toContain('did you mean "main"?');
    const told = JSON.parse(out);
    expect(validate(told), JSON.stringify(validate.errors)).toBe(true);
    expect(told).toMatchObject({ ok: false, comparison: null, messages: [{ id: "unknown-revision" }] });
  });

  test("--set holds for the piece as it is now", async () => {
    const { out } = await line.run(["compare", git.at(name), "--json", "--set", "rays=1"]);
    const parts: { name: string; change: string }[] = JSON.parse(out).comparison.parts;
    expect(parts.map(({ name, change }) => `${name} ${change}`)).toEqual([
      "reed | one added",
      "ray 2 removed",
      "ray 3 removed",
    ]);
  });

  test("wrong use is told as such", async () => {
    expect((await line.run(["compare", git.at("none.headpiece.ts")])).code).toBe(2);
    expect((await line.run(["compare", git.at(name), "--json", "--markdown"])).code).toBe(2);
    expect((await line.run(["compare", git.at(name), "--agianst", "main"])).err).toContain("--against");
  });
});

test("a sample of The Tide Court over its history: the right parts are told, a renamed one as such", async () => {
  const court = new GitFolder();
  try {
    cpSync(join(root, "samples"), court.at("samples"), { recursive: true });
    court.commit("The court as it is");
    const file = "samples/rams-horns.headpiece.ts";
    const text = readFileSync(court.at(file), "utf8");
    const changed = text.replace('"circlet"', '"coronet"').replace("{ width: 16,", "{ width: 20,");
    expect(changed.length).toBe(text.length);
    court.write({ [file]: changed });
    const { out, code } = await line.run(["compare", court.at(file), "--json", "--strict"]);
    expect(code).toBe(1);
    const { comparison } = JSON.parse(out);
    expect(comparison.parts).toMatchObject([
      { name: "coronet", change: "changed", was: "circlet", what: ["renamed from circlet"] },
      { name: "strap over", change: "changed" },
    ]);
    expect(comparison.added).toBeGreaterThan(1000);
    expect(comparison.removed).toBeLessThan(0.1 * comparison.added);
    // The strap grew by 2 mm to either side.
    expect(comparison.greatestDistance).toBeGreaterThan(1);
    expect(comparison.greatestDistance).toBeLessThan(3);
  } finally {
    court.remove();
  }
});
