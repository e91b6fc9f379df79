import { posix } from "node:path";
import type * as ts from "typescript";
import { shippedTypes } from "./resolving";

/**
 * TypeScript offers to import a name by the path of its file. For the shipped modules that would be a path into the
 * editor's extensions: offered is the module's name instead.
 * @param service the project's language service; it stays as it is
 * @param fileOf path of the shipped types of a module
 */
export function withShippedNames(
  service: ts.LanguageService,
  fileOf: (module: string) => string,
): ts.LanguageService {
  const moduleOf = new Map(Object.keys(shippedTypes).map((module) => [plain(fileOf(module)), module]));

  /** The specifier as it is to be written in a file. */
  const named = (specifier: string, file: string) =>
    moduleOf.get(plain(specifier.startsWith(".") ? posix.join(posix.dirname(file), specifier) : specifier)) ??
    specifier;
  const inCode = (text: string, file: string) =>
    text.replace(/(["'])([^"'\n]+)\1/g, (_, quote, specifier) => `${quote}${named(specifier, file)}${quote}`);

  const changed = (changes: readonly ts.FileTextChanges[]): ts.FileTextChanges[] =>
    changes.map((change) => ({
      ...change,
      textChanges: change.textChanges.map((edit) => ({
        ...edit,
        newText: inCode(edit.newText, change.fileName),
      })),
    }));
  const action = <T extends ts.CodeAction>(fix: T, file: string): T => ({
    ...fix,
    description: inCode(fix.description, file),
    changes: changed(fix.changes),
  });
  const display = (parts: readonly ts.SymbolDisplayPart[] | undefined, file: string) =>
    parts && { sourceDisplay: parts.map((part) => ({ ...part, text: named(part.text, file) })) };

  return {
    ...service,
    getCompletionsAtPosition(file, ...rest) {
      const found = service.getCompletionsAtPosition(file, ...rest);
      return (
        found && {
          ...found,
          entries: found.entries.map((entry) =>
            entry.sourceDisplay ? { ...entry, ...display(entry.sourceDisplay, file) } : entry,
          ),
        }
      );
    },
    getCompletionEntryDetails(file, ...rest) {
      const found = service.getCompletionEntryDetails(file, ...rest);
      return (
        found && {
          ...found,
          ...display(found.sourceDisplay, file),
          ...(found.codeActions && { codeActions: found.codeActions.map((fix) => action(fix, file)) }),
        }
      );
    },
    getCodeFixesAtPosition: (file, ...rest) =>
      service.getCodeFixesAtPosition(file, ...rest).map((fix) => action(fix, file)),
    getCombinedCodeFix(scope, ...rest) {
      const found = service.getCombinedCodeFix(scope, ...rest);
      return { ...found, changes: changed(found.changes) };
    },
  };
}

/** Without its ending, and without the case, which a drive's letter may change. */
const plain = (path: string) => path.replace(/(\.d)?\.ts$/, "").toLowerCase();
