import { getNodeValue, type Node, parseTree } from "jsonc-parser";
import { WEARER_KEYS } from "../head/wearer";

/** A change of a text: what stands from `start` to `end` (offsets) becomes `text`. */
export interface KeyEdit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** Keys of a wearer's file with what they are to hold; `undefined` takes a key out. */
export type KeyValues = ReadonlyMap<string, unknown>;

/** What a text of JSON holds; an empty group where it holds none. */
export function documentOf(text: string): Readonly<Record<string, unknown>> {
  const root = parseTree(text);
  return root?.type === "object" ? getNodeValue(root) : {};
}

/** The text of a wearer's file with some keys changed; all else stays as it stands, order, spaces and ends of lines. */
export function withKeys(text: string, values: KeyValues): string {
  let changed = text;
  for (const [key, value] of values) {
    const edit = keyEdit(changed, key, value);
    if (edit) changed = changed.slice(0, edit.start) + edit.text + changed.slice(edit.end);
  }
  return changed;
}

/** The change between two texts as one edit: what they have in common at both ends stays. */
export function editBetween(before: string, after: string): KeyEdit | undefined {
  if (before === after) return undefined;
  const most = Math.min(before.length, after.length);
  let start = 0;
  while (start < most && before[start] === after[start]) start++;
  let end = 0;
  while (end < most - start && before[before.length - 1 - end] === after[after.length - 1 - end]) end++;
  return { start, end: before.length - end, text: after.slice(start, after.length - end) };
}

/** JSON on one line, with room inside braces, as people write it: `{ "readings": [567, 570] }`. */
export function lineOfJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(lineOfJson).join(", ")}]`;
  if (typeof value !== "object" || value === null) return JSON.stringify(value);
  const entries = Object.entries(value).map(([key, one]) => `${JSON.stringify(key)}: ${lineOfJson(one)}`);
  return entries.length === 0 ? "{}" : `{ ${entries.join(", ")} }`;
}

function keyEdit(text: string, key: string, value: unknown): KeyEdit | undefined {
  const root = parseTree(text);
  if (root?.type !== "object") return undefined;
  const properties = root.children ?? [];
  const at = properties.findIndex((property) => property.children?.[0]?.value === key);
  if (value === undefined) return at < 0 ? undefined : removal(properties, at);
  const present = properties[at]?.children?.[1];
  if (present) {
    return { start: present.offset, end: present.offset + present.length, text: lineOfJson(value) };
  }
  return insertion(text, root, properties, `${JSON.stringify(key)}: ${lineOfJson(value)}`, key);
}

function removal(properties: readonly Node[], at: number): KeyEdit {
  const { offset, length } = properties[at];
  const next = properties[at + 1];
  if (next) return { start: offset, end: next.offset, text: "" };
  const before = properties[at - 1];
  return { start: before ? before.offset + before.length : offset, end: offset + length, text: "" };
}

/** After the last key that comes before it in the usual order, each on a line of its own where the others are. */
function insertion(
  text: string,
  root: Node,
  properties: readonly Node[],
  line: string,
  key: string,
): KeyEdit {
  const rank = (name: string): number => WEARER_KEYS.indexOf(name);
  const nameOf = (property: Node): string => property.children?.[0]?.value ?? "";
  const last = properties.filter((property) => {
    const known = rank(nameOf(property));
    return known >= 0 && known < rank(key);
  });
  const before = last[last.length - 1];
  const first = properties[0];
  const eol = text.includes("\r\n") ? "\r\n" : "\n";
  if (!first) {
    return { start: root.offset, end: root.offset + root.length, text: `{${eol}  ${line}${eol}}` };
  }
  const lead = text.slice(root.offset + 1, first.offset);
  const gap = /[\r\n]/.test(lead) ? eol + lead.slice(lead.lastIndexOf("\n") + 1) : " ";
  if (!before) return { start: first.offset, end: first.offset, text: `${line},${gap}` };
  const end = before.offset + before.length;
  return { start: end, end, text: `,${gap}${line}` };
}
