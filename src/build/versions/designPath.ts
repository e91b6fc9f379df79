import { posix } from "node:path";
import { type Message, MessageError } from "../../message";
import { nearestName } from "../../nearestName";
import type { CommitTree } from "./gitObjects";
import type { Repository } from "./repository";
import type { Revision } from "./revision";

/** Where a commit has a design. */
export interface CommittedPath {
  readonly path: string;
  /** That it had another name then. */
  readonly messages: readonly Message[];
}

/**
 * The path of a design in a commit: its own, also where letters are composed otherwise (Unicode), else the one that it
 * was renamed from since, as far as git sees the new file as the old one.
 * @throws MessageError naming the nearest path, where the commit has none
 */
export async function committedPath(
  repository: Repository,
  revision: Revision,
  tree: CommitTree,
  design: string,
): Promise<CommittedPath> {
  const { path } = repository;
  const known = [...tree.files.keys(), ...tree.links.keys()];
  const same = known.find((each) => each === path) ?? known.find((each) => composed(each) === composed(path));
  if (same !== undefined) return { path: same, messages: [] };
  const older = await olderName(repository, revision);
  if (older !== undefined && tree.files.has(older)) {
    const text = `in ${revision.asked} the design was called ${older}: compared with that`;
    return { path: older, messages: [{ id: "design-renamed", severity: "note", text, file: design }] };
  }
  throw new MessageError([notThere(path, revision, known, tree.submodules, design)]);
}

const composed = (path: string): string => path.normalize("NFC");

/** The name that the design's file had in a commit, where git finds that it was renamed since. */
async function olderName({ git, path }: Repository, { hash }: Revision): Promise<string | undefined> {
  const words = "diff-tree -r -M -z --name-status --diff-filter=R --no-ext-diff --no-textconv".split(" ");
  const text = await git.text([...words, hash, "HEAD"]);
  const fields = (text ?? "").split("\0");
  for (let i = 0; i + 2 < fields.length; i += 3) {
    if (composed(fields[i + 2]) === composed(path)) return fields[i + 1];
  }
  return undefined;
}

function notThere(
  path: string,
  { asked }: Revision,
  known: readonly string[],
  submodules: readonly string[],
  design: string,
): Message {
  const base = { id: "not-in-commit", severity: "error" as const, file: design };
  const submodule = submodules.find((folder) => path.startsWith(`${folder}/`));
  if (submodule) {
    return {
      ...base,
      text: `${asked} does not have ${path}: ${submodule} is a repository of its own there`,
      suggestion: `open the design in its own repository, ${submodule}`,
    };
  }
  const designs = known.filter((each) => /\.headpiece\.[cm]?[jt]sx?$/.test(each));
  const otherCase = known.find((each) => each.toLowerCase() === path.toLowerCase());
  const sameName = known.filter((each) => posix.basename(each) === posix.basename(path));
  const near = otherCase ?? (sameName.length === 1 ? sameName[0] : nearestName(path, designs));
  return {
    ...base,
    text: `${asked} does not have ${path}`,
    suggestion: otherCase
      ? `it has ${otherCase}: write it with these letters`
      : near
        ? `it has ${near}: commit the design, or compare that one`
        : "commit the design, or compare with a later commit",
  };
}
