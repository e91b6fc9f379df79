import { type ChildProcess, spawn } from "node:child_process";
import { createRequire } from "node:module";
import type { server } from "typescript";

type Answer = server.protocol.Response;

/** The TypeScript server as an editor runs it, over its own protocol, with the plugin of an extension's folder. */
export class TypeScriptServer {
  readonly #process: ChildProcess;
  readonly #waiting = new Map<number, (answer: Answer) => void>();
  #last = 0;
  #received: Buffer = Buffer.alloc(0);

  constructor(extension: string) {
    const program = createRequire(import.meta.url).resolve("typescript/lib/tsserver.js");
    const words = ["--globalPlugins", "anadem-typescript-plugin", "--pluginProbeLocations", extension];
    words.push(
      "--allowLocalPluginLoads",
      "--disableAutomaticTypingAcquisition",
      "--suppressDiagnosticEvents",
    );
    words.push("--useInferredProjectPerProjectRoot");
    this.#process = spawn(process.execPath, [program, ...words], { stdio: ["pipe", "pipe", "ignore"] });
    this.#process.stdout!.on("data", (bytes: Buffer) => this.#take(bytes));
    // What VS Code 1.100 sends where a folder has no tsconfig.
    void this.ask("compilerOptionsForInferredProjects", {
      options: {
        module: "ESNext",
        moduleResolution: "Node",
        target: "ES2022",
        jsx: "react",
        allowJs: true,
        allowSyntheticDefaultImports: true,
        allowNonTsExtensions: true,
        resolveJsonModule: true,
        sourceMap: true,
        strictNullChecks: true,
        strictFunctionTypes: true,
      },
    });
    void this.ask("configure", { preferences: { includeCompletionsForModuleExports: true } });
  }

  /** The body of the answer. Rejects with the server's own words where it refuses. */
  async ask<T>(command: string, args: unknown): Promise<T> {
    const seq = ++this.#last;
    const answer = new Promise<Answer>((done) => this.#waiting.set(seq, done));
    this.#process.stdin!.write(`${JSON.stringify({ seq, type: "request", command, arguments: args })}\n`);
    const { success, message, body } = await answer;
    if (!success) throw new Error(`${command}: ${message}`);
    return body as T;
  }

  /** Opens a file, as an editor does with its folder as the root. */
  open(file: string, content: string, projectRootPath: string): void {
    this.#process.stdin!.write(
      `${JSON.stringify({ seq: ++this.#last, type: "request", command: "open", arguments: { file, fileContent: content, projectRootPath, scriptKindName: "TS" } })}\n`,
    );
  }

  /** What the editor would underline: errors only, as `TSnumber: text`. */
  async errors(file: string): Promise<string[]> {
    const commands = ["syntacticDiagnosticsSync", "semanticDiagnosticsSync"];
    const found = await Promise.all(
      commands.map((command) => this.ask<server.protocol.Diagnostic[]>(command, { file })),
    );
    return found.flat().map(({ code, text }) => `TS${code}: ${text}`);
  }

  close(): void {
    this.#process.kill();
  }

  #take(bytes: Buffer): void {
    this.#received = Buffer.concat([this.#received, bytes]);
    for (;;) {
      const header = /^Content-Length: (\d+)\r\n\r\n/.exec(this.#received.toString("latin1", 0, 64));
      if (!header) return;
      const end = header[0].length + Number(header[1]);
      if (this.#received.length < end) return;
      const message = JSON.parse(this.#received.toString("utf8", header[0].length, end));
      this.#received = this.#received.subarray(end);
      if (message.type === "response") {
        this.#waiting.get(message.request_seq)?.(message);
        this.#waiting.delete(message.request_seq);
      }
    }
  }
}
