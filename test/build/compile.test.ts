import { createContext, Script } from "node:vm";
import { TraceMap } from "@jridgewell/trace-mapping";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { Compiler, compileDesign } from "../../src/build/compile";
import { DesignFolder } from "./designFolder";

const name = "crown.headpiece.ts";
let folder: DesignFolder;
let compiler: Compiler;
beforeEach(() => {
  folder = new DesignFolder();
  compiler = new Compiler();
});
afterEach(async () => {
  await compiler.dispose();
  folder.remove();
});

function compile(files: Record<string, string> | string) {
  folder.write(typeof files === "string" ? { [name]: files } : files);
  return compiler.compile(folder.file(name));
}

async function errorAtMark(files: Record<string, string> | string, inFile = name) {
  const { design, messages } = await compile(files);
  expect(design).toBeUndefined();
  expect(messages).toHaveLength(1);
  const { text, file, line, column } = messages[0];
  expect({ text, file, line, column }).toEqual({ text, ...folder.place(inFile) });
  return messages[0];
}

/** What a compiled script exports, with stand-ins for the modules that a design's process gives. */
function run(code: string): Record<string, unknown> {
  const module = { exports: {} };
  const sandbox = createContext({
    module,
    exports: module.exports,
    require: (wanted: string) => ({ wanted }),
  });
  new Script(code).runInContext(sandbox);
  return module.exports;
}

test("one script of a design, its helpers and its data", async () => {
  const { design, inputs, messages } = await compile({
    [name]: `import * as anadem from "anadem";
import jscad from "@jscad/modeling";
import { union } from "@jscad/modeling/src/operations/booleans";
import { stem } from "./parts/stem";
import { leaf } from "./parts/leaf.js";
import sizes from "./sizes.json";
type Unused = number;
export default { anadem, jscad, union, made: stem(sizes.rise as number) + leaf };
`,
    "parts/stem.ts": `export const stem = (n: number): number => n * 2;\n`,
    "parts/leaf.ts": `export const leaf = 0.5;\n`,
    "sizes.json": `{ "rise": 12 }`,
  });
  expect(messages).toEqual([]);
  expect(inputs).toEqual(
    [name, "parts/leaf.ts", "parts/stem.ts", "sizes.json"].map((each) => folder.file(each)),
  );
  expect(run(design!.code).default).toMatchObject({
    anadem: { wanted: "anadem" },
    jscad: { wanted: "@jscad/modeling" },
    made: 24.5,
  });
  const map = new TraceMap(design!.sourceMap);
  expect([...map.sources].sort()).toEqual(
    [name, "parts/leaf.ts", "parts/stem.ts", "sizes.json"].map((each) => folder.file(each)),
  );
  expect(map.sourcesContent).toBeUndefined();
  expect(design!.defaultExport).toEqual({ file: folder.file(name), line: 8, column: 1, length: 14 });
});

test("the same text gives the same script, byte for byte", async () => {
  const text = `import { x } from "./x";\nexport default x;\n`;
  const first = await compile({ [name]: text, "x.ts": "export const x = 3;\n" });
  const second = await compileDesign(folder.file(name));
  expect(second).toEqual(first);
});

test("a tsconfig.json beside a design changes nothing", async () => {
  const text = `class Heap { size = 3; }\nexport default new Heap().size;\n`;
  const { design } = await compile(text);
  folder.write({
    "tsconfig.json": `{ "compilerOptions": { "target": "ES5", "useDefineForClassFields": false, "paths": { "anadem": ["./x"] } } }`,
  });
  expect((await compileDesign(folder.file(name))).design?.code).toBe(design!.code);
});

