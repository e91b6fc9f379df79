import { extname, posix } from "node:path";
import { MessageError } from "../../message";
import { type CommitTree, contentsOf, sizesOf, type TreeFile } from "./gitObjects";
import type { Repository } from "./repository";
import { incomplete, type Revision } from "./revision";

/** What a design can use of a commit. */
export interface VersionFiles {
  /** By path from the top of the repository. */
  readonly contents: ReadonlyMap<string, Buffer>;
  /** Paths that were left out: too many, or too large. */
  readonly leftOut: readonly string[];
}

const textEndings = new Set([".ts", ".mts", ".cts", ".js", ".mjs", ".cjs", ".json"]);
const scanName = /"((?:[^"\\]|\\.)+\.(?:stl|obj))"/gi;

/** Bounds on what is taken, the files nearest to the design first. */
const mostFiles = 4_000;
const mostTextBytes = 64 * 2 ** 20;
const mostScanBytes = 512 * 2 ** 20;
const mostLinkSteps = 8;

/**
 * Takes what a design can use from a commit: sources and data, and the scans of heads that its data files name.
 * Symbolic links within the repository are followed.
 * @param path the design's
 * @throws MessageError where the commit is not whole
 */
export async function versionFiles(
  repository: Repository,
  revision: Revision,
  tree: CommitTree,
  path: string,
  design: string,
): Promise<VersionFiles> {
  const all = await withLinks(repository, tree);
  const byPath = new Map(all.map((file) => [file.path, file]));
  const texts = all
    .filter(({ path: each }) => textEndings.has(extname(each).toLowerCase()) && !isPackage(each, path))
    .map((file) => ({ file, steps: stepsBetween(path, file.path) }))
    .sort((a, b) => a.steps - b.steps)
    .map(({ file }) => file);
  const taken = await bounded(repository, texts, mostTextBytes);
  const contents = await read(taken.files);
  const scans = [...contents].flatMap(([each, content]) =>
    extname(each) === ".json" ? scansIn(each, content).flatMap((scan) => byPath.get(scan) ?? []) : [],
  );
  const takenScans = await bounded(repository, [...new Set(scans)], mostScanBytes);
  for (const [each, content] of await read(takenScans.files)) contents.set(each, content);
  return { contents, leftOut: [...taken.leftOut, ...takenScans.leftOut] };

  async function read(files: readonly TreeFile[]): Promise<Map<string, Buffer>> {
    const found = await contentsOf(repository, [...new Set(files.map(({ hash }) => hash))]);
    return new Map(
      files.map(({ path: each, hash }) => {
        const content = found.get(hash);
        if (!content) throw new MessageError([incomplete(revision.asked, design)]);
        return [each, content];
      }),
    );
  }
}

/** Files of installed packages are none of the design's own, unless it lies among them. */
const isPackage = (path: string, design: string): boolean =>
  /(?:^|\/)node_modules\//.test(path) && !/(?:^|\/)node_modules\//.test(design);

/** Folders to go up and down from one file to another. */
function stepsBetween(a: string, b: string): number {
  const [from, to] = [a.split("/"), b.split("/")];
  let same = 0;
  while (same < from.length - 1 && same < to.length - 1 && from[same] === to[same]) same++;
  return from.length + to.length - 2 * same;
}

/** Files in order, as far as they keep within the bounds. */
async function bounded(
  repository: Repository,
  files: readonly TreeFile[],
  mostBytes: number,
): Promise<{ files: TreeFile[]; leftOut: string[] }> {
  const near = files.slice(0, mostFiles);
  const sizes = await sizesOf(repository, [...new Set(near.map(({ hash }) => hash))]);
  const leftOut = files.slice(mostFiles).map(({ path }) => path);
  const taken: TreeFile[] = [];
  let bytes = 0;
  for (const file of near) {
    const size = sizes.get(file.hash) ?? 0;
    if (bytes + size > mostBytes) leftOut.push(file.path);
    else {
      taken.push(file);
      bytes += size;
    }
  }
  return { files: taken, leftOut };
}

/** Paths of scans that a data file names, from the top of the repository. */
function scansIn(path: string, content: Buffer): string[] {
  return [...content.toString("utf8").matchAll(scanName)].flatMap(([, written]) => {
    try {
      const name = JSON.parse(`"${written}"`) as string;
      return [posix.join(posix.dirname(path), name.replaceAll("\\", "/"))];
    } catch {
      return [];
    }
  });
}

/** All files, those that a link leads to under the link's name too. A link that leads outside stays unknown. */
async function withLinks(repository: Repository, { files, links }: CommitTree): Promise<TreeFile[]> {
  const all = [...files.values()];
  if (links.size === 0) return all;
  const targets = await contentsOf(repository, [...new Set([...links.values()].map(({ hash }) => hash))]);
  let found = new Map(files);
  // A link may lead through another: each round follows one more.
  for (let step = 0; step < mostLinkSteps; step++) {
    const before = found.size;
    const next = new Map(found);
    for (const { path, hash } of links.values()) {
      const target = posix.join(posix.dirname(path), targets.get(hash)?.toString("utf8") ?? "");
      if (target.startsWith("..") || target === ".") continue;
      const file = found.get(target);
      if (file) next.set(path, { path, hash: file.hash });
      else {
        for (const each of found.values()) {
          if (!each.path.startsWith(`${target}/`) || next.size > 16 * mostFiles + files.size) continue;
          const under = path + each.path.slice(target.length);
          next.set(under, { path: under, hash: each.hash });
        }
      }
    }
    found = next;
    if (found.size === before) break;
  }
  return [...found.values()];
}
