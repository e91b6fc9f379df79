import { afterEach, expect, test } from "vitest";
import { builtInState } from "../../src/build/cleanWorld";

const names = ["tideLeft", Symbol("loaded late")] as const;
const prototype = Array.prototype as unknown as Record<PropertyKey, unknown>;
const everybodys = globalThis as unknown as Record<PropertyKey, unknown>;

afterEach(() => {
  for (const name of names) {
    delete prototype[name];
    delete everybodys[name];
  }
});

test("what a design leaves on a built-in object or as a global name is seen", () => {
  const isUntouched = builtInState();
  expect(isUntouched()).toBe(true);
  for (const name of names) {
    prototype[name] = 1;
    expect(isUntouched()).toBe(false);
    delete prototype[name];
  }
  everybodys.tideLeft = 1;
  expect(isUntouched()).toBe(false);
  delete everybodys.tideLeft;
  expect(isUntouched()).toBe(true);
});

test("what the runtime loads late, and keeps behind a symbol of the global object, is no trace of a design", () => {
  const isUntouched = builtInState();
  // Node 24 does so while a design runs.
  everybodys[names[1]] = {};
  expect(isUntouched()).toBe(true);
});
