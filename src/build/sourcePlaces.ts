import { originalPositionFor, TraceMap } from "@jridgewell/trace-mapping";
import type { Message, Place } from "../message";

/** A frame of the design's script as the JavaScript engine tells it: lines and columns count from 1. */
export interface ScriptFrame {
  readonly line: number;
  readonly column: number;
  readonly functionName?: string;
}

/** A frame in a file that the maker wrote. */
export interface DesignFrame extends Place {
  readonly functionName?: string;
}

/** Finds the maker's own lines behind the lines of the bundled script. */
export class SourcePlaces {
  readonly #json: string;
  readonly #known = new Map<number, Place | null>();
  #map: TraceMap | undefined;

  /** @param sourceMap version 3, as JSON, with absolute sources */
  constructor(sourceMap: string) {
    this.#json = sourceMap;
  }

  /** The place in the maker's file, or undefined for what the bundler itself wrote. */
  place(line: number, column: number): Place | undefined {
    // A line holds fewer than 2^20 columns in any script that a person's files make.
    const key = line * 1_048_576 + column;
    let place = this.#known.get(key);
    if (place === undefined) {
      place = this.#trace(line, column);
      this.#known.set(key, place);
    }
    return place ?? undefined;
  }

  /** The frames that lie in the maker's files, innermost first. */
  frames(frames: readonly ScriptFrame[]): DesignFrame[] {
    const found: DesignFrame[] = [];
    for (const { line, column, functionName } of frames) {
      const place = this.place(line, column);
      if (place) found.push(functionName ? { ...place, functionName } : place);
    }
    return found;
  }

  #trace(line: number, column: number): Place | null {
    this.#map ??= new TraceMap(this.#json);
    const original = originalPositionFor(this.#map, { line, column: column - 1 });
    if (original.source === null) return null;
    return { file: original.source, line: original.line, column: original.column + 1 };
  }
}

/** Outer frames named in a message's notes; more would only repeat a recursion. */
const outerFramesTold = 8;

/**
 * Gives a message the innermost of the frames as its place where it has none, and the outer ones as notes.
 */
export function withFrames(message: Message, frames: readonly DesignFrame[]): Message {
  const [innermost, ...outer] = frames;
  if (!innermost) return message;
  const placed: Message =
    message.file === undefined
      ? { ...message, file: innermost.file, line: innermost.line, column: innermost.column }
      : message;
  const isInnermost = placed.file === innermost.file && placed.line === innermost.line;
  const called = isInnermost ? outer : frames;
  const notes = distinct(called, placed).slice(0, outerFramesTold).map(noteOf);
  return notes.length === 0 ? placed : { ...placed, notes: [...(placed.notes ?? []), ...notes] };
}

/** Frames without those that name the same place as one before. */
function distinct(frames: readonly DesignFrame[], message: Message): DesignFrame[] {
  const seen = new Set([`${message.file}:${message.line}:${message.column}`]);
  return frames.filter(({ file, line, column }) => {
    const place = `${file}:${line}:${column}`;
    const isNew = !seen.has(place);
    seen.add(place);
    return isNew;
  });
}

function noteOf({ file, line, column, functionName }: DesignFrame) {
  return { text: functionName ? `called in ${functionName}` : "called here", file, line, column };
}
