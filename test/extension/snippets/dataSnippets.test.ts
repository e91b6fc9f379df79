import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { materialFromDocument } from "../../../src/build/materialFile";
import { printerFromDocument } from "../../../src/build/printerFile";
import { printFromDocument } from "../../../src/build/printFile";
import { wearerFromDocument } from "../../../src/head/wearer";

interface Snippet {
  readonly prefix: string;
  readonly description: string;
  readonly include: readonly string[];
  readonly isFileTemplate: boolean;
  readonly body: readonly string[];
}

const file = "src/extension/snippets/data.code-snippets";
const root = new URL("../../..", import.meta.url).pathname;
const snippets: Record<string, Snippet> = JSON.parse(readFileSync(join(root, file), "utf8"));

const readers = {
  wearer: wearerFromDocument,
  printer: printerFromDocument,
  material: materialFromDocument,
  print: printFromDocument,
};

/** The texts that a snippet makes when nothing is typed into it: one for each word of its choices. */
function textsOf({ body }: Snippet): string[] {
  const whole = body.join("\n").replace(/\$0/g, "");
  const words = [...whole.matchAll(/\$\{\d+\|([^|]*)\|\}/g)].map(([, choices]) => choices.split(","));
  const most = Math.max(1, ...words.map(({ length }) => length));
  return Array.from({ length: most }, (_, i) =>
    whole
      .replace(/\$\{\d+\|([^|]*)\|\}/g, (_, choices: string) => {
        const list = choices.split(",");
        return list[i % list.length];
      })
      .replace(/\$\{\d+:([^}]*)\}/g, "$1")
      .replace(/\$\{\d+\}/g, ""),
  );
}

test("there is one for every kind of data file", () => {
  const kinds = Object.values(snippets).map(
    ({ include: [pattern] }) => pattern.match(/\*\.(\w+)\.json$/)?.[1],
  );
  expect([...new Set(kinds)].sort()).toEqual(Object.keys(readers).sort());
});

test.each(Object.entries(snippets))("%s: left as it stands it is a good file of its kind", (_, snippet) => {
  const [pattern] = snippet.include;
  const kind = pattern.match(/^\*\*\/\*\.(\w+)\.json$/)![1] as keyof typeof readers;
  expect(snippet.prefix).toMatch(new RegExp(`^anadem-${kind}`));
  expect(snippet.isFileTemplate).toBe(true);
  expect(snippet.description.length).toBeGreaterThan(10);
  for (const text of textsOf(snippet)) {
    const { messages } = readers[kind](fixed(JSON.parse(text)));
    expect(
      messages.filter(({ severity }) => severity === "error"),
      text,
    ).toEqual([]);
  }
});

/** Notes and sources are to be filled in; the girth goes with the first unit only. */
function fixed(document: Record<string, unknown>): Record<string, unknown> {
  const { units } = document;
  const size = units === "cm" ? 10 : units === "in" ? 25.4 : 1;
  return Object.fromEntries(
    Object.entries(document).flatMap(([key, value]) =>
      value === "" ? [] : [[key, key === "girth" ? (value as number) / size : value]],
    ),
  );
}
