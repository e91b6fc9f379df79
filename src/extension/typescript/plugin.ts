import { join } from "node:path";
import type * as ts from "typescript";
import { adaptInferredProject } from "./inferredOptions";
import { resolveShipped, shippedTypes } from "./resolving";
import { withShippedNames } from "./specifiers";

/** The extension's programs, seen from the plugin's folder below the extension's `node_modules`. */
const programs = join(__dirname, "..", "..", "dist");

/**
 * The plugin of the TypeScript server: a design completes, type-checks and explains itself in a folder where nothing
 * is installed.
 */
export default function plugin({ typescript }: { typescript: typeof ts }): ts.server.PluginModule {
  const slashed = (...path: string[]) => typescript.sys.resolvePath(join(...path)).replaceAll("\\", "/");
  const fileOf = (module: string) => slashed(programs, shippedTypes[module]!);
  return {
    create({ project, languageService, languageServiceHost }) {
      resolveShipped(languageServiceHost, fileOf);
      adaptInferredProject(
        typescript,
        project,
        typescript.sys.resolvePath(join(__dirname, "globals.d.ts")).replaceAll("\\", "/"),
      );
      return withShippedNames(languageService, fileOf);
    },
  };
}
