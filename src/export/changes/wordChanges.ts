import type { Report } from "../report";
import { counted } from "../reportSentences";
import { named, type ReportChange, wordChange } from "./reportChange";

/** What the piece is called and whom it is for. */
export function nameChanges(before: Report, after: Report): ReportChange[] {
  const changes: ReportChange[] = [];
  if (before.headpiece !== after.headpiece) {
    const sentence = `called "${after.headpiece}" instead of "${before.headpiece}"`;
    changes.push(wordChange("headpiece", "headpiece", before.headpiece, after.headpiece, sentence));
  }
  if (before.wearer !== after.wearer) {
    const sentence = `for ${after.wearer} instead of ${before.wearer}`;
    changes.push(wordChange("wearer", "wearer", before.wearer, after.wearer, sentence));
  }
  return changes;
}

/** How a verdict is said inside a sentence. */
export const verdictWords: Readonly<Record<string, string>> = {
  wear: "wear",
  adjust: "adjust",
  dont: "don't",
};

export function verdictChange(before: Report, after: Report): ReportChange[] {
  const [was, is] = [before.wear?.verdict, after.wear?.verdict];
  if (was === is) return [];
  const word = (verdict: string | undefined) => (verdict === undefined ? "none" : verdictWords[verdict]);
  const [reason] = after.wear?.reasons ?? [];
  const sentence = `verdict ${word(is)} instead of ${word(was)}${reason ? `: ${reason}` : ""}`;
  return [wordChange("wear.verdict", "verdict", was, is, sentence, `verdict now ${word(is)}`)];
}

/** Parts that came, went, or have another length; by name. */
export function partChanges(before: Report, after: Report): ReportChange[] {
  const old = new Map((before.parts ?? []).map((part) => [part.name, part]));
  const now = new Map((after.parts ?? []).map((part) => [part.name, part]));
  const added = [...now.values()].filter(({ name }) => !old.has(name));
  const removed = [...old.values()].filter(({ name }) => !now.has(name));
  const resized = [...now.values()].filter(({ name, kind, lengthMm }) => {
    const was = old.get(name);
    return was && (was.kind !== kind || Math.abs((was.lengthMm ?? 0) - (lengthMm ?? 0)) > 0.15);
  });
  const names = (parts: readonly { readonly name: string }[]) => parts.map(({ name }) => name);
  const changes: ReportChange[] = [];
  if (added.length > 0) {
    const shown = named(names(added));
    const sentence = `${counted(added.length, "part")} more: ${shown}`;
    const short = `${partsOfKind(added)} added (${shown})`;
    changes.push(
      wordChange("parts.added", "parts added", undefined, names(added).join(", "), sentence, short),
    );
  }
  if (removed.length > 0) {
    const shown = named(names(removed));
    const sentence = `${counted(removed.length, "part")} fewer: ${shown}`;
    const short = `${partsOfKind(removed)} removed (${shown})`;
    changes.push(
      wordChange("parts.removed", "parts removed", names(removed).join(", "), undefined, sentence, short),
    );
  }
  if (resized.length > 0) {
    const [first] = resized;
    const was = old.get(first.name)!;
    const sentence =
      resized.length === 1 && was.kind === first.kind
        ? `${first.name} is ${first.lengthMm} mm long instead of ${was.lengthMm} mm`
        : `${counted(resized.length, "part")} of another length: ${named(names(resized))}`;
    changes.push(
      wordChange("parts.length", "length of parts", undefined, names(resized).join(", "), sentence),
    );
  }
  return changes;
}

/** `2 tubes`, `1 solid`, or `3 parts` where they are of both kinds. */
export function partsOfKind(parts: readonly { readonly kind: string }[]): string {
  const kinds = new Set(parts.map(({ kind }) => kind));
  return counted(parts.length, kinds.size === 1 ? [...kinds][0] : "part");
}

/** Whether it goes on, and how; whether it stays in balance. */
export function wayOnChanges(before: Report, after: Report): ReportChange[] {
  const changes: ReportChange[] = [];
  const [was, is] = [before.wear?.wayOn, after.wear?.wayOn];
  if (was && is && was.passes !== is.passes) {
    const sentence = is.passes ? `can be put on now: ${is.best}` : "cannot be put on any more";
    changes.push(wordChange("wear.wayOn.passes", "way on", was.passes, is.passes, sentence));
  } else if (was && is && was.passes && was.passesOverHair !== is.passesOverHair) {
    const sentence = is.passesOverHair ? "goes on over the hair now" : "tight over the hair on the way on";
    changes.push(
      wordChange("wear.wayOn.passesOverHair", "way on", was.passesOverHair, is.passesOverHair, sentence),
    );
  } else if (was && is && was.passes && was.best !== is.best) {
    const sentence = `way on "${is.best}" instead of "${was.best}"`;
    changes.push(wordChange("wear.wayOn.best", "way on", was.best, is.best, sentence));
  }
  const [stood, stands] = [before.wear?.stayOn?.inBalance, after.wear?.stayOn?.inBalance];
  if (stood !== undefined && stands !== undefined && stood !== stands) {
    const sentence = stands ? "stays on by itself now" : "does not stay on by itself any more";
    changes.push(wordChange("wear.stayOn.inBalance", "stays on", stood, stands, sentence));
  }
  return changes;
}

/** Whether it fits its printers, in the order of the later report. */
export function plateChanges(before: Report, after: Report): ReportChange[] {
  const old = new Map((before.plates ?? []).map((plate) => [plate.printer, plate]));
  const changes = (after.plates ?? []).flatMap(({ printer, fits, excessMm, tightest }): ReportChange[] => {
    const was = old.get(printer);
    old.delete(printer);
    if (!was) return [wordChange("plates", "printer", undefined, printer, `printer ${printer} is new`)];
    if (was.fits === fits) return [];
    const sentence = fits
      ? `fits the plate of ${printer} now`
      : `too large for the plate of ${printer} by ${excessMm} mm in ${tightest}`;
    return [wordChange("plates.fits", "plate fit", was.fits, fits, sentence)];
  });
  const gone = [...old.keys()].map((printer) =>
    wordChange("plates", "printer", printer, undefined, `no longer for printer ${printer}`),
  );
  return [...changes, ...gone];
}

/** The way up on the plate. */
export function orientationChange(before: Report, after: Report): ReportChange[] {
  const [was, is] = [before.plan?.orientation?.words, after.plan?.orientation?.words];
  if (was === undefined || is === undefined || was === is) return [];
  const sentence = `printed ${is} instead of ${was}`;
  return [wordChange("plan.orientation.words", "way up", was, is, sentence)];
}
