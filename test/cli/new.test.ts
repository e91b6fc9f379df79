import { spawnSync } from "node:child_process";
import { existsSync, readdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { root } from "../../src/tools/setup.mjs";
import { CommandLine } from "./commandLine";

let line: CommandLine;
beforeAll(async () => {
  line = await CommandLine.create({ types: true });
}, 240_000);
afterAll(() => line.remove());

/** TypeScript's own findings in a folder, as an editor shows them; the folder has nothing installed. */
function typeErrors(folder: string): string[] {
  const tsc = join(root, "node_modules", "typescript", "bin", "tsc");
  const { stdout } = spawnSync(process.execPath, [tsc, "-p", line.path(folder), "--pretty", "false"], {
    encoding: "utf8",
    cwd: line.path(folder),
  });
  return stdout.split("\n").filter((text) => /error TS/.test(text));
}

describe("anadem new", () => {
  test("starts a design that builds and type-checks with nothing installed", async () => {
    const made = await line.run(["new", "fresh/reed-crown"]);
    expect(made).toMatchObject({ code: 0, err: "" });
    expect(made.out).toContain("anadem build fresh/reed-crown.headpiece.ts");
    expect(readdirSync(line.path("fresh")).sort()).toEqual([
      ".anadem",
      "reed-crown.headpiece.ts",
      "reed-crown.wearer.json",
      "tsconfig.json",
    ]);
    const built = await line.run(["build", "fresh/reed-crown.headpiece.ts", "--json"]);
    expect(built).toMatchObject({ code: 0, err: "" });
    expect(JSON.parse(built.out)).toMatchObject({
      ok: true,
      messages: [],
      report: { headpiece: "Reed crown" },
    });
    expect(typeErrors("fresh")).toEqual([]);
  });

  test("a misspelt option and a misspelt import are type errors", () => {
    const text = line.read("fresh/reed-crown.headpiece.ts");
    line.write(
      "fresh/wrong.headpiece.ts",
      text.replace("{ radius: 6 }", "{ raduis: 6 }").replace("onHead,", "onHaed,"),
    );
    const errors = typeErrors("fresh");
    expect(errors.some((error) => /wrong\.headpiece\.ts.*raduis/.test(error))).toBe(true);
    expect(errors.some((error) => /wrong\.headpiece\.ts.*onHaed/.test(error))).toBe(true);
    expect(errors.every((error) => error.startsWith("wrong.headpiece.ts"))).toBe(true);
    rmSync(line.path("fresh/wrong.headpiece.ts"));
  });

  test("bodies and sections of @jscad/modeling type-check too, and a wrong one does not", () => {
    const use = (radius: string) => `import { primitives } from "@jscad/modeling";
import { headpiece, solid, tube } from "anadem";

export default headpiece({
  name: "Pearl",
  make: ({ head }) => [
    tube("stem", head.girthLine, { section: primitives.rectangle({ size: [6, 3] }) }),
    solid("pearl", primitives.sphere({ radius: ${radius} }), { at: head.landmarks.crown }),
  ],
});
`;
    line.write("fresh/pearl.headpiece.ts", use("6"));
    expect(typeErrors("fresh")).toEqual([]);
    line.write("fresh/pearl.headpiece.ts", use('"six"'));
    expect(typeErrors("fresh").join("\n")).toMatch(/pearl\.headpiece\.ts/);
    rmSync(line.path("fresh/pearl.headpiece.ts"));
  });

  test("overwrites nothing", async () => {
    const mine = "// mine\n";
    line.write("fresh/reed-crown.headpiece.ts", mine);
    const again = await line.run(["new", "fresh/reed-crown"]);
    expect(again.code).toBe(2);
    expect(again.err).toContain("there already");
    expect(line.read("fresh/reed-crown.headpiece.ts")).toBe(mine);
    line.write("mine/kelp.wearer.json", "{}");
    expect((await line.run(["new", "mine/kelp", "--json"])).code).toBe(2);
    expect(readdirSync(line.path("mine"))).toEqual(["kelp.wearer.json"]);
    expect(line.read("mine/kelp.wearer.json")).toBe("{}");
  });

  test("a second design in the folder keeps its tsconfig", async () => {
    line.write("fresh/tsconfig.json", '{ "compilerOptions": { "strict": false } }');
    const { code, out } = await line.run(["new", "fresh/horns.headpiece.ts", "--json"]);
    expect(code).toBe(0);
    const told = JSON.parse(out);
    expect(told).toMatchObject({ ok: true, messages: [] });
    const kinds = told.files.map(({ kind }: { kind: string }) => kind);
    expect(kinds.slice(0, 2)).toEqual(["design", "wearer"]);
    expect(kinds).not.toContain("tsconfig");
    for (const { path } of told.files) expect(existsSync(path)).toBe(true);
    expect(line.read("fresh/tsconfig.json")).toContain('"strict": false');
  });
});
