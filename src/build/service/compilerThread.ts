import { useBundler } from "../bundler";
import { type CompileOutcome, Compiler, type DesignCompiler } from "../compile";
import type { OpenTexts } from "../sourceTexts";
import { wasmBundler } from "../wasmBundler";
import { CalledThread, type ThreadWork } from "./threadCalls";

interface ToCompile {
  readonly file: string;
  readonly texts: OpenTexts;
}

/** The compiler in a thread of its own: the bundler takes a second to load and would hold up all else. */
export class CompilerThread implements DesignCompiler {
  readonly #thread: CalledThread<ToCompile, CompileOutcome>;

  /** @param script the bundled script that serves `compileInThread` in the role `compile` */
  constructor(script: string) {
    this.#thread = new CalledThread(script, "compile");
  }

  compile(file: string, texts: OpenTexts = {}): Promise<CompileOutcome> {
    return this.#thread.call({ file, texts });
  }

  /** Loads the bundler ahead of the first design. */
  warm(): void {
    this.#thread.warm();
  }

  dispose(): Promise<void> {
    return this.#thread.end();
  }
}

/** What the thread does; loads the bundler at once. */
export function compileInThread(script: string): ThreadWork {
  const loading = wasmBundler(script);
  // Told with the first design that needs it.
  loading.catch(() => {});
  useBundler(() => loading);
  const compiler = new Compiler();
  return ({ file, texts }: ToCompile) => compiler.compile(file, texts);
}
