import { callAt, type Extent, extentAt } from "../../callExtent";
import { tokensFrom } from "../../designTokens";
import type { Fix, FixContext, FixFinder } from "./fix";
import { optionsNamed, quotedIn } from "./options";

/** `did you mean "radius"?` in a suggestion, and the word that was written. */
function meant({
  message: { text, suggestion = "" },
}: FixContext): { written: string; name: string } | undefined {
  const name = /did you mean "([^"]+)"\?/i.exec(suggestion)?.[1];
  const written = [...text.matchAll(/"([^"]+)"/g)].map((match) => match[1]);
  return name === undefined || written.length === 0
    ? undefined
    : { name, written: written[written.length - 1] };
}

const changeTo = (name: string, places: readonly Extent[], { l10n }: FixContext, text = name): Fix[] =>
  places.length !== 1
    ? []
    : [{ title: l10n.t("Change to “{0}”", name), changes: [{ ...places[0], text }], isSafe: true }];

/** `radios: 3` becomes `radius: 3`. */
export const fixUnknownOption: FixFinder = (context) => {
  const words = meant(context);
  if (!words) return [];
  const found = optionsNamed(context.text, context.offset, words.written);
  const places = found.map(({ property }) => ({ start: property.start, end: property.nameEnd }));
  const isShorthand = found[0]?.property.kind === "shorthand";
  return changeTo(words.name, places, context, isShorthand ? `${words.name}: ${words.written}` : words.name);
};

/** `tip: "rund"` becomes `tip: "round"`. */
export const fixUnknownWord: FixFinder = (context) => {
  const words = meant(context);
  const call = callAt(context.text, context.offset);
  if (!words) return [];
  return changeTo(words.name, quotedIn(context.text, call ?? lineFrom(context), words.written), context);
};

/** `from "./parts/antlr"` becomes `from "./parts/antler"`. The path is the first that the message quotes. */
export const fixImportPath: FixFinder = (context) => {
  const { text, suggestion = "" } = context.message;
  const written = /^"([^"]+)"/.exec(text)?.[1];
  const name = /did you mean "([^"]+)"\?/i.exec(suggestion)?.[1];
  if (!written || !name) return [];
  return changeTo(name, quotedIn(context.text, lineFrom(context), written), context);
};

/** `import { antlr }` becomes `import { antler }`. */
export const fixImportName: FixFinder = (context) => {
  const words = meant(context);
  if (!words) return [];
  const { start, end } = extentAt(context.text, context.offset);
  if (context.text.slice(start, end) !== words.written) return [];
  // Where the name is used further on it keeps the wrong one: so the right one is imported under it.
  const uses = [...tokensFrom(context.text, end)].filter(
    (token) => token.kind === "word" && token.word === words.written,
  );
  const text = uses.length === 0 ? words.name : `${words.name} as ${words.written}`;
  return changeTo(words.name, [{ start, end }], context, text);
};

/** `"girht": 560` becomes `"girth": 560`. */
export const fixUnknownKey: FixFinder = (context) => {
  const words = meant(context);
  if (!words) return [];
  const written = words.written.slice(words.written.lastIndexOf(".") + 1);
  return changeTo(words.name, quotedIn(context.text, lineFrom(context), written), context);
};

/** A file that the design names and that is not there: the one that was meant, or each of its kind. */
export const fixFileName: FixFinder = (context) => {
  const { message, text, offset, neighbours, l10n } = context;
  const owner = /^the (wearer|printer|material|print settings)'s? file /.exec(message.text)?.[1];
  const kind = owner === "print settings" ? "print" : owner;
  const [option] = kind ? optionsNamed(text, offset, kind) : [];
  if (!kind || option?.property.kind !== "value") return [];
  const { valueStart: start, valueEnd: end } = option.property;
  const path = text.slice(start + 1, end - 1);
  if (!/^["'`][^"'`]*["'`]$/.test(text.slice(start, end))) return [];
  const folder = path.slice(0, path.lastIndexOf("/") + 1);
  const near = /did you mean "([^"]+)"\?/i.exec(message.suggestion ?? "")?.[1];
  if (near) return changeTo(near, [{ start: start + 1, end: end - 1 }], context, folder + near);
  if (folder !== "" && folder !== "./") return [];
  return neighbours
    .filter((name) => name.endsWith(`.${kind}.json`))
    .map((name) => ({
      title: l10n.t("Change to “{0}”", name),
      changes: [{ start: start + 1, end: end - 1, text: folder + name }],
      isSafe: false,
    }));
};

/** From the finding to the end of its line. */
function lineFrom({ text, offset }: FixContext): Extent {
  const end = text.indexOf("\n", offset);
  return { start: offset, end: end < 0 ? text.length : end };
}
