import type { Place } from "../message";
import type { DesignFrame, ScriptFrame, SourcePlaces } from "./sourcePlaces";

/** The name under which the design's script runs, by which its frames are known in a stack. */
export const scriptName = "anadem:design";

/** Deep enough to reach the design through a library's own calls; V8's default of 10 is not. */
const framesKept = 50;
/** The design mostly lies within so many frames of the language's call; the cost grows with the number. */
const framesToCaller = 8;

/**
 * Reads the design's frames out of errors. While installed it decides how every error of the process shows
 * its stack, so a design that prints one sees its own lines too.
 */
export class DesignStack {
  readonly #places: SourcePlaces;
  readonly #ofError = new WeakMap<object, DesignFrame[]>();

  constructor(places: SourcePlaces) {
    this.#places = places;
  }

  install(): void {
    Error.stackTraceLimit = framesKept;
    Error.prepareStackTrace = (error, sites) => {
      const frames = this.#places.frames(scriptFrames(sites));
      if (typeof error === "object" && error !== null) this.#ofError.set(error, frames);
      const lines = frames.map(
        ({ functionName, file, line, column }) =>
          `    at ${functionName ? `${functionName} (${file}:${line}:${column})` : `${file}:${line}:${column}`}`,
      );
      return [errorLine(error), ...lines].join("\n");
    };
  }

  /** The frames of the maker's files in an error's stack, innermost first; none for what is not an error. */
  framesOf(error: unknown): DesignFrame[] {
    if (!(error instanceof Error)) return [];
    // A stack is put together when it is first asked for.
    void error.stack;
    return this.#ofError.get(error) ?? [];
  }

  /** The innermost place in the maker's files that is running now. Takes a few microseconds. */
  readonly currentPlace = (): Place | undefined => {
    const { prepareStackTrace, stackTraceLimit } = Error;
    Error.prepareStackTrace = this.#innermost;
    const place = this.#look(framesToCaller) ?? this.#look(framesKept);
    Error.prepareStackTrace = prepareStackTrace;
    Error.stackTraceLimit = stackTraceLimit;
    return place && { file: place.file, line: place.line, column: place.column };
  };

  #look(frames: number): Place | undefined {
    const holder: { stack?: unknown } = {};
    Error.stackTraceLimit = frames;
    Error.captureStackTrace(holder, this.currentPlace);
    return holder.stack as Place | undefined;
  }

  /** Gives a place where a stack's text is expected, so that no text need be made. */
  readonly #innermost = (_: Error, sites: readonly NodeJS.CallSite[]): Place | undefined => {
    for (const site of sites) {
      if (site.getFileName() !== scriptName) continue;
      const place = this.#places.place(site.getLineNumber() ?? 1, site.getColumnNumber() ?? 1);
      if (place) return place;
    }
    return undefined;
  };
}

function scriptFrames(sites: readonly NodeJS.CallSite[]): ScriptFrame[] {
  const frames: ScriptFrame[] = [];
  for (const site of sites) {
    if (site.getFileName() !== scriptName) continue;
    const functionName = site.getFunctionName() ?? undefined;
    frames.push({
      line: site.getLineNumber() ?? 1,
      column: site.getColumnNumber() ?? 1,
      ...(functionName && { functionName }),
    });
  }
  return frames;
}

function errorLine(error: unknown): string {
  try {
    return String(error);
  } catch {
    return "an error";
  }
}
