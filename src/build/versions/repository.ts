import { basename, dirname } from "node:path";
import { type Message, MessageError } from "../../message";
import { Git } from "./git";

/** The repository that a design lies in. */
export interface Repository {
  readonly git: Git;
  /** Its top folder, as git names it. */
  readonly top: string;
  /** The design from there, with `/` between. */
  readonly path: string;
  /** Only a part of its history is here. */
  readonly isShallow: boolean;
}

/**
 * Finds the repository of a design.
 * @param executable git's; "git" unless given
 * @throws MessageError where there is no git, no repository, or git does not trust it
 */
export async function repositoryOf(
  design: string,
  executable?: string,
  signal?: AbortSignal,
): Promise<Repository> {
  const folder = dirname(design);
  const git = new Git(folder, executable, signal);
  const { code, out, err } = await git.ask(["rev-parse", "--show-toplevel"]);
  const top = out.toString("utf8").replace(/\r?\n$/, "");
  if (code !== 0 || top === "") throw new MessageError([noRepository(design, folder, err)]);
  const prefix = (await git.text(["rev-parse", "--show-prefix"])) ?? "";
  return {
    git,
    top,
    path: prefix + basename(design),
    isShallow: (await git.text(["rev-parse", "--is-shallow-repository"])) === "true",
  };
}

function noRepository(design: string, folder: string, err: string): Message {
  const severity = "error" as const;
  if (/dubious ownership|unsafe repository/.test(err)) {
    const place = /safe\.directory\s+(\S.*)/.exec(err)?.[1] ?? folder;
    return {
      id: "git-untrusted",
      severity,
      text: `git does not read the repository of ${folder}: it belongs to somebody else`,
      suggestion: `if you trust it: git config --global --add safe.directory ${place}`,
      file: design,
    };
  }
  if (/cannot change to/.test(err)) {
    const text = `the folder ${folder} is not there`;
    return { id: "no-repository", severity, text, suggestion: "check the path of the design", file: design };
  }
  if (err === "" || /not a git repository|must be run in a work tree/i.test(err)) {
    return {
      id: "no-repository",
      severity,
      text: `${folder} is in no git repository, so there is no version to compare with`,
      suggestion: "git init, then git add and git commit the design with its wearer",
      file: design,
    };
  }
  return {
    id: "git-failed",
    severity,
    text: `git cannot read the repository of ${folder}: ${err}`,
    suggestion: "see that git status works in that folder",
    file: design,
  };
}
