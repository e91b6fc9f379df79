import { compileFunction } from "node:vm";
import type { DesignHeader, DesignResult } from "../design/part";
import { type Message, MessageError, type Place } from "../message";
import { builtInState } from "./cleanWorld";
import { messagesOfRejection, messagesOfThrown } from "./designMessages";
import { DesignStack, scriptName } from "./designStack";
import type { DesignInput, FromDesign, ToDesign } from "./evaluatorProtocol";
import { providedModules } from "./providedModules";
import { pureWorld } from "./pureWorld";
import { checkResultSize } from "./resultSize";
import { SourcePlaces } from "./sourcePlaces";
import { throwSite } from "./throwSite";
import type { Watchdog } from "./watchdog";

/** The language as the design's process needs it. */
export interface Language {
  /** What `import … from "anadem"` gives. */
  readonly exports: object;
  readonly readHeader: (defaultExport: unknown) => DesignHeader;
  readonly runDesign: (defaultExport: unknown, input: DesignInput) => DesignResult;
  readonly setPlaceResolver: (resolver: () => Place | undefined) => void;
}

type Load = Extract<ToDesign, { kind: "load" }>;

const notesKept = 100;
const noteLength = 2_000;

/**
 * The main thread of a process that runs one design after another, until the engine ends it. It lives no longer than
 * its channel to the engine.
 */
export function serveDesign(language: Language, jscad: object, watchdog: Watchdog): void {
  process.on("disconnect", () => process.exit(0));
  if (!process.connected) process.exit(0);
  // Ctrl-C in a terminal reaches all its processes; the engine decides what becomes of this one.
  process.on("SIGINT", () => {});
  let run: DesignRun | undefined;
  const isUntouched = builtInState();
  process.on("unhandledRejection", (reason) => run?.rejected(reason));
  process.on("uncaughtException", (error) => run?.threw(error));
  process.on("message", (order: ToDesign) => {
    if (order.kind === "load") {
      run = new DesignRun(order, language, jscad, watchdog, isUntouched);
      void run.load();
    } else {
      void run?.make(order.input);
    }
  });
  send({ kind: "ready" });
}

function send(message: FromDesign): void {
  process.send?.(message);
}

class DesignRun {
  readonly #order: Load;
  readonly #language: Language;
  readonly #jscad: object;
  readonly #watchdog: Watchdog;
  readonly #stack: DesignStack;
  readonly #places: SourcePlaces;
  readonly #isUntouched: () => boolean;
  readonly #rejections: unknown[] = [];
  readonly #notes: Message[] = [];
  #notesLeftOut = 0;
  #isRepeating = false;
  #isBroken = false;
  #design: unknown;
  #fallback: Place;

