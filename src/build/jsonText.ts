import { type Node, type ParseError, parseTree, printParseErrorCode } from "jsonc-parser";
import type { Message, Place } from "../message";

/** Lines and columns of offsets in a text. */
export class TextPlaces {
  readonly #file: string;
  readonly #lineStarts: number[] = [0];

  constructor(file: string, text: string) {
    this.#file = file;
    for (let at = text.indexOf("\n"); at >= 0; at = text.indexOf("\n", at + 1)) this.#lineStarts.push(at + 1);
  }

  at(offset: number, length: number): Place {
    let line = 0;
    while (line + 1 < this.#lineStarts.length && this.#lineStarts[line + 1] <= offset) line++;
    const column = offset - this.#lineStarts[line] + 1;
    return { file: this.#file, line: line + 1, column, ...(length > 0 && { length }) };
  }
}

/** Standard JSON (RFC 8259) with the place of everything in it. */
export interface JsonText {
  /** Absent when the text is not JSON. */
  readonly root?: Node;
  readonly messages: readonly Message[];
}

/** Parses a text; what is not JSON, and a key that stands twice, comes back as messages with their place. */
export function parseJsonText(text: string, places: TextPlaces): JsonText {
  if (text.trim() === "") {
    const empty: Message = {
      id: "json-syntax",
      severity: "error",
      text: "the file is empty",
      suggestion: "begin with { and end with }",
      ...places.at(0, 0),
    };
    return { messages: [empty] };
  }
  const errors: ParseError[] = [];
  const root = parseTree(text, errors, { disallowComments: true, allowTrailingComma: false });
  if (errors.length > 0 || !root) {
    const error = errors[0] ?? { error: 0, offset: 0, length: 0 };
    return { messages: [syntaxMessage(error, text, places)] };
  }
  const messages = duplicateKeys(root, places);
  return messages.length > 0 ? { messages } : { root, messages };
}

function syntaxMessage({ error, offset, length }: ParseError, text: string, places: TextPlaces): Message {
  const code = printParseErrorCode(error);
  const rest = text.slice(offset).trim();
  const found =
    rest === "" ? "the end of the file" : JSON.stringify(text.slice(offset, offset + Math.max(1, length)));
  const said = (what: string, suggestion: string): Message => ({
    id: "json-syntax",
    severity: "error",
    text: what,
    suggestion,
    ...places.at(offset, length),
  });
  switch (code) {
    case "InvalidCommentToken":
    case "UnexpectedEndOfComment":
      return said("a JSON file holds no comments", 'put the remark into "notes"');
    case "PropertyNameExpected":
      return rest.startsWith("}")
        ? said("a comma stands before }, and nothing after it", "take the last comma away")
        : said(`a key in quotes is expected before ${found}`, 'write "key": value');
    case "ValueExpected":
      return rest.startsWith("]")
        ? said("a comma stands before ], and nothing after it", "take the last comma away")
        : said(
            `a value is expected before ${found}`,
            "give a number, a text in double quotes, a list or a group",
          );
    case "ColonExpected":
      return said(`a colon is expected before ${found}`, 'write "key": value');
    case "CommaExpected":
      return said(`a comma is expected before ${found}`, "put a comma after the value before it");
    case "CloseBraceExpected":
      return said(`} is expected before ${found}`, "close the group");
    case "CloseBracketExpected":
      return said(`] is expected before ${found}`, "close the list");
    case "EndOfFileExpected":
      return said(`nothing is expected after the closing }, but ${found} is there`, "take it away");
    case "UnexpectedEndOfString":
      return said("a text has no closing quote", 'close it with "');
    case "UnexpectedEndOfNumber":
    case "InvalidNumberFormat":
      return said(`${found} is not a number`, "write it as 57 or 57.5");
    case "InvalidSymbol":
      return said(`${found} is not understood`, symbolHint(text.slice(offset, offset + length)));
    default:
      return said(`${found} is not understood`, "write texts in double quotes and numbers with a point");
  }
}

function symbolHint(symbol: string): string {
  if (symbol.startsWith("'")) return 'write texts in double quotes: "…"';
  if (/^\d/.test(symbol)) return "write the bare number; the unit stands once for the whole file";
  return 'write texts in double quotes: "…"';
}

function duplicateKeys(root: Node, places: TextPlaces): Message[] {
  const messages: Message[] = [];
  const visit = (node: Node) => {
    const seen = new Map<string, Node>();
    for (const child of node.children ?? []) {
      visit(child);
      if (child.type !== "property") continue;
      const key = child.children![0];
      const first = seen.get(key.value);
      if (first) {
        messages.push({
          id: "duplicate-key",
          severity: "error",
          text: `"${key.value}" is given twice`,
          suggestion: "keep one of them",
          ...places.at(key.offset, key.length),
          notes: [{ text: "the first of them", ...places.at(first.offset, first.length) }],
        });
      }
      seen.set(key.value, key);
    }
  };
  visit(root);
  return messages;
}

/**
 * Where a field stands, given as a dotted path: its value, or its key where `key` is asked for; the nearest
 * group around it where it is missing.
 */
export function placeOfField(root: Node, field: string, key: boolean, places: TextPlaces): Place {
  let node = root;
  let rest = field;
  while (rest !== "") {
    const child = childAt(node, rest);
    if (!child)
      return places.at(node.offset, node.type === "object" || node.type === "array" ? 1 : node.length);
    rest = rest.slice(child.name.length + 1);
    if (rest === "" && key && child.key) return places.at(child.key.offset, child.key.length);
    node = child.value;
  }
  return places.at(node.offset, field === "" ? 1 : node.length);
}

/** The child that a dotted path begins with; a key may hold dots itself, so the longest is taken. */
function childAt(node: Node, path: string): { name: string; key?: Node; value: Node } | undefined {
  if (node.type === "array") {
    const name = path.split(".")[0];
    const value = node.children?.[Number(name)];
    return value && { name, value };
  }
  let found: { name: string; key: Node; value: Node } | undefined;
  for (const { children } of node.type === "object" ? (node.children ?? []) : []) {
    const [key, value] = children ?? [];
    const name: string = key?.value;
    const fits = value && (path === name || path.startsWith(`${name}.`));
    if (fits && name.length > (found?.name.length ?? -1)) found = { name, key, value };
  }
  return found;
}