describe("imports", () => {
  test.each([
    ["node:fs", "copy what it needs"],
    ["fs", "copy what it needs"],
    ["three", "copy what it needs"],
    ["anadam", 'did you mean "anadem"?'],
    ["@jscad/modelling", 'did you mean "@jscad/modeling"?'],
    ["/etc/hostname", "copy what it needs"],
  ])('"%s" is refused at its line', async (wanted, suggestion) => {
    const error = await errorAtMark(
      `const a = "ü"; /* é */ import { thing } from /*@*/"${wanted}";\nexport default [a, thing];\n`,
    );
    expect(error).toMatchObject({ id: "import-not-allowed", length: wanted.length + 2 });
    expect(error.text).toBe(
      `"${wanted}" cannot be imported: a design imports only from anadem, @jscad/modeling and relative files`,
    );
    expect(error.suggestion).toContain(suggestion);
  });

  test("in a helper, at the helper's line", async () => {
    await errorAtMark(
      {
        [name]: `import { a } from "./a";\nexport default a;\n`,
        "a.ts": `import os from /*@*/"node:os";\nexport const a = os;\n`,
      },
      "a.ts",
    );
  });

  test("a relative file that is not there: the importing line, the nearest name, and what to watch", async () => {
    const error = await errorAtMark({
      [name]: `import { a } from /*@*/"./parts/setm";\nexport default a;\n`,
      "parts/stem.ts": "",
    });
    expect(error).toMatchObject({
      id: "import-not-found",
      text: '"./parts/setm" cannot be imported: there is no such file',
      suggestion: 'did you mean "./parts/stem"?',
    });
    const { inputs } = await compiler.compile(folder.file(name));
    expect(inputs).toContain(folder.file("parts/setm.ts"));
    folder.write({ "parts/setm.ts": "export const a = 1;" });
    expect((await compiler.compile(folder.file(name))).messages).toEqual([]);
  });

  test("a picture", async () => {
    const error = await errorAtMark({
      [name]: `import a from /*@*/"./a.png";\nexport default a;\n`,
      "a.png": "",
    });
    expect(error.text).toMatch(/only TypeScript, JavaScript and JSON/);
  });

  test("a name that a helper does not export", async () => {
    const error = await errorAtMark({
      [name]: `import { /*@*/stm } from "./stem";\nexport default stm;\n`,
      "stem.ts": "export const stem = 1;",
    });
    expect(error).toMatchObject({ id: "import-name", text: 'stem.ts does not export "stm"', length: 3 });
    expect(error.suggestion).toMatch(/stem/);
  });
});

describe("syntax", () => {
  test.each([
    ["const größe = (1 + /*@*/;", /Unexpected ";"/],
    ["const a = [1, 2/*@*/;", /Expected "\]" but found ";"/],
    ["export default /*@*/}", /Unexpected "}"/],
    ["const a = 1;\nconst /*@*/a = 2;", /has already been declared/],
    ["const a = /*@*/await 3;", /await has no place/],
    ['const a = "never closed/*@*/', /Unterminated string/],
  ])("%s", async (text, expected) => {
    const error = await errorAtMark(`// Coral, größer\n${text}\n`);
    expect(error.severity).toBe("error");
    expect(error.text).toMatch(expected);
  });

  test("says what to put where something is missing", async () => {
    const error = await errorAtMark("const a = [1, 2/*@*/;");
    expect(error.suggestion).toBe('put "]" before ";", or look for what is not closed above');
  });

  test("of a JSON file, at its line", async () => {
    const { messages } = await compile({
      [name]: `import a from "./a.json";\nexport default a;\n`,
      "a.json": `{\n  "rise": }`,
    });
    expect(messages).toMatchObject([
      { id: "syntax", text: 'Unexpected "}" in JSON', file: folder.file("a.json"), line: 2, column: 11 },
    ]);
  });
});

test("a design that is not there, and a folder", async () => {
  const missing = await compiler.compile(folder.file("none.headpiece.ts"));
  expect(missing.messages).toMatchObject([
    { id: "design-not-found", file: folder.file("none.headpiece.ts"), line: 1, column: 1 },
  ]);
  expect(missing.messages[0].text).toMatch(/there is no such file/);
  expect((await compiler.compile(folder.path)).messages).toMatchObject([{ id: "design-not-found" }]);
});

test("a save while compiling: each compile sees the newest text", async () => {
  const outcomes = [];
  for (let i = 0; i < 10; i++) {
    folder.write({ [name]: `export default ${i};\n` });
    outcomes.push(await compiler.compile(folder.file(name)));
  }
  expect(outcomes.map(({ design }) => run(design!.code).default)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
  folder.write({ [name]: "export default 'first';\n" });
  const first = compiler.compile(folder.file(name));
  folder.write({ [name]: "export default 'second';\n" });
  await first;
  expect(run((await compiler.compile(folder.file(name))).design!.code).default).toBe("second");
});

test("many designs share one compiler", async () => {
  for (let i = 0; i < 20; i++) folder.write({ [`a${i}.headpiece.ts`]: `export default ${i};\n` });
  const outcomes = await Promise.all(
    Array.from({ length: 20 }, (_, i) => compiler.compile(folder.file(`a${i}.headpiece.ts`))),
  );
  expect(outcomes.map(({ design }) => run(design!.code).default)).toEqual(
    Array.from({ length: 20 }, (_, i) => i),
  );
});

test.each([
  ["export default 3;", 1, 1],
  ["const a = 3;\n  export { a as default };", 2, 3],
  ["const a = 3; export default a;", 1, 14],
  ["// export default 3\nexport const a = 3;", 0, 0],
])("the default export of %s", async (text, line, column) => {
  const { design } = await compile(text);
  expect([design?.defaultExport?.line ?? 0, design?.defaultExport?.column ?? 0]).toEqual([line, column]);
});
