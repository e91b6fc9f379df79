import { realpathSync } from "node:fs";
import { isAbsolute, join, relative, sep } from "node:path";
import type { Git } from "../../build/versions/git";

/** A commit as a list of commits shows it. */
export interface Commit {
  readonly hash: string;
  readonly short: string;
  /** First line of its message. */
  readonly subject: string;
  /** When it was committed, s since 1970. */
  readonly seconds: number;
}

/** A name that stands for a commit. */
export interface NamedCommit extends Omit<Commit, "hash"> {
  readonly name: string;
  readonly kind: "branch" | "tag";
}

const mostCommits = 200;
const mostNames = 100;
const field = "%x1f";
/** The same to `for-each-ref`, which writes bytes otherwise. */
const nameField = "%1f";

/** The commit that HEAD stands for; undefined before the first one. */
export const headOf = (git: Git): Promise<Commit | undefined> => commitOf(git, "HEAD");

/** The commit that a revision stands for, as git names it: a hash, a branch, "HEAD~2"; undefined where there is none. */
export async function commitOf(git: Git, revision: string): Promise<Commit | undefined> {
  // No revision begins so; to git it would be an option.
  if (revision.trim() === "" || revision.trim().startsWith("-") || revision.includes("\0")) return undefined;
  const asked = `${revision.trim()}^{commit}`;
  const hash = await git.text(["rev-parse", "--verify", "--quiet", "--end-of-options", asked]);
  if (hash === undefined || !/^[0-9a-f]{40,64}$/.test(hash)) return undefined;
  return commitsIn((await git.text([...log(1), hash, "--"])) ?? "")[0];
}

/**
 * The commits before HEAD that touch any of these files, newest first, also under the names that they had before.
 * Files outside the repository are left out.
 */
export async function commitsTouching(
  git: Git,
  top: string,
  files: Iterable<string>,
): Promise<readonly Commit[]> {
  const folder = realpathSync(top);
  const paths = [...files].flatMap((file) => pathIn(folder, file) ?? []);
  if (paths.length === 0) return [];
  const older = (await Promise.all(paths.map((path) => olderNames(git, path)))).flat();
  const all = new Set([...paths, ...older.map((name) => join(folder, name))]);
  return commitsIn((await git.text([...log(mostCommits), "HEAD", "--", ...all])) ?? "");
}

/** The names that a file had before, as far as git sees that it was renamed; as git writes them, from the top. */
async function olderNames(git: Git, path: string): Promise<string[]> {
  const words = "log --follow -M -z --name-status --diff-filter=R --no-ext-diff --no-textconv".split(" ");
  const text = await git.text([...words, "--no-show-signature", "--format=", "HEAD", "--", path]);
  // Of each rename its likeness, the old name and the new one.
  const fields = (text ?? "").split("\0");
  return fields.flatMap((field, i) => (/^\n?R\d*$/.test(field) && fields[i + 1] ? [fields[i + 1]] : []));
}

/** Branches and tags, the newest first. */
export async function namedCommits(git: Git): Promise<readonly NamedCommit[]> {
  const fields = [
    "%(refname)",
    "%(refname:short)",
    "%(if)%(*objectname)%(then)%(*objectname:short)%(else)%(objectname:short)%(end)",
    "%(creatordate:unix)",
    "%(if)%(*objectname)%(then)%(*subject)%(else)%(subject)%(end)",
  ];
  const answer = await git.text([
    "for-each-ref",
    "--sort=-creatordate",
    `--count=${mostNames}`,
    `--format=${fields.join(nameField)}`,
    "refs/heads",
    "refs/remotes",
    "refs/tags",
  ]);
  return (answer ?? "")
    .split("\n")
    .filter((line) => line !== "")
    .flatMap((line) => {
      const [full, name, short, seconds, subject] = line.split("\x1f");
      // What a remote calls its own HEAD is one of its branches once more.
      if (/^refs\/remotes\/[^/]+\/HEAD$/.test(full) || !short) return [];
      const kind = full.startsWith("refs/tags/") ? "tag" : "branch";
      return [{ name, kind, short, subject: subject ?? "", seconds: Number(seconds) || 0 } as const];
    });
}

/** Asks for so many commits, in fields; no signature is looked at, since that would run another program. */
const log = (most: number): string[] => [
  "log",
  "-z",
  "--no-show-signature",
  `--max-count=${most}`,
  `--format=${["%H", "%h", "%ct", "%s"].join(field)}`,
];

/** Commits as `git log -z` with the format above tells them. */
export function commitsIn(answer: string): Commit[] {
  return answer
    .split("\0")
    .filter((each) => each !== "")
    .map((each) => {
      const [hash, short, seconds, ...subject] = each.replace(/^\n/, "").split("\x1f");
      return { hash, short, seconds: Number(seconds), subject: subject.join(" ") };
    });
}

/** How long ago something was, as people say it: "3 days ago". */
export function ago(seconds: number, now: number, language: string): string {
  const words = new Intl.RelativeTimeFormat(language, { numeric: "auto" });
  const passed = now - seconds;
  const units = [
    ["year", 31_556_952],
    ["month", 2_629_746],
    ["week", 604_800],
    ["day", 86_400],
    ["hour", 3600],
    ["minute", 60],
  ] as const;
  for (const [unit, size] of units) {
    if (Math.abs(passed) >= size) return words.format(-Math.trunc(passed / size), unit);
  }
  return words.format(-Math.trunc(passed), "second");
}

/** The file with links followed, as git takes it from wherever it stands; undefined where it lies elsewhere or is not there. */
function pathIn(folder: string, file: string): string | undefined {
  try {
    const real = realpathSync(file);
    const path = relative(folder, real);
    const isElsewhere = path === "" || path === ".." || path.startsWith(`..${sep}`) || isAbsolute(path);
    return isElsewhere ? undefined : real;
  } catch {
    return undefined;
  }
}
