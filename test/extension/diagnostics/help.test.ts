import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { headingLines } from "../../../src/extension/diagnostics/helpPages";

const root = new URL("../../..", import.meta.url).pathname;
const help = readFileSync(join(root, "media/help/messages.md"), "utf8");

/** The sources that make messages: not the views, whose ids are of other things. */
const sources = [
  "build",
  "checks",
  "cli",
  "design",
  "export",
  "geometry",
  "head",
  "print",
  "extension/builds",
]
  .map((folder) => join(root, "src", folder))
  .filter((folder) => existsSync(folder))
  .flatMap(filesBelow)
  .concat(["printSettings.ts", "wearLimits.ts"].map((file) => join(root, "src", file)))
  .map((file) => readFileSync(file, "utf8"));

function filesBelow(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith(".ts"))
    .map((entry) => join(entry.parentPath, entry.name));
}

/** Ids in the ways that the sources write them: `id: "…"`, and as the first argument of what makes a message. */
const ways = [
  /\bid: "([a-z][a-z0-9-]*)"/g,
  /\b(?:refusal|message|problem|error)\(\s*"([a-z][a-z0-9]*(?:-[a-z0-9]+)+)"/g,
];
const written = new Set(
  sources.flatMap((text) => ways.flatMap((way) => [...text.matchAll(way)].map((match) => match[1]))),
);

test("every message is explained", () => {
  expect(written.size).toBeGreaterThan(100);
  const explained = headingLines(help);
  expect([...written].filter((id) => !explained.has(id))).toEqual([]);
});

test("nothing is explained that no longer exists", () => {
  const all = sources.join("\n");
  expect([...headingLines(help).keys()].filter((id) => !all.includes(`"${id}"`))).toEqual([]);
});

test("each explanation says what it means and what to do, in order of the alphabet", () => {
  const sections = help.split(/^## /m).slice(1);
  for (const section of sections) expect(section.trim().split("\n\n")).toHaveLength(3);
  const ids = sections.map((section) => section.split("\n")[0]);
  expect(ids).toEqual([...ids].sort());
  expect(new Set(ids).size).toBe(ids.length);
});

test("the line of a heading is where it stands", () => {
  const [id, line] = [...headingLines(help)][5];
  expect(help.split("\n")[line - 1]).toBe(`## ${id}`);
});
