import { spawn } from "node:child_process";
import { dirname, resolve } from "node:path";
import { MessageError } from "../../message";

/** What git answered. */
export interface GitAnswer {
  readonly code: number | null;
  readonly out: Buffer;
  readonly err: string;
}

/** More than this is not taken from git at once. */
const mostBytes = 512 * 2 ** 20;

/** Settings that hold whatever a repository says: nothing of it is run, nothing is fetched. */
const safeSettings = [
  "core.fsmonitor=false",
  "core.hooksPath=/dev/null",
  "protocol.allow=never",
  "core.pager=cat",
];

/** Git's executable in one folder, used to read only. No shell, no hooks, no filters, no network. */
export class Git {
  readonly #executable: string;
  readonly folder: string;
  readonly #signal: AbortSignal | undefined;

  /** @param folder where git is to look for its repository */
  constructor(folder: string, executable = "git", signal?: AbortSignal) {
    this.folder = folder;
    this.#executable = /[\\/]/.test(executable) ? resolve(executable) : executable;
    this.#signal = signal;
  }

  /**
   * Asks git.
   * @param input what it reads
   * @throws MessageError where there is no git; the signal's reason on abort
   */
  ask(words: readonly string[], input = ""): Promise<GitAnswer> {
    const settings = safeSettings.flatMap((setting) => ["-c", setting]);
    const child = spawn(
      this.#executable,
      ["--no-pager", "--literal-pathspecs", ...settings, "-C", this.folder, ...words],
      {
        // A program of that name in the folder of the design, or in the one that we were started from, is not meant.
        cwd: dirname(process.execPath),
        env: gitEnvironment(),
        stdio: ["pipe", "pipe", "pipe"],
        windowsHide: true,
        ...(this.#signal && { signal: this.#signal }),
      },
    );
    return new Promise((resolve, reject) => {
      const out: Buffer[] = [];
      let size = 0;
      let err = "";
      child.stdout.on("data", (part: Buffer) => {
        size += part.length;
        if (size <= mostBytes) out.push(part);
        else child.kill();
      });
      child.stderr.setEncoding("utf8").on("data", (text: string) => {
        err = (err + text).slice(-8_000);
      });
      child.on("error", (error: NodeJS.ErrnoException) => {
        if (error.name === "AbortError") reject(this.#signal?.reason ?? error);
        else reject(notFound(this.#executable, error));
      });
      child.on("close", (code) => resolve({ code, out: Buffer.concat(out), err: err.trim() }));
      // It may have ended before it read all.
      child.stdin.on("error", () => {});
      child.stdin.end(input);
    });
  }

  /** As `ask`; undefined where git says no. The last line feed is taken away. */
  async text(words: readonly string[]): Promise<string | undefined> {
    const { code, out } = await this.ask(words);
    return code === 0 ? out.toString("utf8").replace(/\n$/, "") : undefined;
  }
}

/**
 * The environment of git: without variables that name a repository, which a hook that started us would leave in it, and
 * in one language, so that its answers can be told apart. What configures git is kept.
 */
function gitEnvironment(): NodeJS.ProcessEnv {
  const own = Object.entries(process.env).filter(([name]) => !/^GIT_(?!CONFIG)/i.test(name));
  return {
    ...Object.fromEntries(own),
    LC_ALL: "C",
    LANGUAGE: "C",
    GIT_OPTIONAL_LOCKS: "0",
    GIT_TERMINAL_PROMPT: "0",
    GIT_NO_LAZY_FETCH: "1",
    GIT_LITERAL_PATHSPECS: "1",
  };
}

const notFound = (executable: string, error: NodeJS.ErrnoException): MessageError =>
  new MessageError([
    {
      id: "git-not-found",
      severity: "error",
      text:
        error.code === "ENOENT"
          ? `git was not found as "${executable}": versions are read with it`
          : `git could not be started as "${executable}": ${error.message}`,
      suggestion: "install git, or say where it is: --git on the command line, git.path in the editor",
    },
  ]);
