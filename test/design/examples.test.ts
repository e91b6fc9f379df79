import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import * as modeling from "@jscad/modeling";
import ts from "typescript";
import { describe, expect, test } from "vitest";
import * as language from "../../src/design";
import { inMake } from "./rig";

/** Every example in the documentation of the language compiles, and does what it does inside a `make`. */

const folder = resolve(import.meta.dirname, "../../src/design");
const index = readFileSync(join(folder, "index.ts"), "utf8");

interface Example {
  readonly of: string;
  readonly code: string;
}

const sources = readdirSync(folder).map((name) =>
  ts.createSourceFile(name, readFileSync(join(folder, name), "utf8"), ts.ScriptTarget.ES2022, true),
);

const examplesOf = (node: ts.Node, of: string): Example[] =>
  ts.getJSDocTags(node).flatMap((tag) => {
    if (tag.tagName.text !== "example") return [];
    return [{ of, code: (ts.getTextOfJSDocComment(tag.comment) ?? "").trim() }];
  });

const isInternal = (node: ts.Node): boolean =>
  ts.getJSDocTags(node).some((tag) => tag.tagName.text === "internal");

/** Each exported thing and each public method of an exported class, with its examples. */
const documented = sources.flatMap((source) =>
  source.statements.flatMap((statement) => {
    const exported =
      ts.canHaveModifiers(statement) &&
      ts.getModifiers(statement)?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword);
    if (!exported) return [];
    if (ts.isVariableStatement(statement)) {
      return statement.declarationList.declarations.map((declaration) => {
        const of = declaration.name.getText();
        const callable = declaration.initializer && ts.isArrowFunction(declaration.initializer);
        return { of, callable, examples: examplesOf(declaration, of) };
      });
    }
    if (ts.isFunctionDeclaration(statement)) {
      const of = statement.name?.text ?? "";
      return [{ of, callable: true, examples: examplesOf(statement, of) }];
    }
    if (!ts.isClassDeclaration(statement)) return [];
    const owner = statement.name?.text ?? "";
    const methods = statement.members.filter(
      (member) =>
        ts.isMethodDeclaration(member) && !ts.isPrivateIdentifier(member.name) && !isInternal(member),
    );
    return [
      { of: owner, callable: false, examples: examplesOf(statement, owner) },
      ...methods.map((member) => {
        const of = `${owner}.${member.name?.getText()}`;
        return { of, callable: true, examples: examplesOf(member, of) };
      }),
      ...statement.members.filter(ts.isGetAccessor).map((member) => {
        const of = `${owner}.${member.name.getText()}`;
        return { of, callable: false, examples: examplesOf(member, of) };
      }),
    ];
  }),
);
const examples = documented.flatMap(({ examples: own }) => own);

/** What an example may speak of without saying where it comes from. */
const stage = `
const { primitives } = modeling;
const ring = band("ring", head.girthLine.raised(12), { radius: 6 });
const stem = tube("stem", [ring.atAzimuth(40), onHead({ azimuth: 40, elevation: 30, lift: 20 }), [80, 90, 190]], { radius: [6, 3] });
const horn = tube("horn", stem.path, { radius: 6 });
const spike = tube("spike", stem.path, { radius: 4 });
const stems = [horn, spike];
const brow = head.landmarks.brow;
const [base, middle] = [ring.atAzimuth(90), onHead({ azimuth: 90, elevation: 30, lift: 40 })];
const antler = (azimuth: number) => tube("antler", [ring.atAzimuth(azimuth), onHead({ azimuth, elevation: 40, lift: 90 })]);
`;
const names = Object.keys(language);

function inFunction({ code }: Example, i: number): string {
  let body = `return ${code};`;
  if (code.startsWith("parameters:")) body = `return ({ ${code} });`;
  else if (code.startsWith("export default")) body = code.replace("export default", "return");
  else if (code.startsWith("return ")) body = code;
  else if (code.startsWith("const ")) body = `${code}\nreturn undefined;`;
  return `export function example${i}({ head, random }: Make<Record<never, never>>): unknown {\n${stage}\n${body}\n}`;
}

const file = resolve(import.meta.dirname, "examples.generated.ts");
const program = `import * as modeling from "@jscad/modeling";
import { ${names.join(", ")}, type Make } from "anadem";
${examples.map(inFunction).join("\n")}
`;

test("every exported function and method has an example", () => {
  const exportedNames = new Set([...index.matchAll(/\b\w+\b/g)].map(([word]) => word));
  const bare = documented.filter(
    ({ of, callable, examples: own }) => callable && own.length === 0 && exportedNames.has(of.split(".")[0]),
  );
  expect(bare.map(({ of }) => of)).toEqual([]);
  expect(examples.length).toBeGreaterThan(50);
});

test("all examples compile in strict TypeScript", () => {
  const configFile = ts.readConfigFile(resolve(import.meta.dirname, "../../tsconfig.json"), ts.sys.readFile);
  const { options } = ts.parseJsonConfigFileContent(
    { ...configFile.config, include: [], files: ["x.ts"] },
    ts.sys,
    resolve(import.meta.dirname, "../.."),
  );
  // An example need not use all that the stage offers.
  const lax = { ...options, noUnusedLocals: false, noUnusedParameters: false };
  const host = ts.createCompilerHost(lax);
  const read = host.getSourceFile.bind(host);
  host.getSourceFile = (name, ...rest) =>
    resolve(name) === file ? ts.createSourceFile(name, program, ts.ScriptTarget.ES2022) : read(name, ...rest);
  const exists = host.fileExists.bind(host);
  host.fileExists = (name) => resolve(name) === file || exists(name);
  const compiled = ts.createProgram([file], lax, host);
  const source = compiled.getSourceFile(file);
  const wrong = [...compiled.getSyntacticDiagnostics(source), ...compiled.getSemanticDiagnostics(source)].map(
    ({ messageText, start }) => {
      const at = source?.getLineAndCharacterOfPosition(start ?? 0).line ?? 0;
      return `${program.split("\n")[at]}: ${ts.flattenDiagnosticMessageText(messageText, "\n")}`;
    },
  );
  expect(wrong).toEqual([]);
}, 120_000);

describe("all examples run", () => {
  test.each(examples.map((example, i) => [example.of, example, i] as const))("%s", (_, example, i) => {
    const { outputText } = ts.transpileModule(
      inFunction(example, i).replace("export function", "return function"),
      {
        compilerOptions: { target: ts.ScriptTarget.ES2022 },
      },
    );
    const make = new Function("modeling", ...names, outputText)(
      modeling,
      ...names.map((name) => (language as Record<string, unknown>)[name]),
    );
    expect(() => inMake(make)).not.toThrow();
  });
});
