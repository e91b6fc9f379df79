import type { Message, Place } from "../../message";
import type { BuildStateMessage, DesignMessage, PartFacts } from "../protocol";
import { counted, lengthText, massText, radiusText } from "./numbers";
import type { PlanState } from "./planState";

/**
 * The picture in words, for who does not see it: what it shows, the facts of the piece and how much was found. Empty
 * while nothing is known.
 */
export function textEquivalent(
  design: DesignMessage | undefined,
  build: BuildStateMessage | undefined,
): string {
  if (design === undefined) return "";
  const title = design.wearer === "" ? design.headpiece : `${design.headpiece} on ${design.wearer}`;
  const found = foundText(build?.messages ?? []);
  if (build?.phase === "failed") {
    const first = build.messages.find((message) => message.severity === "error");
    const why = first === undefined ? "" : `: ${withoutStop(first.text)}${placeWords(first)}`;
    return `${title}: the build failed${why}.${build.isOutdated ? " The model shown is out of date." : ""}`;
  }
  const facts = design.facts.map((fact) => `${lowerFirst(fact.label)} ${fact.value}`).join(", ");
  const told = [facts, found].filter((text) => text !== "").join("; ");
  const outdated = build?.isOutdated === true ? "; out of date" : "";
  return told === "" ? `${title}${outdated}` : `${title}: ${told}${outdated}`;
}

/**
 * How the piece is printed, in words: what it takes, and which way up; empty while nothing is known.
 * @param most rows that are told at most, from the first on
 */
export function planText({ scene, isOld }: PlanState, most = Infinity): string {
  if (scene === undefined) return "";
  const told = scene.rows
    .slice(0, most)
    .map(({ label, value }) => `${lowerFirst(label)} ${withoutStop(value)}`);
  const chosen = scene.orientations.find(({ isChosen }) => isChosen);
  if (chosen) told.push(`way up: ${[chosen.name, chosen.words].filter((text) => text !== "").join(", ")}`);
  return told.length === 0 ? "" : `Print${isOld ? ", out of date" : ""}: ${told.join("; ")}.`;
}

/** Sentences one after the other, each with its stop; empty ones are left out. */
export const sentences = (...texts: readonly (string | undefined)[]): string => {
  const told = texts.filter((text): text is string => text !== undefined && text !== "");
  return told.map((text, i) => (i < told.length - 1 && !text.endsWith(".") ? `${text}.` : text)).join(" ");
};

/** "1 error, 2 warnings"; notes are told only where there is nothing worse. */
export function foundText(messages: readonly Message[]): string {
  const count = (severity: Message["severity"]) =>
    messages.filter((message) => message.severity === severity).length;
  const [errors, warnings, notes] = [count("error"), count("warning"), count("note")];
  const worse = [
    ...(errors > 0 ? [counted(errors, "error")] : []),
    ...(warnings > 0 ? [counted(warnings, "warning")] : []),
  ];
  return worse.length === 0 && notes > 0 ? counted(notes, "note") : worse.join(", ");
}

/** A part in words: "branch 3, tube, 142 mm long, radius 2.5 to 7 mm, 4.1 g". */
export function partText(part: PartFacts): string {
  return [part.name, part.kind, ...partMeasures(part)].join(", ");
}

/** What is known of a part's size, each as a phrase of its own. */
export function partMeasures(part: PartFacts): string[] {
  return [
    ...(part.length === undefined ? [] : [`${lengthText(part.length)} long`]),
    ...(part.radius === undefined ? [] : [`radius ${radiusText(part.radius)}`]),
    ...(part.mass === undefined ? [] : [massText(part.mass)]),
  ];
}

/** The place as it is shown, "coral.ts:12:5"; undefined where it is not known well enough to go there. */
export function placeText(place: Partial<Place>): string | undefined {
  const known = wholePlace(place);
  return known && `${baseName(known.file)}:${known.line}:${known.column}`;
}

/** The place where it can be gone to: file and line are known. */
export function wholePlace(place: Partial<Place>): Place | undefined {
  const { file, line, column, length } = place;
  if (file === undefined || file === "" || line === undefined) return undefined;
  return { file, line, column: column ?? 1, ...(length !== undefined && { length }) };
}

/** The last name of a path, whichever way its slashes lean. */
export const baseName = (path: string): string =>
  path.slice(Math.max(path.lastIndexOf("/"), path.lastIndexOf("\\")) + 1);

function placeWords(place: Partial<Place>): string {
  const known = wholePlace(place);
  return known === undefined ? "" : `, ${baseName(known.file)} line ${known.line}`;
}

const withoutStop = (text: string): string => text.replace(/\.$/, "");
const lowerFirst = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);
