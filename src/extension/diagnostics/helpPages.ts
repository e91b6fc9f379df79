/** Where each message is explained: the line of its heading in `media/help/messages.md`, counted from 1, by id. */
export function headingLines(markdown: string): Map<string, number> {
  const lines = new Map<string, number>();
  markdown.split(/\r?\n/).forEach((line, index) => {
    const id = /^## ([a-z][a-z0-9-]*)$/.exec(line)?.[1];
    if (id) lines.set(id, index + 1);
  });
  return lines;
}
