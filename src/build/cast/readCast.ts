import { readdirSync } from "node:fs";
import { basename, dirname, resolve } from "node:path";
import type { Message, Place } from "../../message";
import { nearestName } from "../../nearestName";
import type { CastFile } from "../castFile";
import { type DataKind, readDataFile } from "../dataFile";
import type { DataReading } from "../dataReading";
import { parseJsonText, placeOfField, TextPlaces } from "../jsonText";
import { isSource, type OpenTexts, sourceText } from "../sourceTexts";
import type { Cast, CastPrinterAtHand, CastStock, CastWearer } from "./cast";

/** What a cast reads besides its own file; what it depends on is known also where it cannot be used. */
export interface CastReading extends DataReading<Cast> {
  readonly inputs: readonly string[];
}

/**
 * Reads the file of a cast and the wearers, printers, materials and print settings that it names; designs have to be
 * there. What is wrong comes back as messages at its line, that of a file that is not there with the nearest name.
 */
export function readCast(file: string, texts?: OpenTexts): CastReading {
  const { value, messages } = readDataFile(file, "cast", undefined, texts);
  if (!value) return { messages, inputs: [file] };
  return new NamedFiles(file, value, texts).read(messages);
}

class NamedFiles {
  readonly #file: string;
  readonly #cast: CastFile;
  readonly #texts: OpenTexts | undefined;
  readonly #placeOf: (field: string) => Place;
  readonly #messages: Message[] = [];
  readonly #inputs: Set<string>;

  constructor(file: string, cast: CastFile, texts?: OpenTexts) {
    this.#file = file;
    this.#cast = cast;
    this.#texts = texts;
    this.#inputs = new Set([file]);
    this.#placeOf = placesOf(file, texts);
  }

  read(before: readonly Message[]): CastReading {
    const { pieces, printers, spools, understudies } = this.#cast;
    const wearers = new Map<string, CastWearer>();
    const wearer = (named: string, field: string) => {
      const file = this.#resolve(named);
      const read = this.#read(file, "wearer", field);
      if (read && !wearers.has(file))
        wearers.set(file, { file, name: read.name, girth: read.measurements.girth });
      return file;
    };
    const atHand = distinct(
      printers.flatMap((one, i): CastPrinterAtHand[] => {
        const file = this.#resolve(one.file);
        const printer = this.#read(file, "printer", `printers.${i}.file`);
        return printer ? [{ ...one, file, printer, label: one.name ?? printer.name }] : [];
      }),
    );
    const known = new Set(printers.map(({ file }) => this.#resolve(file)));
    const resolved = pieces.map((piece, i) => {
      const at = `pieces.${i}`;
      const { printer, print, material } = piece;
      if (printer !== undefined && !known.has(this.#resolve(printer)))
        this.#notAtHand(printer, `${at}.printer`);
      if (print !== undefined) this.#read(this.#resolve(print), "print", `${at}.print`);
      if (material !== undefined) this.#read(this.#resolve(material), "material", `${at}.material`);
      return {
        ...piece,
        design: this.#design(piece.design, `${at}.design`),
        wearer: wearer(piece.wearer, `${at}.wearer`),
        ...(printer !== undefined && { printer: this.#resolve(printer) }),
        ...(print !== undefined && { print: this.#resolve(print) }),
        ...(material !== undefined && { material: this.#resolve(material) }),
      };
    });
    const stock = spools.flatMap(({ material: named, grams, count }, i): CastStock[] => {
      const file = this.#resolve(named);
      const material = this.#read(file, "material", `spools.${i}.material`);
      return material ? Array.from({ length: count }, () => ({ file, material, grams })) : [];
    });
    for (const [i, named] of understudies.entries()) wearer(named, `understudies.${i}`);
    const messages = [...before, ...unique(this.#messages)];
    const inputs = [...this.#inputs];
    if (messages.some(({ severity }) => severity === "error")) return { messages, inputs };
    const { name, opens, readyBy, starts, attended } = this.#cast;
    const value: Cast = {
      file: this.#file,
      name,
      opens,
      readyBy,
      ...(starts !== undefined && { starts }),
      attended,
      pieces: resolved,
      printers: atHand,
      stock,
      wearers: [...wearers.values()],
      inputs,
      placeOf: this.#placeOf,
    };
    return { value, messages, inputs };
  }

  #resolve(named: string): string {
    return resolve(dirname(this.#file), named);
  }

  #read<K extends DataKind>(file: string, kind: K, field: string) {
    this.#inputs.add(file);
    const { value, messages } = readDataFile(file, kind, this.#placeOf(field), this.#texts);
    this.#messages.push(...messages);
    return value;
  }

  #design(named: string, field: string): string {
    const file = this.#resolve(named);
    this.#inputs.add(file);
    if (isSource(file, this.#texts)) return file;
    const suggestion = nearestDesign(file);
    this.#messages.push({
      id: "file-not-found",
      severity: "error",
      text: `the design ${file} does not exist`,
      ...(suggestion !== undefined && { suggestion }),
      ...this.#placeOf(field),
    });
    return file;
  }

  #notAtHand(named: string, field: string): void {
    const atHand = this.#cast.printers.map(({ file }) => file);
    const near = nearestName(named, atHand);
    this.#messages.push({
      id: "printer-not-at-hand",
      severity: "error",
      text: `"${named}" is none of the printers of this cast`,
      suggestion: near
        ? `did you mean "${near}"?`
        : `name one of them (${atHand.join(", ")}), or add it to "printers"`,
      ...this.#placeOf(field),
    });
  }
}

/** Finds fields in the cast's text, which has been read before. */
function placesOf(file: string, texts?: OpenTexts): (field: string) => Place {
  const text = sourceText(file, texts).replace(/^\uFEFF/, "");
  const places = new TextPlaces(file, text);
  const { root } = parseJsonText(text, places);
  return (field) => (root ? placeOfField(root, field, false, places) : { file, line: 1, column: 1 });
}

const designEnding = ".headpiece.ts";

function nearestDesign(file: string): string | undefined {
  let names: string[];
  try {
    names = readdirSync(dirname(file))
      .filter((name) => name.endsWith(designEnding))
      .sort();
  } catch {
    return `there is no folder ${dirname(file)}`;
  }
  const stem = (name: string) => name.replace(/(?:\.headpiece)?\.ts$/, "");
  const near = nearestName(stem(basename(file)), names.map(stem));
  if (near !== undefined) return `did you mean "${near}${designEnding}"?`;
  return names.length > 0 ? `the folder has ${names.slice(0, 8).join(", ")}` : undefined;
}

/** Printers of one name are told apart by a number. */
function distinct(printers: readonly CastPrinterAtHand[]): CastPrinterAtHand[] {
  const seen = new Map<string, number>();
  return printers.map((printer) => {
    const times = (seen.get(printer.label) ?? 0) + 1;
    seen.set(printer.label, times);
    return times === 1 ? printer : { ...printer, label: `${printer.label} (${times})` };
  });
}

/** A file that is named twice says what is wrong with it once. */
function unique(messages: readonly Message[]): Message[] {
  const seen = new Set<string>();
  return messages.filter(({ id, file, line, column, text }) => {
    const key = JSON.stringify([id, file, line, column, text]);
    return !seen.has(key) && seen.add(key);
  });
}
