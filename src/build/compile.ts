import { readFileSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import type * as esbuild from "esbuild";
import type { Message, Place } from "../message";
import { didYouMean } from "../nearestName";
import { bundler } from "./bundler";
import { type ImportProblem, importRules, type SourceSet } from "./importRules";
import { knownText, type OpenTexts } from "./sourceTexts";

/** A design and its helpers as one CommonJS script. */
export interface CompiledDesign {
  /** Absolute path of the design file. */
  readonly file: string;
  readonly code: string;
  /** Version 3 source map as JSON; its sources are absolute paths. */
  readonly sourceMap: string;
  /** Where `export default` stands in the design file, where there is one. */
  readonly defaultExport?: Place;
}

export interface CompileOutcome {
  /** Absent when a message is an error. */
  readonly design?: CompiledDesign;
  /** Absolute paths of all files that were read or asked for, sorted: the ones to watch. */
  readonly inputs: readonly string[];
  readonly messages: readonly Message[];
}

/** Designs whose parsed files are kept for the next save. */
const contextsKept = 8;

interface Warm {
  readonly context: esbuild.BuildContext;
  readonly sources: SourceSet;
  /** The last compile of this file: they run one after the other, since each must see the newest text. */
  last: Promise<unknown>;
  outcome?: CompileOutcome;
}

/** What turns design files into scripts: here, or in a thread of its own. */
export interface DesignCompiler {
  /**
   * Bundles a design with its relative imports. Never throws for what is wrong with the design: that comes
   * back as messages with file, line and column.
   * @param texts stand in for files on disk
   */
  compile(file: string, texts?: OpenTexts): Promise<CompileOutcome>;
  /** Frees all that is kept. The compiler can be used again afterwards. */
  dispose(): Promise<void>;
}

/**
 * Turns design files into scripts, and keeps what it parsed, so that the next compile of the same file costs a
 * few milliseconds, and nothing where no text changed. Call `dispose` when done.
 */
export class Compiler implements DesignCompiler {
  readonly #contexts = new Map<string, Promise<Warm>>();

  async compile(file: string, texts: OpenTexts = {}): Promise<CompileOutcome> {
    const path = resolve(file);
    const warm = await this.#warm(path);
    const outcome = warm.last.then(() => compileAnew(path, warm, texts));
    warm.last = outcome.catch(() => undefined);
    return outcome;
  }

  async dispose(): Promise<void> {
    const contexts = [...this.#contexts.values()];
    this.#contexts.clear();
    await Promise.all(contexts.map(release));
  }

  #warm(path: string): Promise<Warm> {
    const known = this.#contexts.get(path);
    const warm = known ?? createContext(path);
    // Insertion order is the order of use: the first is the one longest unused.
    this.#contexts.delete(path);
    this.#contexts.set(path, warm);
    if (this.#contexts.size > contextsKept) {
      const [oldest, context] = this.#contexts.entries().next().value!;
      this.#contexts.delete(oldest);
      void release(context);
    }
    return warm;
  }
}

/** Compiles one design once; a caller that compiles again keeps a `Compiler`. */
export async function compileDesign(file: string): Promise<CompileOutcome> {
  const compiler = new Compiler();
  try {
    return await compiler.compile(file);
  } finally {
    await compiler.dispose();
  }
}

async function release(warm: Promise<Warm>): Promise<void> {
  const { context, last } = await warm;
  await last;
  await context.dispose();
}

async function createContext(path: string): Promise<Warm> {
  const folder = dirname(path);
  const sources: SourceSet = { texts: {}, inputs: new Map() };
  const { context } = await bundler();
  const created = await context({
    entryPoints: [path],
    absWorkingDir: folder,
    outfile: join(folder, `${basename(path)}.cjs`),
    bundle: true,
    write: false,
    format: "cjs",
    platform: "neutral",
    target: "node20",
    charset: "utf8",
    sourcemap: "external",
    sourcesContent: false,
    logLevel: "silent",
    // A tsconfig.json found on the way must not change what a design means.
    tsconfigRaw: { compilerOptions: { target: "ES2022" } },
    plugins: [importRules(sources)],
  });
  return { context: created, sources, last: Promise.resolve() };
}

/** The last outcome where no text of it changed, else a new one. */
async function compileAnew(path: string, warm: Warm, texts: OpenTexts): Promise<CompileOutcome> {
  const { sources, outcome } = warm;
  const isSame = [...sources.inputs].every(([input, text]) => knownText(input, texts) === text);
  // A missing file may have come under another name that the import means too.
  const isWhole = outcome?.design !== undefined;
  if (!isSame || !isWhole) {
    sources.texts = texts;
    warm.outcome = await compileOnce(path, warm);
  }
  return warm.outcome!;
}

async function compileOnce(path: string, { context, sources }: Warm): Promise<CompileOutcome> {
  const folder = dirname(path);
  let result: esbuild.BuildResult<{ write: false }>;
  try {
    result = (await context.rebuild()) as esbuild.BuildResult<{ write: false }>;
  } catch (error) {
    const failure = error as Partial<esbuild.BuildFailure>;
    if (!Array.isArray(failure.errors)) throw error;
    const messages = [
      ...failure.errors.map((each) => messageOf(each, "error", path, folder)),
      ...(failure.warnings ?? []).map((each) => messageOf(each, "warning", path, folder)),
    ];
    return { inputs: sorted(sources.inputs, path), messages };
  }
  const outputs = new Map(result.outputFiles.map((output) => [output.path.endsWith(".map"), output.text]));
  const defaultExport = findDefaultExport(path, sources.inputs.get(path) ?? "");
  return {
    design: {
      file: path,
      code: outputs.get(false)!,
      sourceMap: withAbsoluteSources(outputs.get(true)!, folder),
      ...(defaultExport && { defaultExport }),
    },
    inputs: sorted(sources.inputs, path),
    messages: result.warnings.map((warning) => messageOf(warning, "warning", path, folder)),
  };
}

function sorted(inputs: ReadonlyMap<string, unknown>, path: string): string[] {
  return [...new Set([...inputs.keys(), path])].sort();
}

function withAbsoluteSources(json: string, folder: string): string {
  const map = JSON.parse(json) as { sources: string[] };
  map.sources = map.sources.map((source) => resolve(folder, source));
  return JSON.stringify(map);
}

function findDefaultExport(file: string, text: string): Place | undefined {
  const match = /(?<=(?:^|[;}]|\*\/)[ \t]*)export\s+(?:default\b|\{[^}]*\bas\s+default\b[^}]*\})/m.exec(text);
  if (!match) return undefined;
  const start = match.index;
  const line = text.slice(0, start).split("\n").length;
  const column = start - text.lastIndexOf("\n", start - 1);
  return { file, line, column, length: match[0].length };
}

