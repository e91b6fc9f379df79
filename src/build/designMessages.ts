import { type Message, MessageError, type Place } from "../message";
import type { DesignStack } from "./designStack";
import { type DesignFrame, withFrames } from "./sourcePlaces";

const longestText = 2_000;

/** Turns whatever a design threw into messages at its lines. */
export function messagesOfThrown(thrown: unknown, stack: DesignStack, fallback: Place): Message[] {
  const frames = stack.framesOf(thrown);
  return ownMessages(thrown).map((message) => placed(message, frames, fallback));
}

/** What a promise was rejected with that nobody waited for. */
export function messagesOfRejection(reason: unknown, stack: DesignStack, fallback: Place): Message[] {
  return messagesOfThrown(reason, stack, fallback).map((message) => ({
    ...message,
    id: message.id === "design-threw" ? "rejected-promise" : message.id,
    text: `a promise was rejected: ${message.text}`,
    suggestion: message.suggestion ?? "make returns its parts at once: no async, no await, no promises",
  }));
}

function placed(message: Message, frames: readonly DesignFrame[], fallback: Place): Message {
  const withPlace = withFrames(message, frames);
  return withPlace.file === undefined ? { ...withPlace, ...fallback } : withPlace;
}

function ownMessages(thrown: unknown): readonly Message[] {
  if (thrown instanceof MessageError && thrown.messages.length > 0) return thrown.messages;
  return [{ severity: "error", ...describe(thrown) }];
}

function describe(thrown: unknown): Pick<Message, "id" | "text" | "suggestion"> {
  if (!(thrown instanceof Error)) {
    return {
      id: "design-threw",
      text: `the design threw ${shown(thrown)}, which is not an Error`,
      suggestion: `write throw new Error("what is wrong"), so that its line is known`,
    };
  }
  if (thrown instanceof RangeError && /call stack/.test(thrown.message)) {
    return {
      id: "deep-recursion",
      text: "functions call each other too deep: the call stack is full",
      suggestion: "look for a function that calls itself without an end",
    };
  }
  return { id: "design-threw", text: textOf(thrown) };
}

function textOf(error: Error): string {
  const text = (error.message || error.name)
    // Compiled calls show as "(0 , module.name)"; the maker wrote only the name.
    .replace(/\(0 ?, ?(?:\w+\.)?(\w+)\)/g, "$1")
    .replace(/\bimport_\w+?\.(?:default\.)?/g, "");
  if (text.length > longestText) return `${text.slice(0, longestText)}…`;
  return text || "an error without a text";
}

function shown(value: unknown): string {
  if (typeof value === "string")
    return JSON.stringify(value.length > 200 ? `${value.slice(0, 200)}…` : value);
  if (typeof value === "function") return "a function";
  if (typeof value !== "object" || value === null) return String(value);
  return Array.isArray(value) ? `a list of ${value.length}` : "an object";
}
