import { randomBytes } from "node:crypto";
import { rmSync } from "node:fs";
import { mkdir, open, rename, rm, stat } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { type Message, MessageError } from "../message";

/** A file to be written; a text is written as UTF-8. */
export interface FileToPlace {
  readonly path: string;
  readonly content: string | Uint8Array;
}

/** The file system as far as it is used here, so that a test can make each step fail. */
export interface FileSystem {
  readonly mkdir: (folder: string) => Promise<unknown>;
  /** Writes a new file and waits until the disk has it. */
  readonly write: (path: string, content: string | Uint8Array) => Promise<void>;
  readonly rename: (from: string, to: string) => Promise<void>;
  readonly isFolder: (path: string) => Promise<boolean>;
  readonly remove: (path: string) => Promise<void>;
}

const disk: FileSystem = {
  mkdir: (folder) => mkdir(folder, { recursive: true }),
  async write(path, content) {
    const file = await open(path, "wx");
    try {
      await file.writeFile(content);
      await file.sync();
    } finally {
      await file.close();
    }
  },
  rename,
  isFolder: (path) =>
    stat(path).then(
      (found) => found.isDirectory(),
      () => false,
    ),
  remove: (path) => rm(path, { force: true }),
};

export interface PlaceOptions {
  /** Ends the writing before the first file is put in place; nothing is then changed. */
  readonly signal?: AbortSignal;
  readonly fileSystem?: FileSystem;
}

/** Temporary files that exist now: a process that is told to end takes them with it. */
const temporaries = new Set<string>();
const endings = ["SIGINT", "SIGTERM", "SIGHUP"] as const;
let writers = 0;

function removeTemporaries(): void {
  for (const path of temporaries) rmSync(path, { force: true });
}

/** A signal ends the process as it would have, after the clearing up; a program's own handlers come first. */
function endCleanly(signal: NodeJS.Signals): void {
  if (process.listenerCount(signal) > 1) return;
  removeTemporaries();
  process.off(signal, endCleanly);
  process.kill(process.pid, signal);
}

function beginWriting(): void {
  if (writers++ > 0) return;
  process.on("exit", removeTemporaries);
  for (const signal of endings) process.on(signal, endCleanly);
}

function endWriting(): void {
  if (--writers > 0) return;
  for (const signal of endings) process.off(signal, endCleanly);
  if (temporaries.size === 0) process.off("exit", removeTemporaries);
}

/**
 * Writes files so that a reader finds either the old one or the new one, never a part: each is written beside
 * its place under another name, and only when all are written are they renamed, in the order given. Folders
 * are made. Until the first rename a failure or an abort leaves everything as it was, and no temporary file
 * stays behind in any case, also when the process is ended by Ctrl-C.
 * @throws MessageError naming the file and the reason; the signal's reason on abort
 */
export async function placeFiles(files: readonly FileToPlace[], options: PlaceOptions = {}): Promise<void> {
  const { signal, fileSystem = disk } = options;
  refuseTwice(files);
  beginWriting();
  const written: { temporary: string; path: string }[] = [];
  try {
    for (const { path, content } of files) {
      signal?.throwIfAborted();
      const temporary = await writeBeside(path, content, fileSystem);
      written.push({ temporary, path });
    }
    signal?.throwIfAborted();
    // From here on nothing waits but renames: they either all come or a disk has failed.
    for (const { temporary, path } of written) {
      await saying(path, () => fileSystem.rename(temporary, path));
      temporaries.delete(temporary);
    }
  } finally {
    for (const { temporary } of written) {
      if (temporaries.has(temporary)) await discard(temporary, fileSystem);
    }
    endWriting();
  }
}

async function writeBeside(
  path: string,
  content: string | Uint8Array,
  fileSystem: FileSystem,
): Promise<string> {
  const folder = dirname(path);
  const temporary = join(folder, `.${basename(path)}.${randomBytes(6).toString("hex")}.tmp`);
  await saying(path, async () => {
    // A rename on to a folder fails only after others have been put in place.
    if (await fileSystem.isFolder(path)) throw Object.assign(new Error(), { code: "EISDIR" });
    await fileSystem.mkdir(folder);
    temporaries.add(temporary);
    try {
      await fileSystem.write(temporary, content);
    } catch (error) {
      await discard(temporary, fileSystem);
      throw error;
    }
  });
  return temporary;
}

async function discard(temporary: string, fileSystem: FileSystem): Promise<void> {
  // What cannot be removed now is tried once more when the process ends.
  await fileSystem.remove(temporary).then(
    () => temporaries.delete(temporary),
    () => {},
  );
}

function refuseTwice(files: readonly FileToPlace[]): void {
  const seen = new Set<string>();
  for (const { path } of files) {
    const place = resolve(path);
    if (seen.has(place))
      throw notWritten(path, "two files of this build have that name", "name one of them anew");
    seen.add(place);
  }
}

/** Runs a step for a file; what the file system says comes out as a message. */
async function saying<T>(path: string, step: () => Promise<T>): Promise<T> {
  try {
    return await step();
  } catch (error) {
    const [reason, suggestion] = reasonOf(error as NodeJS.ErrnoException, path);
    throw notWritten(path, reason, suggestion);
  }
}

function notWritten(path: string, reason: string, suggestion?: string): MessageError {
  const message: Message = {
    id: "file-not-written",
    severity: "error",
    text: `${path} cannot be written: ${reason}`,
    ...(suggestion && { suggestion }),
    file: path,
  };
  return new MessageError([message]);
}

function reasonOf(error: NodeJS.ErrnoException, path: string): [reason: string, suggestion?: string] {
  const folder = dirname(path);
  switch (error.code) {
    case "EACCES":
    case "EPERM":
      return [`writing in ${folder} is not allowed`, "choose another folder, or allow writing in this one"];
    case "EROFS":
      return [`${folder} lies on a disk that can only be read`, "choose another folder"];
    case "EISDIR":
      return ["there is a folder of that name", "choose another name, or move the folder away"];
    case "EEXIST":
    case "ENOTDIR":
      return [`a part of the path ${folder} is a file, not a folder`, "choose another folder"];
    case "ENOSPC":
    case "EDQUOT":
      return ["the disk is full", "make room and build again"];
    case "EMFILE":
    case "ENFILE":
      return ["too many files are open", "close other programs and build again"];
    case "EBUSY":
      return ["another program holds it", "close that program and build again"];
    case "ENAMETOOLONG":
      return ["its name is too long", "choose a shorter name"];
    default:
      return [error.message || String(error.code)];
  }
}
