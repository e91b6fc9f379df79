import type { Message } from "../../message";
import { committedPath } from "./designPath";
import { treeOf } from "./gitObjects";
import { repositoryOf } from "./repository";
import { type Revision, revisionOf } from "./revision";
import { versionFiles } from "./versionFiles";
import { outerLimits, VersionFolder } from "./versionFolder";
import { asOfVersion, inSubmodule, leftOut, outsideRepository } from "./versionMessages";
import type { SideResult } from "./versionSide";

/** A design as it was in a commit, laid out in a folder of its own. */
export interface Version {
  readonly revision: Revision;
  /** The design's file there. */
  readonly design: string;
  /** What was found on the way: an older name, files that were left out. */
  readonly messages: readonly Message[];
  /** What is to be told of a build of it: places named by the commit, and what it asked for that no commit has. */
  readonly told: (side: SideResult, given: readonly string[]) => Message[];
  /** Removes the folder. */
  readonly remove: () => void;
}

/**
 * Lays out a design as it was in a commit.
 * @param asked the commit, as git names it
 * @param executable git's
 * @throws MessageError where there is no such version; the signal's reason on abort
 */
export async function versionOf(
  design: string,
  asked: string,
  executable?: string,
  signal?: AbortSignal,
): Promise<Version> {
  const repository = await repositoryOf(design, executable, signal);
  const revision = await revisionOf(repository, asked, design);
  const tree = await treeOf(repository, revision, design);
  const { path, messages } = await committedPath(repository, revision, tree, design);
  const files = await versionFiles(repository, revision, tree, path, design);
  signal?.throwIfAborted();
  const folder = new VersionFolder(files.contents, outerLimits(design, repository.top));
  return {
    revision,
    design: folder.at(path),
    messages,
    remove: () => folder.remove(),
    told: (side, given) => {
      const own = side.messages.map((message) => asOfVersion(message, folder, asked));
      const outside = side.inputs.filter(
        (input) => !folder.pathOf(input) && !folder.isLimits(input) && !given.includes(input),
      );
      const others = outside.map((input) => outsideRepository(input, asked));
      if (side.built) return [...own, ...others];
      const missing = side.inputs.flatMap((input) => folder.pathOf(input) ?? []);
      const submodules = missing.flatMap((each) => {
        const submodule = tree.submodules.find((name) => each.startsWith(`${name}/`));
        return submodule ? [inSubmodule(each, submodule, asked)] : [];
      });
      const lacking = files.leftOut.length > 0 ? [leftOut(files.leftOut, asked)] : [];
      return [...own, ...others, ...submodules, ...lacking];
    },
  };
}
