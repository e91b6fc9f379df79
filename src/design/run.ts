import { GrownHead, type GrownHeadData } from "../head/grownHead";
import { MessageError } from "../message";
import { didYouMean } from "../nearestName";
import { number, oneOf, shown } from "./check";
import { withContext } from "./context";
import { designError } from "./error";
import { flatParts, type Member } from "./group";
import { DesignHead } from "./head";
import { declarationsOf, type Headpiece, isHeadpiece } from "./headpiece";
import type {
  DesignHeader,
  DesignResult,
  ParameterDeclaration,
  ParameterValue,
  Part,
  Prop as PropData,
} from "./part";
import { Prop } from "./prop";
import { Random } from "./random";
import { Cut, type Solid } from "./solid";
import { Tube } from "./tube";

/** The runner's side of the language: a design file's default export becomes plain data. */

/** What a headpiece declares. Throws a `MessageError` where the value is no headpiece. */
export function readHeader(exported: unknown): DesignHeader {
  const piece = asHeadpiece(exported);
  const { name, wearer, printer, material, easeOffset, print, limits, origin } = piece;
  return {
    name,
    ...(wearer !== undefined && { wearer }),
    ...(printer !== undefined && { printer }),
    ...(material !== undefined && { material }),
    ...(easeOffset !== undefined && { easeOffset }),
    print,
    ...(limits && { limits }),
    parameters: declarationsOf(piece),
    ...(origin && { origin }),
  };
}

/**
 * The parts that a headpiece makes for a head.
 * @param given the grown head, and values for some of the parameters; the others keep their defaults
 * @throws MessageError on a wrong value, a wrong part, or two parts of one name
 */
export function runDesign(
  exported: unknown,
  given: { head: GrownHeadData; values: Readonly<Record<string, ParameterValue>> },
): DesignResult {
  const piece = asHeadpiece(exported);
  const header = readHeader(piece);
  const values = valuesOf(header.parameters, given.values);
  const context = { head: new DesignHead(GrownHead.fromData(given.head)), random: new Random(piece.seed) };
  const members = withContext(context, () => {
    const made = piece.make({ ...context, parameters: values as never });
    if (typeof (made as { then?: unknown } | undefined)?.then === "function") {
      throw designError({
        id: "make-is-async",
        text: "make gives back a promise",
        suggestion: "make must return its parts at once: leave out async and await",
        place: piece.origin,
      });
    }
    if (made === undefined || made === null) {
      throw designError({
        id: "no-parts",
        text: "make gives back nothing",
        suggestion: "end make with return [part, part, …]",
        place: piece.origin,
      });
    }
    return flatParts(made);
  });
  const parts = members.filter((member) => member.kind !== "prop");
  const props = members.filter((member) => member.kind === "prop");
  if (!parts.some((part) => !(part instanceof Cut))) {
    const only = [parts.length > 0 && "cuts", props.length > 0 && "props"].filter(Boolean).join(" and ");
    throw designError({
      id: "no-parts",
      text: only ? `make gives back ${only} only` : "make gives back no parts",
      suggestion: "give back at least one tube, band or solid",
      place: piece.origin,
    });
  }
  checkNames(members);
  return {
    ...header,
    values,
    parts: parts.map(toData),
    ...(props.length > 0 && { props: props.map(propData) }),
  };
}

function asHeadpiece(exported: unknown): Headpiece {
  if (isHeadpiece(exported)) return exported;
  throw new MessageError([
    {
      id: "no-headpiece",
      severity: "error",
      text:
        exported === undefined
          ? "the design has no default export"
          : `the default export is ${shown(exported)}, not a headpiece`,
      suggestion: "write export default headpiece({ name, make })",
    },
  ]);
}

/** The value of each parameter: the one given where it is allowed, else the default. */
function valuesOf(
  declarations: readonly ParameterDeclaration[],
  given: Readonly<Record<string, ParameterValue>>,
): Record<string, ParameterValue> {
  const names = declarations.map(({ name }) => name);
  for (const name of Object.keys(given)) {
    if (names.includes(name)) continue;
    throw new MessageError([
      {
        id: "unknown-parameter",
        severity: "error",
        text: `the design has no parameter "${name}"`,
        suggestion:
          didYouMean(name, names) ?? (names.length > 0 ? `it has ${names.join(", ")}` : "it has none at all"),
      },
    ]);
  }
  return Object.fromEntries(
    declarations.map((declaration) => {
      const { name } = declaration;
      return [name, name in given ? allowed(declaration, given[name]) : declaration.default];
    }),
  );
}

function allowed(declaration: ParameterDeclaration, value: ParameterValue): ParameterValue {
  const what = `parameter "${declaration.name}"`;
  const { kind, least, most, choices = [] } = declaration;
  if (kind === "choice") return oneOf(value, what, choices);
  if (kind === "toggle") {
    if (typeof value === "boolean") return value;
    throw designError({
      id: "not-a-toggle",
      text: `${what} is ${shown(value)}`,
      suggestion: "give true or false",
    });
  }
  return number(value, what, {
    ...(least !== undefined && { least }),
    ...(most !== undefined && { most }),
    whole: kind === "count",
  });
}

function checkNames(members: readonly Member[]): void {
  const first = new Map<string, Member>();
  for (const part of members) {
    const other = first.get(part.name);
    if (!other) {
      first.set(part.name, part);
      continue;
    }
    throw designError({
      id: "two-parts-of-one-name",
      text:
        part instanceof Prop === other instanceof Prop
          ? `two ${part instanceof Prop ? "props" : "parts"} are named "${part.name}"`
          : `a part and a prop are both named "${part.name}"`,
      suggestion: "number them in their names, or put them under group(name, parts)",
      part: part.name,
      place: part.origin,
      notes: other.origin ? [{ text: "the first of them", ...other.origin }] : [],
    });
  }
  for (const part of members) {
    const others = part instanceof Cut ? part.from : part instanceof Tube ? part.resting?.over : undefined;
    const missing = others?.find((name) => !first.has(name) || first.get(name) instanceof Prop);
    if (missing === undefined) continue;
    const [id, said] =
      part instanceof Cut ? ["cut-from-nothing", "is cut from"] : ["rests-on-nothing", "rests over"];
    throw designError({
      id,
      text: `"${part.name}" ${said} "${missing}", which make does not give back`,
      suggestion: "give that part back too, under the name that it had then",
      part: part.name,
      place: part.origin,
    });
  }
}

/** A part stripped to plain data. */
function toData(part: Tube | Solid | Cut): Part {
  const { name, origin } = part;
  const base = { name, ...(origin && { origin }) };
  if (part instanceof Tube) {
    const { shape, resting } = part;
    return { kind: "tube", ...base, shape, ...(resting && { resting }) };
  }
  if (part instanceof Cut) {
    return { kind: "cut", ...base, body: part.body, ...(part.from && { from: part.from }) };
  }
  return { kind: "solid", ...base, mesh: part.mesh };
}

function propData({ name, origin, at, neck, thickness, foot }: Prop): PropData {
  return {
    name,
    ...(origin && { origin }),
    at,
    ...(neck !== undefined && { neck }),
    ...(thickness !== undefined && { thickness }),
    ...(foot !== undefined && { foot }),
  };
}
