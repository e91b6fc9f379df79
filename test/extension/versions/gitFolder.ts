import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";

/** A git repository of its own in a temporary folder, which knows nothing of the machine's settings. */
export class GitFolder {
  readonly path = realpathSync(mkdtempSync(join(tmpdir(), "anadem-git-")));
  #commits = 0;

  constructor() {
    this.git("init", "--quiet", "--initial-branch=main");
  }

  /** Writes files below the folder. */
  write(files: Readonly<Record<string, string>>): void {
    for (const [name, text] of Object.entries(files)) {
      mkdirSync(dirname(this.at(name)), { recursive: true });
      writeFileSync(this.at(name), text);
    }
  }

  /** Commits all there is, a day after the commit before; the full hash. */
  commit(message: string): string {
    const date = `${Date.UTC(2026, 0, 1 + this.#commits++) / 1000} +0000`;
    this.git("add", "--all");
    this.git("commit", "--quiet", "--allow-empty", `--date=${date}`, "-m", message, { date });
    return this.git("rev-parse", "HEAD");
  }

  /** Runs git; its answer. */
  git(...words: readonly (string | { readonly date: string })[]): string {
    const date = words.find((word): word is { readonly date: string } => typeof word !== "string")?.date;
    const own = Object.entries(process.env).filter(([name]) => !name.startsWith("GIT_"));
    return execFileSync("git", words.filter((word) => typeof word === "string") as string[], {
      cwd: this.path,
      encoding: "utf8",
      stdio: ["ignore", "pipe", "pipe"],
      env: {
        ...Object.fromEntries(own),
        GIT_CONFIG_GLOBAL: "/dev/null",
        GIT_CONFIG_NOSYSTEM: "1",
        GIT_AUTHOR_NAME: "The Tide Court",
        GIT_AUTHOR_EMAIL: "court@tide.invalid",
        GIT_COMMITTER_NAME: "The Tide Court",
        GIT_COMMITTER_EMAIL: "court@tide.invalid",
        ...(date !== undefined && { GIT_COMMITTER_DATE: date }),
      },
    }).trim();
  }

  at(name: string): string {
    return join(this.path, name);
  }

  remove(): void {
    rmSync(this.path, { recursive: true, force: true });
  }
}
