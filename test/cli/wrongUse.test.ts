import { readdirSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import packageJson from "../../package.json" with { type: "json" };
import { CommandLine, designText, wearerText } from "./commandLine";

let line: CommandLine;
beforeAll(async () => {
  line = await CommandLine.create();
  line.write("marin.wearer.json", wearerText);
  line.write("ring.headpiece.ts", designText());
}, 120_000);
afterAll(() => line.remove());

describe("wrong use: exit code 2, what is wrong, and what would be right", () => {
  test.each<[string, string[], RegExp, RegExp]>([
    ["an unknown command", ["biuld", "ring.headpiece.ts"], /no command "biuld"/, /"build"/],
    [
      "an unknown option",
      ["build", "ring.headpiece.ts", "--materail", "x"],
      /no option --materail/,
      /--material/,
    ],
    ["an unknown short option", ["build", "ring.headpiece.ts", "-j"], /no option -j/, /--json/],
    [
      "an option of another command",
      ["head", "marin.wearer.json", "--set", "a=1"],
      /no option --set/,
      /--out/,
    ],
    ["an unknown option in place of a command", ["--verson"], /no option --verson/, /./],
    ["no design", ["build"], /lacks DESIGN/, /anadem build DESIGN/],
    ["two designs", ["build", "a.ts", "b.ts"], /takes one DESIGN, not 2/, /./],
    ["a design that is not there", ["build", "rong.headpiece.ts"], /no file .*rong\.headpiece\.ts/, /./],
    [
      "a wearer that is not there",
      ["build", "ring.headpiece.ts", "--wearer", "x.json"],
      /--wearer: .*x\.json/,
      /./,
    ],
    ["a wearer's head that is not there", ["head", "x.wearer.json"], /no file .*x\.wearer\.json/, /./],
    ["an option without its value", ["build", "ring.headpiece.ts", "--out"], /--out lacks its value/, /DIR/],
    [
      "an option twice",
      ["build", "ring.headpiece.ts", "--out", "a", "--out", "b"],
      /--out is given twice/,
      /./,
    ],
    ["a switch with a value", ["build", "ring.headpiece.ts", "--json=yes"], /--json takes no value/, /./],
    ["a setting without a value", ["build", "ring.headpiece.ts", "--set", "rays"], /--set rays/, /=/],
    ["a limit that is no number", ["build", "ring.headpiece.ts", "--time-limit", "soon"], /soon/, /number/],
    ["a limit of nothing", ["build", "ring.headpiece.ts", "--memory-limit", "0"], /0/, /above 0/],
    ["a folder for a name", ["new", "../"], /cannot name a design/, /reed-crown/],
    ["a name that is none", ["new", "?"], /"\?" cannot name a design/, /reed-crown/],
  ])("%s", async (_, words, text, hint) => {
    const { code, out, err } = await line.run(words);
    expect({ code, out }).toEqual({ code: 2, out: "" });
    const [first, second] = err.split("\n");
    expect(first).toMatch(/^anadem: /);
    expect(first).toMatch(text);
    expect(second).toMatch(/^ {2}hint: /);
    expect(second).toMatch(hint);
    expect(err).not.toMatch(/\n {4}at /);
  });

  test("with --json it is told as an object too", async () => {
    const { code, out } = await line.run(["build", "rong.headpiece.ts", "--json"]);
    expect(code).toBe(2);
    expect(JSON.parse(out)).toMatchObject({
      ok: false,
      messages: [{ id: "wrong-use", severity: "error" }],
      report: null,
      files: [],
    });
  });

  test("nothing was written", () => {
    expect(readdirSync(line.folder).sort()).toEqual(["marin.wearer.json", "ring.headpiece.ts"]);
  });
});

describe("asked for", () => {
  test.each([[["--version"]], [["-v"]]])("%s", async (words) => {
    expect(await line.run(words)).toMatchObject({ code: 0, out: `${packageJson.version}\n`, err: "" });
  });

  test.each([[[]], [["--help"]], [["-h"]], [["help"]]])("the help of all commands: %s", async (words) => {
    const { code, out, err } = await line.run(words);
    expect({ code, err }).toEqual({ code: 0, err: "" });
    for (const name of ["build DESIGN", "head WEARER", "new NAME", "--version"]) expect(out).toContain(name);
  });

  test.each(["build", "head", "new"])("the help of %s, also in the middle of others", async (command) => {
    const { code, out } = await line.run([command, "--help"]);
    expect(code).toBe(0);
    expect(out).toContain(`anadem ${command}`);
    expect(out).toContain("--json");
    expect((await line.run([command, "x", "--json", "-h"])).out).toBe(out);
    expect((await line.run(["help", command])).out).toBe(out);
  });

  test("a line is not broken by a reader that has seen enough", async () => {
    const child = line.start(["--help"]);
    child.stdout!.destroy();
    const code = await new Promise((resolve) => child.on("close", resolve));
    expect(code).toBe(0);
  });
});

test("a name that begins with a dash goes after --", async () => {
  line.write("-odd.headpiece.ts", "export default 3;");
  const { code, err } = await line.run(["build", "--", "-odd.headpiece.ts"]);
  expect(code).toBe(1);
  expect(err).toMatch(/^-odd\.headpiece\.ts:1:\d+: error: /);
});
