import type * as ts from "typescript";

/** The modules of which the extension ships types, and the file of each beside the extension's programs. */
export const shippedTypes: Readonly<Record<string, string>> = {
  anadem: "anadem.d.ts",
  "@jscad/modeling": "modeling.d.ts",
};

type Host = ts.LanguageServiceHost;

/**
 * Lets a project find the shipped modules where it finds none of its own: a package that is installed, and what a
 * tsconfig names, win.
 * @param host the project, changed in place
 * @param fileOf path of the shipped types of a module
 */
export function resolveShipped(host: Host, fileOf: (module: string) => string): void {
  const found = Object.fromEntries(
    Object.keys(shippedTypes).map((module) => [
      module,
      { resolvedFileName: fileOf(module), extension: ".d.ts", isExternalLibraryImport: true },
    ]),
  );
  const stand = (module: string) => (Object.hasOwn(found, module) ? found[module] : undefined);

  const literals = host.resolveModuleNameLiterals?.bind(host);
  if (literals) {
    host.resolveModuleNameLiterals = (names, ...rest) =>
      literals(names, ...rest).map((resolved, i) => {
        const shipped = resolved.resolvedModule ? undefined : stand(names[i]!.text);
        return shipped ? { ...resolved, resolvedModule: shipped } : resolved;
      });
  }
  // What TypeScript before 5.0 asks.
  const names = host.resolveModuleNames?.bind(host);
  if (names) {
    host.resolveModuleNames = (modules, ...rest) =>
      names(modules, ...rest).map((resolved, i) => resolved ?? stand(modules[i]!));
  }
}