  constructor(
    order: Load,
    language: Language,
    jscad: object,
    watchdog: Watchdog,
    isUntouched: () => boolean,
  ) {
    this.#isUntouched = isUntouched;
    this.#order = order;
    this.#language = language;
    this.#jscad = jscad;
    this.#watchdog = watchdog;
    this.#places = new SourcePlaces(order.sourceMap);
    this.#stack = new DesignStack(this.#places);
    this.#fallback = order.defaultExport ?? { file: order.file, line: 1, column: 1 };
    watchdog.limit(order);
    language.setPlaceResolver(this.#stack.currentPlace);
    this.#stack.install();
  }

  /** A promise was rejected and nobody listens. */
  rejected(reason: unknown): void {
    this.#rejections.push(reason);
  }

  /** Something was thrown outside of any step. */
  threw(error: unknown): void {
    this.#isBroken = true;
    this.#fail(this.#messagesOf(error));
  }

  /** Runs the file itself and tells its header. */
  async load(): Promise<void> {
    const header = await this.#guarded(() => {
      this.#design = this.#runFile();
      this.#checkDefaultExport();
      return this.#readHeader();
    });
    if (header === undefined) return;
    this.#fallback = header.origin ?? this.#fallback;
    this.#send({ kind: "header", header });
  }

  /** Runs `make` and gives its parts. */
  async make(input: DesignInput): Promise<void> {
    const result = await this.#guarded(() => {
      const made = this.#language.runDesign(this.#design, input);
      checkResultSize(made);
      return made;
    });
    if (result !== undefined) {
      this.#send({ kind: "result", result, notes: this.#allNotes(), isClean: this.#isClean() });
    }
  }

  /** Runs a step of the design within its limits; what goes wrong is told to the engine. */
  async #guarded<T>(step: () => T): Promise<T | undefined> {
    const { setImmediate } = globalThis;
    this.#watchdog.start();
    let value: T | undefined;
    let messages: Message[] = [];
    try {
      value = step();
    } catch (thrown) {
      messages = this.#messagesOf(thrown, step);
    }
    // Rejections without a listener are told only after the promises have had their turn.
    await new Promise((resolve) => setImmediate(resolve));
    this.#watchdog.stop();
    for (const reason of this.#rejections) {
      messages.push(...messagesOfRejection(reason, this.#stack, this.#fallback));
    }
    if (messages.length === 0) return value;
    this.#fail(messages);
    return undefined;
  }

  #runFile(): unknown {
    const require = providedModules(this.#language.exports, this.#jscad);
    const world = pureWorld(require, { add: (text) => this.#note(text) });
    const module = { exports: {} as { default?: unknown } };
    const names = Object.keys(world);
    // A function inside: the design's own top-level names may be the same as the world's. No line is added.
    const body = `return (function (exports, module) {${this.#order.code}\n});`;
    const inWorld = compileFunction(body, names, { filename: scriptName });
    inWorld(...names.map((name) => world[name])).call(undefined, module.exports, module);
    return module.exports.default;
  }

  #checkDefaultExport(): void {
    const design = this.#design;
    const suggestion = 'write export default headpiece({ name: "…", make() { … } })';
    const isPromise = typeof (design as Promise<unknown> | undefined)?.then === "function";
    if (typeof design === "object" && design !== null && !isPromise && !Array.isArray(design)) return;
    const what =
      design === undefined
        ? "the file exports no headpiece as its default"
        : `the default export is ${isPromise ? "a promise" : kindOf(design)}, not a headpiece`;
    throw new MessageError([
      { id: "no-headpiece", severity: "error", text: what, suggestion, ...this.#fallback },
    ]);
  }

  #readHeader(): DesignHeader {
    try {
      return this.#language.readHeader(this.#design);
    } catch (error) {
      if (error instanceof MessageError || this.#stack.framesOf(error).length > 0) throw error;
      throw new MessageError([
        { id: "no-headpiece", severity: "error", text: (error as Error).message, ...this.#fallback },
      ]);
    }
  }

  #messagesOf(thrown: unknown, again?: () => unknown): Message[] {
    let fallback = this.#fallback;
    if (again && !(thrown instanceof Error)) {
      this.#isRepeating = true;
      const site = throwSite(again);
      fallback = (site && this.#places.place(site.line, site.column)) ?? fallback;
    }
    return messagesOfThrown(thrown, this.#stack, fallback);
  }

  #fail(messages: readonly Message[]): void {
    this.#watchdog.stop();
    send({ kind: "failed", messages, notes: this.#allNotes(), isClean: this.#isClean() });
  }

  #isClean(): boolean {
    const isRoomy = process.memoryUsage.rss() < this.#order.memoryLimitMB * 2 ** 19;
    return isRoomy && !this.#isBroken && this.#rejections.length === 0 && this.#isUntouched();
  }

  #send(message: FromDesign): void {
    try {
      send(message);
    } catch (error) {
      const text = `the design gave something that is not plain data: ${(error as Error).message}`;
      this.#fail([{ id: "not-plain-data", severity: "error", text, ...this.#fallback }]);
    }
  }

  #note(text: string): void {
    if (this.#isRepeating) return;
    if (this.#notes.length >= notesKept) {
      this.#notesLeftOut++;
      return;
    }
    const short = text.length > noteLength ? `${text.slice(0, noteLength)}…` : text;
    const place = this.#stack.currentPlace();
    this.#notes.push({ id: "design-log", severity: "note", text: short, ...place });
  }

  #allNotes(): Message[] {
    if (this.#notesLeftOut === 0) return this.#notes;
    const text = `${this.#notesLeftOut} further lines that the design printed are left out`;
    return [...this.#notes, { id: "design-log", severity: "note", text }];
  }
}

function kindOf(value: unknown): string {
  if (value === null) return "null";
  if (Array.isArray(value)) return "a list";
  return `a ${typeof value}`;
}
