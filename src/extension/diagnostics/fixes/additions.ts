import { findHeadpiece } from "../../designText";
import type { Fix, FixContext, FixFinder } from "./fix";

/** A headpiece without a wearer gets one of those in its folder. */
export const fixNoWearer: FixFinder = ({ text, neighbours, l10n }) => {
  const call = findHeadpiece(text);
  if (!call) return [];
  const name = call.properties.find((property) => property.name === "name");
  const after = name ? name.valueEnd : undefined;
  const wearers = neighbours.filter((each) => each.endsWith(".wearer.json"));
  return wearers.map((file) => {
    const option = `wearer: ${JSON.stringify(file)}`;
    const start = after ?? call.open + 1;
    const indent = name ? indentAt(text, name.start) : undefined;
    const added = indent === undefined ? ` ${option},` : `${indent}${option},`;
    const change =
      after === undefined
        ? { start, end: start, text: `${added}${call.properties.length > 0 ? "" : " "}` }
        : { start, end: start, text: `,${added.slice(0, -1)}` };
    return { title: l10n.t("Make it for {0}", file), changes: [change], isSafe: wearers.length === 1 };
  });
};

/** The line break and the space before something that stands first in its line; else one space. */
function indentAt(text: string, offset: number): string {
  const before = text.slice(0, offset);
  return /\r?\n[ \t]*$/.exec(before)?.[0] ?? " ";
}

/** A wearer without units gets one of the three. */
export const fixMissingUnits: FixFinder = (context) =>
  ["mm", "cm", "in"].flatMap((unit) => addedKey(context, `"units": ${JSON.stringify(unit)}`, false));

/** A wearer without a name gets that of its file. */
export const fixMissingName: FixFinder = (context) => {
  const stem = context.fileName.replace(/\.\w+\.json$/, "").replaceAll(/[-_]+/g, " ");
  return addedKey(context, `"name": ${JSON.stringify(stem.charAt(0).toUpperCase() + stem.slice(1))}`, false);
};

/** A key that a data file needs is added, with the example that the message gives. */
export const fixMissingKey: FixFinder = (context) => {
  const written = /^add ("[^"]+": (?:"[^"]*"|-?[\d.]+|true|false|\[[^\]]*\]))(?: |$)/.exec(
    context.message.suggestion ?? "",
  )?.[1];
  // A key of an inner group belongs into that group.
  return written && !context.message.field?.includes(".") ? addedKey(context, written, false) : [];
};

/** Adds a key as the first of the outermost group. */
function addedKey({ text, l10n }: FixContext, written: string, isSafe: boolean): Fix[] {
  const open = text.indexOf("{");
  if (open < 0) return [];
  const rest = text.slice(open + 1);
  const indent = /^\s*/.exec(rest)?.[0] ?? "";
  const isEmpty = rest.trimStart().startsWith("}");
  const own = isEmpty ? "\n  " : indent.includes("\n") ? indent.slice(indent.lastIndexOf("\n")) : " ";
  const after = isEmpty ? "\n" : ",";
  const end = isEmpty ? open + 1 + indent.length : open + 1;
  return [
    {
      title: l10n.t("Add {0}", written),
      changes: [{ start: open + 1, end, text: `${own}${written}${after}` }],
      isSafe,
    },
  ];
}

/** A comma with nothing after it is taken away. */
export const fixLastComma: FixFinder = ({ message, text, offset, l10n }) => {
  if (!message.text.startsWith("a comma stands before ")) return [];
  const comma = text.slice(0, offset).search(/,\s*$/);
  if (comma < 0) return [];
  return [
    {
      title: l10n.t("Remove the comma"),
      changes: [{ start: comma, end: comma + 1, text: "" }],
      isSafe: true,
    },
  ];
};
