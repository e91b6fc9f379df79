import type { Message } from "../../message";
import type { VersionFolder } from "./versionFolder";

/** A message about a version, its places named as git names them: `HEAD~1:samples/ring.headpiece.ts`. */
export function asOfVersion(message: Message, folder: VersionFolder, asked: string): Message {
  const file = (path: string) => {
    const known = folder.pathOf(path);
    return known === undefined ? path : `${asked}:${known}`;
  };
  const text = (words: string) =>
    words.replaceAll(`${folder.top}/`, `${asked}:`).replaceAll(`${folder.top}\\`, `${asked}:`);
  return {
    ...message,
    text: text(message.text),
    ...(message.suggestion !== undefined && { suggestion: text(message.suggestion) }),
    ...(message.file !== undefined && { file: file(message.file) }),
    ...(message.notes && {
      notes: message.notes.map((note) => ({
        ...note,
        text: text(note.text),
        ...(note.file !== undefined && { file: file(note.file) }),
      })),
    }),
  };
}

/** What a version asked for that no commit of its repository can have. */
export const outsideRepository = (file: string, asked: string): Message => ({
  id: "outside-repository",
  severity: "error",
  text: `${asked} uses a file outside the repository, ${file}, which is in no commit`,
  suggestion:
    "move it into the repository and commit it, or give it on both sides, for example with --wearer",
});

/** What of the commit was not taken. */
export const leftOut = (paths: readonly string[], asked: string): Message => ({
  id: "version-left-out",
  severity: "warning",
  text: `${paths.length} files of ${asked} were left out since they are too many or too large: ${paths.slice(0, 3).join(", ")}${paths.length > 3 ? " …" : ""}`,
  suggestion: "keep headpieces in a repository of their own",
});

/** A folder that is a repository of its own. */
export const inSubmodule = (path: string, submodule: string, asked: string): Message => ({
  id: "version-in-submodule",
  severity: "note",
  text: `${asked} asks for ${path}, which lies in ${submodule}, a repository of its own: it is in no commit of this one`,
});

/** Both pieces lie in the head frame of their own wearer. */
export const otherWearer = (before: string, after: string, design: string): Message => ({
  id: "version-of-other-head",
  severity: "note",
  text: `the two are built on different heads (${before}, then ${after}): volumes and distances are between the pieces as each lies on its own head`,
  suggestion: "give --wearer to compare both on one head",
  file: design,
});
