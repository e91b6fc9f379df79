import { mkdirSync, mkdtempSync, readFileSync, realpathSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import type { server } from "typescript";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { bundleTypes } from "../../../src/tools/bundle.mjs";
import { bundleExtension, typescriptPluginSource } from "../../../src/tools/bundleExtension.mjs";
import { TypeScriptServer } from "./typescriptServer";

/** The plugin in the real TypeScript server, in folders where nothing is installed. */

let home: string;
let ts: TypeScriptServer;
beforeAll(async () => {
  home = realpathSync(mkdtempSync(join(tmpdir(), "anadem-typescript-")));
  const extension = join(home, "extension");
  mkdirSync(join(extension, "dist"), { recursive: true });
  await bundleExtension(extension, { only: typescriptPluginSource });
  await bundleTypes(join(extension, "dist"));
  writeFileSync(
    join(extension, "node_modules", "anadem-typescript-plugin", "package.json"),
    '{ "main": "index.js" }',
  );
  ts = new TypeScriptServer(extension);
}, 120_000);
afterAll(() => {
  ts?.close();
  rmSync(home, { recursive: true, force: true });
});

const design = (
  lines: { imports?: string; parts?: string } = {},
) => `import { primitives } from "@jscad/modeling";
import { band, count, headpiece, solid, tube } from "anadem";
${lines.imports ?? ""}
export default headpiece({
  name: "Ring",
  wearer: "marin.wearer.json",
  parameters: { rays: count(7, { least: 3, most: 24 }) },
  make({ head, parameters: { rays } }) {
    const ring = band("ring", head.girthLine.raised(12), { radius: 6 });
    const pearl = solid("pearl", primitives.sphere({ radius: 7 }), { at: ring.atAzimuth(60 * rays) });
    return [ring, pearl, ${lines.parts ?? ""}];
  },
});
`;

/** A folder with files, the first of them open in the editor. */
function workspace(name: string, files: Readonly<Record<string, string>>): string {
  const folder = join(home, name);
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
  const [[first, text]] = Object.entries(files);
  ts.open(join(folder, first), text, folder);
  return join(folder, first);
}

/** Line and offset, from 1, of a text in a file, `plus` characters after its begin. */
function placeOf(file: string, text: string, plus = 0) {
  const before = readFileSync(file, "utf8").split(text)[0];
  const lines = before.split("\n");
  return { file, line: lines.length, offset: lines.at(-1)!.length + 1 + plus };
}

describe("in a fresh folder without a tsconfig", () => {
  test("finds nothing wrong with a good design", async () => {
    const file = workspace("fresh", { "ring.headpiece.ts": design() });
    expect(await ts.errors(file)).toEqual([]);
  });

  test("tells what a word of the language means", async () => {
    const file = workspace("hover", { "ring.headpiece.ts": design() });
    const info = await ts.ask<server.protocol.QuickInfoResponseBody>("quickinfo", placeOf(file, "band(", 1));
    expect(info.displayString).toContain("band(name: string, line: Path");
    // The docstring of the source itself.
    const source = readFileSync(join(import.meta.dirname, "../../../src/design/band.ts"), "utf8");
    const [, first] = /\/\*\*\s*\n\s*\* ([^\n]*)\n[^/]*\*\/\s*export function band/.exec(source)!;
    expect(info.documentation).toContain(first);
  });

  test("completes options and parameters", async () => {
    const file = workspace("completion", { "ring.headpiece.ts": design({ parts: "tube('t', [], { t })" }) });
    const names = async (place: object) => {
      const body = await ts.ask<server.protocol.CompletionInfo>("completionInfo", place);
      return body.entries.map(({ name }) => name);
    };
    expect(await names(placeOf(file, "{ t })", 3))).toEqual(
      expect.arrayContaining(["tip", "twist", "radius"]),
    );
    expect(await names(placeOf(file, "head.girth", 5))).toEqual(
      expect.arrayContaining(["girthLine", "around"]),
    );
    expect(await names(placeOf(file, "primitives.sphere", 11))).toContain("geodesicSphere");
  });

  test("underlines a wrong type and a misspelt option", async () => {
    const file = workspace("wrong", {
      "ring.headpiece.ts": design({
        parts: 'band("b", head.girthLine, { radius: "6" }), band("c", head.girthLine, { radios: 6 })',
      }),
    });
    const errors = await ts.errors(file);
    expect(errors.map((text) => text.split(":")[0])).toEqual(["TS2322", "TS2561"]);
    expect(errors[1]).toContain("'radius'");
  });

  test("is strict, and knows no browser", async () => {
    const file = workspace("strict", {
      "ring.headpiece.ts": design({
        imports: "const twice = (x) => 2 * x;\nexport const far = twice(length);",
      }),
    });
    const errors = await ts.errors(file);
    expect(errors.map((text) => text.split(":")[0])).toEqual(["TS7006", "TS2304"]);
    expect(errors[1]).toContain("'length'");
  });

  test("knows what a design has beside the language standard", async () => {
    const file = workspace("console", {
      "ring.headpiece.ts": design({ imports: 'console.log("here", structuredClone({ a: 1 }).a);' }),
    });
    expect(await ts.errors(file)).toEqual([]);
  });

  test("goes to where the language is declared, with the extension", async () => {
    const file = workspace("definition", { "ring.headpiece.ts": design() });
    const [to] = await ts.ask<server.protocol.DefinitionInfo[]>("definition", placeOf(file, "band(", 1));
    expect(to.file).toBe(join(home, "extension", "dist", "anadem.d.ts"));
    const [line] = readFileSync(to.file, "utf8")
      .split("\n")
      .slice(to.start.line - 1);
    expect(line).toContain("function band(");
  });

  test("finds a second file, and a table beside the design", async () => {
    const file = workspace("two", {
      "ring.headpiece.ts": design({
        imports: 'import { horn } from "./parts/horn";\nimport table from "./table.json";',
        parts: "horn(table.reach)",
      }),
      "parts/horn.ts":
        'import { onHead, tube } from "anadem";\nexport const horn = (reach: number) => tube("horn", [onHead({ azimuth: 0, elevation: 20 }), onHead({ azimuth: 0, elevation: 40, lift: reach })], { radius: 4 });\n',
      "table.json": '{ "reach": 40 }',
    });
    expect(await ts.errors(file)).toEqual([]);
  });

  test("imports a name by the module's name, not by the path of the extension", async () => {
    const file = workspace("import", {
      "ring.headpiece.ts": design({ parts: "mirrored(pearl)" }),
      "parts/eye.ts": "export const eye = () => tube;\n",
    });
    const codes = (await ts.ask<server.protocol.Diagnostic[]>("semanticDiagnosticsSync", { file })).map(
      ({ code }) => code,
    );
    expect(codes).toEqual([2304]);
    const fixAt = async (place: { file: string; line: number; offset: number }) => {
      const { file: inFile, line, offset } = place;
      const fixes = await ts.ask<server.protocol.CodeFixAction[]>("getCodeFixes", {
        file: inFile,
        startLine: line,
        startOffset: offset,
        endLine: line,
        endOffset: offset + 1,
        errorCodes: [2304],
      });
      return fixes
        .flatMap(({ description, changes }) => [
          description,
          ...changes.flatMap(({ textChanges }) => textChanges.map(({ newText }) => newText)),
        ])
        .join("\n");
    };
    expect(await fixAt(placeOf(file, "mirrored("))).toContain('"anadem"');
    // A file that imports nothing yet: TypeScript itself would name the file in the extension.
    const eye = join(dirname(file), "parts", "eye.ts");
    ts.open(eye, readFileSync(eye, "utf8"), dirname(file));
    const fix = await fixAt(placeOf(eye, "tube;"));
    expect(fix).toContain('import { tube } from "anadem"');
    expect(fix).not.toContain("dist/anadem");
    const { entries } = await ts.ask<server.protocol.CompletionInfo>("completionInfo", {
      ...placeOf(eye, "tube;", 3),
      includeExternalModuleExports: true,
    });
    const entry = entries.find(({ name, hasAction }) => name === "tube" && hasAction)!;
    expect(entry.sourceDisplay?.map(({ text }) => text).join("")).toBe("anadem");
    const [details] = await ts.ask<server.protocol.CompletionEntryDetails[]>("completionEntryDetails", {
      ...placeOf(eye, "tube;", 3),
      entryNames: [{ name: "tube", source: entry.source, data: entry.data }],
    });
    expect(JSON.stringify(details.codeActions)).toContain('from \\"anadem\\"');
  });

  test("leaves other files as the editor has them", async () => {
    const file = workspace("other", { "script.ts": "export const wide = window.length;\n" });
    expect(await ts.errors(file)).toEqual([]);
  });
});

describe("with a tsconfig", () => {
  const tsconfig = (options: object) =>
    JSON.stringify({
      compilerOptions: {
        target: "ES2022",
        module: "ESNext",
        moduleResolution: "bundler",
        strict: true,
        ...options,
      },
    });

  test("that names no path: finds the shipped types", async () => {
    const file = workspace("configured", { "ring.headpiece.ts": design(), "tsconfig.json": tsconfig({}) });
    expect(await ts.errors(file)).toEqual([]);
  });

  test("that resolves in the older way: finds them too", async () => {
    const file = workspace("older", {
      "ring.headpiece.ts": design(),
      "tsconfig.json": tsconfig({ moduleResolution: "node" }),
    });
    expect(await ts.errors(file)).toEqual([]);
  });

  test("that names types of its own: those win", async () => {
    const file = workspace("paths", {
      "ring.headpiece.ts": 'import { own } from "anadem";\nexport default own;\n',
      "tsconfig.json": tsconfig({ paths: { anadem: ["./types/anadem.d.ts"] } }),
      "types/anadem.d.ts": "export const own: number;\n",
    });
    expect(await ts.errors(file)).toEqual([]);
  });
});

test("a package that is installed wins, also when it comes later", async () => {
  const file = workspace("installed", {
    "ring.headpiece.ts": 'import { own } from "anadem";\nexport default own;\n',
  });
  expect((await ts.errors(file))[0]).toMatch(/^TS2305: .*"anadem"' has no exported member 'own'/);
  const folder = join(dirname(file), "node_modules", "anadem");
  mkdirSync(folder, { recursive: true });
  writeFileSync(
    join(folder, "package.json"),
    '{ "name": "anadem", "version": "9.0.0", "types": "index.d.ts" }',
  );
  writeFileSync(join(folder, "index.d.ts"), "export const own: number;\n");
  const other = workspace("installed", {
    "second.headpiece.ts": 'import { own } from "anadem";\nexport default own;\n',
  });
  await expect.poll(() => ts.errors(other), { timeout: 20_000 }).toEqual([]);
});
