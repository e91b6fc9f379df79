/** A document as it stands in the editor. */
export interface OpenText {
  readonly path: string;
  readonly isDirty: boolean;
  text(): string;
}

/**
 * The texts that stand in for files. While typing, a design is built from what is seen: every unsaved file that it
 * uses. In all other modes a build is of what is saved, moved parameters or not: a half-written line breaks nothing, and
 * what is seen is what would be exported.
 */
export function textsFor(
  inputs: ReadonlySet<string>,
  isWhileTyping: boolean,
  open: Iterable<OpenText>,
): Record<string, string> | undefined {
  if (!isWhileTyping) return undefined;
  const unsaved = [...open].filter(({ path, isDirty }) => isDirty && inputs.has(path));
  if (unsaved.length === 0) return undefined;
  return Object.fromEntries(unsaved.map((each) => [each.path, each.text()]));
}