function messageOf(
  problem: esbuild.Message,
  severity: "error" | "warning",
  path: string,
  folder: string,
): Message {
  const { id, text, suggestion } = wording(problem, path);
  return {
    id,
    severity,
    text,
    ...(suggestion && { suggestion }),
    ...(problem.location ? placeOf(problem.location, folder) : { file: path, line: 1, column: 1 }),
    ...(problem.notes.length > 0 && {
      notes: problem.notes.map((note) => ({
        text: note.text,
        ...(note.location && placeOf(note.location, folder)),
      })),
    }),
  };
}

/** The bundler counts columns from 0 and in UTF-8 bytes, an editor from 1 and in UTF-16 units. */
function placeOf(location: esbuild.Location, folder: string): Place {
  const { file, line, lineText } = location;
  const bytes = Buffer.from(lineText, "utf8");
  const before = bytes.subarray(0, location.column).toString("utf8").length;
  const within = bytes.subarray(location.column, location.column + location.length).toString("utf8").length;
  return {
    file: resolve(folder, file),
    line,
    column: before + 1,
    ...(within > 0 && { length: within }),
  };
}

function wording(problem: esbuild.Message, path: string): { id: string; text: string; suggestion?: string } {
  const { text, location } = problem;
  const ruled = problem.detail as ImportProblem | undefined;
  if (typeof ruled?.id === "string") return { ...ruled, text };
  if (!location && /could not (?:resolve|read)/i.test(text)) {
    return { id: "design-not-found", text: `the design ${path} cannot be read: ${readProblem(path)}` };
  }
  if (text.startsWith("Top-level await")) {
    return {
      id: "not-pure",
      text: "a design cannot wait: await has no place outside a function",
      suggestion: "a design is a pure function of the head and its parameters; import a .json file for data",
    };
  }
  const missing = /^No matching export in "(.+)" for import "(.+)"$/.exec(text);
  if (missing) {
    const [, source, name] = missing;
    const suggestion = location?.suggestion ? didYouMean(name, [location.suggestion]) : undefined;
    return {
      id: "import-name",
      text: `${source} does not export "${name}"`,
      suggestion: suggestion ?? `export it there, or import a name that ${source} exports`,
    };
  }
  const expected = /^Expected (".+?"|\S+) (?:in .+ )?but found (.+)$/.exec(text);
  const suggestion = expected
    ? `put ${expected[1]} before ${expected[2]}, or look for what is not closed above`
    : location?.suggestion && `write ${location.suggestion}`;
  return { id: problem.id || "syntax", text, ...(suggestion && { suggestion }) };
}

function readProblem(path: string): string {
  try {
    readFileSync(path);
    return "it is not a file that a design can be read from";
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === "ENOENT") return "there is no such file";
    if (code === "EISDIR") return "it is a folder";
    return code === "EACCES" ? "reading it is not allowed" : (error as Error).message;
  }
}
