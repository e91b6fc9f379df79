import type { Part } from "../../design/part";
import { isAlike } from "./alike";
import type { PartChange } from "./comparison";
import { changeWords } from "./partWords";

/**
 * Parts by name: those of now in their order that are new or not as they were, then those that are gone. A part that is
 * as another was, whose name is gone, is that one renamed.
 */
export function partChanges(before: readonly Part[], after: readonly Part[]): PartChange[] {
  const old = new Map(before.map((part) => [part.name, part]));
  const names = new Set(after.map(({ name }) => name));
  const gone = before.filter(({ name }) => !names.has(name));
  const renamed = new Set<Part>();
  const changes = after.flatMap((part): PartChange[] => {
    const was = old.get(part.name);
    if (was) {
      const what = isAlike(dataOf(was), dataOf(part)) ? [] : changeWords(was, part);
      return what.length > 0 ? [{ name: part.name, change: "changed", what }] : [];
    }
    const own = gone.find((each) => !renamed.has(each) && isAlike(dataOf(each), dataOf(part)));
    if (!own) return [{ name: part.name, change: "added", what: [] }];
    renamed.add(own);
    return [{ name: part.name, change: "changed", what: [`renamed from ${own.name}`], was: own.name }];
  });
  const removed = gone
    .filter((part) => !renamed.has(part))
    .map(({ name }): PartChange => ({ name, change: "removed", what: [] }));
  return [...changes, ...removed];
}

/** What makes a part, without its name and the line that made it. */
function dataOf({ name: _, origin: __, ...data }: Part): unknown {
  return data;
}
