import type * as ts from "typescript";

const isDesign = (file: string) => file.endsWith(".headpiece.ts");
const holdsOnlyDesigns = (files: readonly string[]) => files.length > 0 && files.every(isDesign);

/**
 * In a folder without a tsconfig an editor guesses the options. A design is checked as the engine reads it: strictly,
 * as a module that a bundler puts together, and, where nothing but designs is open, without the browser's names, one
 * of which is `length`.
 * @param typescript the running TypeScript
 * @param options what the editor guessed
 * @param roots the files that the project begins with
 * @returns options with those of designs over them; the same object where there is no design
 */
export function designOptions(
  typescript: typeof ts,
  options: ts.CompilerOptions,
  roots: readonly string[],
): ts.CompilerOptions {
  if (!roots.some(isDesign)) return options;
  const { ModuleKind, ModuleResolutionKind, ScriptTarget } = typescript;
  return {
    ...options,
    strict: true,
    target: Math.max(options.target ?? 0, ScriptTarget.ES2022),
    module: ModuleKind.ESNext,
    // TypeScript before 5.0 knows no bundlers.
    moduleResolution: ModuleResolutionKind.Bundler ?? ModuleResolutionKind.NodeJs,
    ...(ModuleResolutionKind.Bundler !== undefined && { allowImportingTsExtensions: true }),
    resolveJsonModule: true,
    esModuleInterop: true,
    noEmit: true,
    skipLibCheck: true,
    ...(holdsOnlyDesigns(roots) && { lib: ["lib.es2022.d.ts"], types: [] }),
  };
}

/**
 * Lets an inferred project use the options of designs.
 * @param project changed in place
 * @param globals declares what a design finds beside the language standard
 */
export function adaptInferredProject(
  typescript: typeof ts,
  project: ts.server.Project,
  globals: string,
): void {
  if (project.projectKind !== typescript.server.ProjectKind.Inferred) return;
  const guessed = project.getCompilationSettings.bind(project);
  // The same object for the same question: TypeScript takes another for a change.
  let last: { from: ts.CompilerOptions; roots: string; made: ts.CompilerOptions } | undefined;
  project.getCompilationSettings = () => {
    const from = guessed();
    const files = project.getRootFiles();
    const roots = files.join("\n");
    if (last?.from !== from || last.roots !== roots) {
      last = { from, roots, made: designOptions(typescript, from, files) };
    }
    return last.made;
  };
  const given = project.getScriptFileNames.bind(project);
  project.getScriptFileNames = () => {
    const files = given();
    return holdsOnlyDesigns(project.getRootFiles()) ? [...files, globals] : files;
  };
}
