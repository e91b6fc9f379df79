import { readdirSync } from "node:fs";
import { basename, dirname, extname, resolve } from "node:path";
import type { Loader, OnLoadResult, PartialMessage, Plugin } from "esbuild";
import { nearestName } from "../nearestName";
import { isSource, type OpenTexts, sourceText } from "./sourceTexts";

/** Modules that the design's process provides; all else must be a file of the design's own. */
const provided = /^(?:anadem|@jscad\/modeling(?:\/.+)?)$/;
const relative = /^\.{1,2}(?:\/|$)/;
const loaders: Readonly<Record<string, Loader>> = {
  ".ts": "ts",
  ".mts": "ts",
  ".cts": "ts",
  ".js": "js",
  ".mjs": "js",
  ".cjs": "js",
  ".json": "json",
};
const extensions = Object.keys(loaders);

const rule = "a design imports only from anadem, @jscad/modeling and relative files";

/** What an import that breaks a rule carries to the message that is made of it. */
export interface ImportProblem {
  readonly id: string;
  readonly suggestion?: string;
}

/** The files of one bundle. */
export interface SourceSet {
  /** What stands in for files on disk. */
  texts: OpenTexts;
  /** Every file that the bundle reads or asks for, with its text; undefined where it is not there. */
  readonly inputs: Map<string, string | undefined>;
}

/**
 * Holds what a design may import, gives the bundler all its texts (one without a file system too), and collects every
 * file that is read or asked for, so that a caller can watch them even when the bundle fails.
 */
export function importRules(sources: SourceSet): Plugin {
  const { inputs } = sources;
  return {
    name: "import-rules",
    setup(build) {
      build.onStart(() => inputs.clear());
      build.onResolve({ filter: /.*/ }, ({ path, kind, importer }) => {
        if (kind === "entry-point") return { path };
        if (provided.test(path)) return { path, external: true };
        if (!relative.test(path)) return { errors: [refused(path)] };
        const target = resolve(dirname(importer), path);
        const found = resolveFile(target, sources.texts);
        if (found === undefined) {
          inputs.set(extname(target) ? target : `${target}.ts`, undefined);
          return { errors: [notFound(path, target)] };
        }
        if (!extensions.includes(extname(found))) return { errors: [wrongKind(path)] };
        return { path: found };
      });
      build.onLoad({ filter: /.*/ }, ({ path }) => load(path, sources));
    },
  };
}

function load(path: string, { texts, inputs }: SourceSet): OnLoadResult {
  inputs.set(path, undefined);
  try {
    const text = sourceText(path, texts);
    inputs.set(path, text);
    // The bundler knows no mark of byte order.
    return { contents: text.replace(/^\uFEFF/, ""), loader: loaders[extname(path)] ?? "ts" };
  } catch (error) {
    return { errors: [{ text: `could not read ${path}: ${(error as Error).message}` }] };
  }
}

/** The file that a relative import means: itself, with an extension, a `.js` written for a `.ts`, or a folder's index. */
function resolveFile(target: string, texts: OpenTexts): string | undefined {
  const withoutJs = target.replace(/\.([cm]?)js$/, ".$1ts");
  const candidates = [
    target,
    ...extensions.map((extension) => target + extension),
    withoutJs,
    resolve(target, "index.ts"),
    resolve(target, "index.js"),
  ];
  return candidates.find((path) => isSource(path, texts));
}

function refused(path: string): PartialMessage {
  const near = nearestName(path, ["anadem", "@jscad/modeling"]);
  const suggestion = near ? `did you mean "${near}"?` : "copy what it needs into a file beside the design";
  return { text: `"${path}" cannot be imported: ${rule}`, detail: problem("import-not-allowed", suggestion) };
}

function notFound(path: string, target: string): PartialMessage {
  const near = nearestName(basename(target), neighbours(dirname(target)));
  const before = path.slice(0, path.length - basename(target).length);
  return {
    text: `"${path}" cannot be imported: there is no such file`,
    detail: problem("import-not-found", near && `did you mean "${before}${near}"?`),
  };
}

function wrongKind(path: string): PartialMessage {
  return {
    text: `"${path}" cannot be imported: a design imports only TypeScript, JavaScript and JSON files`,
    detail: problem("import-not-allowed"),
  };
}

/** Files of a folder as an import would name them. */
function neighbours(folder: string): string[] {
  try {
    return readdirSync(folder)
      .filter((name) => extensions.includes(extname(name)))
      .map((name) => name.replace(/\.[cm]?ts$/, ""));
  } catch {
    return [];
  }
}

function problem(id: string, suggestion?: string): ImportProblem {
  return { id, ...(suggestion && { suggestion }) };
}
