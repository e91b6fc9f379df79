import type { LanguageService } from "typescript";
import { expect, test } from "vitest";
import { shippedTypes } from "../../../src/extension/typescript/resolving";
import { withShippedNames } from "../../../src/extension/typescript/specifiers";

/** Paths as the TypeScript server writes them on Windows, where this does not run. */
const onWindows = (module: string) =>
  `c:/Users/ondine/.vscode/extensions/anadem/dist/${shippedTypes[module]}`;

const offering = (specifier: string) =>
  ({
    getCodeFixesAtPosition: (fileName: string) => [
      {
        fixName: "import",
        description: `Add import from "${specifier}"`,
        changes: [
          {
            fileName,
            textChanges: [{ span: { start: 0, length: 0 }, newText: `import { tube } from "${specifier}";` }],
          },
        ],
      },
    ],
  }) as unknown as LanguageService;

const fixed = (file: string, specifier: string) => {
  const service = withShippedNames(offering(specifier), onWindows);
  const [{ description, changes }] = service.getCodeFixesAtPosition(file, 0, 1, [2304], {}, {});
  return [description, changes[0].textChanges[0].newText];
};

test("a path into the extension becomes the module's name, on the same drive and on another", () => {
  const named = ['Add import from "anadem"', 'import { tube } from "anadem";'];
  const near = "../.vscode/extensions/anadem/dist/anadem";
  expect(fixed("C:/Users/ondine/court/eye.ts", near)).toEqual(named);
  expect(fixed("D:/court/eye.ts", "c:/Users/ondine/.vscode/extensions/anadem/dist/anadem")).toEqual(named);
});

test("a file of the person's own keeps its path", () => {
  expect(fixed("D:/court/eye.ts", "./dist/anadem")[1]).toBe('import { tube } from "./dist/anadem";');
});
