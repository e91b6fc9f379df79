import { callAt, type Extent } from "../../callExtent";
import { argumentsOf } from "../../designText";
import type { Fix, FixContext, FixFinder } from "./fix";
import { optionsNamed, removal } from "./options";

/** What a message says of a number that is not allowed. */
interface OutOfRange {
  /** "point of the start tip of …", "the default of length" */
  readonly what: string;
  readonly value: number;
  readonly allowed: number | undefined;
}

const plainNumber = /^[+-]?\s*(?:\d[\d_]*\.?[\d_]*|\.\d[\d_]*)(?:e[+-]?\d+)?$/i;

function outOfRange({ message: { text, suggestion = "" } }: FixContext): OutOfRange | undefined {
  const said = /^(.+?) is (-?[\d.]+(?:e[+-]?\d+)?)$/.exec(text);
  if (!said || !suggestion.startsWith("give a")) return undefined;
  const value = Number(said[2]);
  const limit = (name: RegExp) => {
    const found = name.exec(suggestion)?.[1];
    return found === undefined ? undefined : Number(found);
  };
  const least = limit(/of at least (-?[\d.]+)/);
  const above = limit(/above (-?[\d.]+)/);
  const most = limit(/of at most (-?[\d.]+)/);
  const isWhole = suggestion.includes("whole number");
  let allowed: number | undefined = isWhole ? Math.round(value) : value;
  if (least !== undefined) allowed = Math.max(allowed, isWhole ? Math.ceil(least) : least);
  if (most !== undefined) allowed = Math.min(allowed, isWhole ? Math.floor(most) : most);
  // There is no least number above a limit.
  if (above !== undefined && allowed <= above) allowed = undefined;
  return { what: said[1], value, allowed };
}

/** A number that is not allowed becomes the nearest that is: the tip radius the least, the infill 100. */
export const fixOutOfRange: FixFinder = (context) => {
  const found = outOfRange(context);
  if (!found) return [];
  const { l10n } = context;
  const { what, value, allowed } = found;
  const place = allowed === value ? undefined : placeOf(context, what, value);
  const fixes: Fix[] = [];
  if (allowed !== undefined && place) {
    fixes.push({
      title: l10n.t("Set {0} to {1}", place.name, allowed),
      changes: [{ ...place.extent, text: String(allowed) }],
      isSafe: true,
    });
  }
  if (/^(?:girth|offset) of ease$/.test(what)) fixes.push(...withoutEase(context));
  return fixes;
};

/** Where the number stands as it is: an option of the call, or its first argument. */
function placeOf(
  context: FixContext,
  what: string,
  value: number,
): { name: string; extent: Extent } | undefined {
  const { text, offset, l10n } = context;
  const isThis = ({ start, end }: Extent) => {
    const written = text.slice(start, end);
    return plainNumber.test(written) && Number(written.replace(/[_\s]/g, "")) === value;
  };
  if (what.startsWith("the default of ")) {
    const call = callAt(text, offset);
    const [first] = call ? argumentsOf(text, call.open) : [];
    return first && isThis(first) ? { name: l10n.t("the default"), extent: first } : undefined;
  }
  const name = what.split(" ")[0];
  const places = optionsNamed(text, offset, name)
    .map(({ property }) => ({ start: property.valueStart, end: property.valueEnd }))
    .filter(isThis);
  return places.length === 1 ? { name, extent: places[0] } : undefined;
}

/** Without an ease of its own the headpiece has the wearer's. */
function withoutEase({ text, offset, l10n }: FixContext): Fix[] {
  const found = optionsNamed(text, offset, "ease");
  if (found.length !== 1) return [];
  return [{ title: l10n.t("Use the wearer's ease"), changes: [removal(found[0])], isSafe: false }];
}

/** Of two eases one is kept, or the wearer's. */
export const fixTwoEases: FixFinder = (context) => {
  const { text, offset, l10n } = context;
  const [ease] = optionsNamed(text, offset, "ease");
  if (!ease) return [];
  const of = (name: string) =>
    optionsNamed(text, offset, name).find(
      ({ property }) => property.start >= ease.property.valueStart && property.start < ease.property.valueEnd,
    );
  const [girth, size] = [of("girth"), of("offset")];
  if (!girth || !size) return [];
  return [
    { title: l10n.t("Keep the girth"), changes: [removal(size)], isSafe: false },
    { title: l10n.t("Keep the offset"), changes: [removal(girth)], isSafe: false },
    ...withoutEase(context),
  ];
};

/** A closed path has no ends, so a tip is taken away. */
export const fixTipOnClosedPath: FixFinder = ({ text, offset, l10n }) => {
  const found = ["tip", "startTip", "endTip"].flatMap((name) => optionsNamed(text, offset, name));
  if (found.length !== 1) return [];
  return [{ title: l10n.t("Remove the tip"), changes: [removal(found[0])], isSafe: true }];
};
