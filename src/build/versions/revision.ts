import { type Message, MessageError } from "../../message";
import { nearestName } from "../../nearestName";
import type { Repository } from "./repository";

/** A commit. */
export interface Revision {
  /** As it was asked for. */
  readonly asked: string;
  readonly hash: string;
  /** The first line of its message. */
  readonly subject: string;
}

/**
 * Finds the commit that a revision names.
 * @param asked as git names commits: a hash, a branch, a tag, `HEAD~2`
 * @throws MessageError where there is none of that name
 */
export async function revisionOf(repository: Repository, asked: string, design: string): Promise<Revision> {
  const { git } = repository;
  // No name of a commit begins with a dash: git would take it for an option.
  const isName = asked !== "" && !/^-|[\0\n\r]/.test(asked);
  const { code, out, err } = isName
    ? await git.ask(["rev-parse", "--verify", "--end-of-options", `${asked}^{commit}`])
    : { code: 1, out: Buffer.alloc(0), err: "" };
  const hash = out.toString("utf8").trim().split("\n").at(-1) ?? "";
  if (code !== 0 || !/^[0-9a-f]{40,64}$/.test(hash)) {
    throw new MessageError([await unknown(repository, asked, design, err)]);
  }
  const commit = await git.ask(["cat-file", "commit", hash]);
  if (commit.code !== 0) throw new MessageError([incomplete(asked, design)]);
  return { asked, hash, subject: subjectOf(commit.out.toString("utf8")) };
}

/** The first line of a commit's message, after its head and an empty line. */
function subjectOf(commit: string): string {
  const end = commit.indexOf("\n\n");
  const message = end < 0 ? "" : commit.slice(end + 2);
  return message.trimStart().split(/\r\n|\n|\r/)[0] ?? "";
}

/** A commit of which something is not in this clone. */
export const incomplete = (asked: string, file: string): Message => ({
  id: "commit-incomplete",
  severity: "error",
  text: `${asked} is not whole in this clone: files of it were never fetched`,
  suggestion: "fetch them: git fetch --refetch, or clone without a filter",
  file,
});

async function unknown(
  { git, isShallow }: Repository,
  asked: string,
  file: string,
  err: string,
): Promise<Message> {
  const severity = "error" as const;
  const names = await git.text(["for-each-ref", "--format=%(refname:short)"]);
  const head = await git.text(["rev-parse", "--verify", "--quiet", "HEAD^{commit}"]);
  if (!head && (asked === "HEAD" || !names)) {
    return {
      id: "no-commit",
      severity,
      text: "the repository has no commit yet, so there is no version to compare with",
      suggestion: "git add and git commit the design with its wearer",
      file,
    };
  }
  if (/ambiguous/.test(err)) {
    const text = `${asked} names more than one commit`;
    return { id: "unknown-revision", severity, text, suggestion: "write more digits of its hash", file };
  }
  if (isShallow) {
    return {
      id: "unknown-revision",
      severity,
      text: `there is no commit ${asked} in this clone, which has only the newest part of the history`,
      suggestion:
        "fetch the rest: git fetch --unshallow; in continuous integration check out with all of the history",
      file,
    };
  }
  const near = nearestName(
    asked,
    (names ?? "").split("\n").filter((name) => name !== ""),
  );
  const isRange = asked.includes("..");
  return {
    id: "unknown-revision",
    severity,
    text: isRange ? `${asked} is a range, not one commit` : `there is no commit ${asked}`,
    suggestion: isRange
      ? "give one commit: a hash, a branch, a tag, or HEAD~1"
      : near
        ? `did you mean "${near}"?`
        : "give a hash, a branch, a tag, or HEAD~1; git log shows them",
    file,
  };
}
