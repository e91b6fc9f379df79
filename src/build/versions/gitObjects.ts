import { posix } from "node:path";
import { MessageError } from "../../message";
import type { Repository } from "./repository";
import { incomplete, type Revision } from "./revision";

/** A file of a commit. */
export interface TreeFile {
  /** From the top of the repository, with `/` between. */
  readonly path: string;
  readonly hash: string;
}

/** What a commit holds, by its paths. */
export interface CommitTree {
  readonly files: ReadonlyMap<string, TreeFile>;
  /** Symbolic links: their target is read from the object. */
  readonly links: ReadonlyMap<string, TreeFile>;
  /** Folders that are repositories of their own: their files are in no commit of this one. */
  readonly submodules: readonly string[];
}

/** Lists all files of a commit. @throws MessageError where the commit is not whole */
export async function treeOf({ git }: Repository, revision: Revision, design: string): Promise<CommitTree> {
  const { code, out } = await git.ask(["ls-tree", "-r", "-z", "--full-tree", revision.hash]);
  if (code !== 0) throw new MessageError([incomplete(revision.asked, design)]);
  const files = new Map<string, TreeFile>();
  const links = new Map<string, TreeFile>();
  const submodules: string[] = [];
  for (const entry of out.toString("utf8").split("\0")) {
    const [, mode, kind, hash, path] = /^(\d+) (\w+) ([0-9a-f]+)\t([\s\S]+)$/.exec(entry) ?? [];
    // A tree that was made by hand may name what lies outside.
    if (path === undefined || posix.normalize(path) !== path || /^(?:\/|\.\.(?:\/|$))/.test(path)) continue;
    if (kind === "commit") submodules.push(path);
    else if (mode === "120000") links.set(path, { path, hash });
    else files.set(path, { path, hash });
  }
  return { files, links, submodules };
}

/** Bytes of each object; those that are not here are left out. */
export async function sizesOf({ git }: Repository, hashes: readonly string[]): Promise<Map<string, number>> {
  const sizes = new Map<string, number>();
  if (hashes.length === 0) return sizes;
  const { out } = await git.ask(["cat-file", "--batch-check"], lines(hashes));
  for (const line of out.toString("utf8").split("\n")) {
    const [hash, kind, size] = line.split(" ");
    if (kind === "blob") sizes.set(hash, Number(size));
  }
  return sizes;
}

/** The content of each object, as it was committed: no filter runs. Those that are not here are left out. */
export async function contentsOf(
  { git }: Repository,
  hashes: readonly string[],
): Promise<Map<string, Buffer>> {
  const contents = new Map<string, Buffer>();
  if (hashes.length === 0) return contents;
  const { out } = await git.ask(["cat-file", "--batch"], lines(hashes));
  for (let at = 0; at < out.length; ) {
    const end = out.indexOf(10, at);
    if (end < 0) break;
    const [hash, kind, text] = out.toString("utf8", at, end).split(" ");
    at = end + 1;
    if (kind === "missing") continue;
    const size = Number(text);
    contents.set(hash, out.subarray(at, at + size));
    at += size + 1;
  }
  return contents;
}

const lines = (hashes: readonly string[]): string => `${hashes.join("\n")}\n`;
