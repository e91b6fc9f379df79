import { compileFunction } from "node:vm";
import jscad from "@jscad/modeling";
import { describe, expect, test } from "vitest";
import { providedModules } from "../../src/build/providedModules";
import { pureWorld } from "../../src/build/pureWorld";
import { MessageError } from "../../src/message";

/** Runs a text with the names of a design's world. */
function run(text: string, printed: string[] = []): unknown {
  const require = providedModules({ tube: () => "a tube" }, jscad);
  const world = pureWorld(require, { add: (line) => printed.push(line) });
  return compileFunction(text, Object.keys(world))(...Object.values(world));
}

function messageOf(text: string) {
  let thrown: unknown;
  try {
    run(text);
  } catch (error) {
    thrown = error;
  }
  expect(thrown).toBeInstanceOf(MessageError);
  return (thrown as MessageError).messages[0];
}

test.each([
  ["Date.now()", /no clock: Date.now\(\)/],
  ["new Date()", /no clock: new Date\(\)/],
  ["Date()", /no clock: Date\(\)/],
  ["performance.now()", /no clock: performance/],
  ["console.time('a')", /no clock: console.time/],
  ["Math.random()", /Math.random\(\) would differ from build to build/],
  ["globalThis.Math.random()", /would differ/],
  ["crypto.randomUUID()", /crypto would differ/],
  ["setTimeout(() => {}, 1)", /cannot wait for a timer/],
  ["setInterval(() => {}, 1)", /cannot wait/],
  ["setImmediate(() => {})", /cannot wait/],
  ["queueMicrotask(() => {})", /cannot wait/],
  ["fetch('x')", /cannot fetch/],
  ["process.exit(1)", /cannot end the process/],
  ["globalThis.process.exit(1)", /cannot end the process/],
  ["process.kill(1)", /cannot end the process/],
  ["process.cwd()", /cannot use process.cwd/],
  ["process.title = 'x'", /cannot use process/],
  ["Buffer.from('x')", /cannot use Buffer/],
  ["new WebSocket('x')", /cannot use WebSocket|is not defined/],
  ["globalThis.count = 3", /cannot set count for everyone/],
  ["require('node:fs')", /"node:fs" cannot be imported/],
  ["require('@jscad/modeling/src/primitive')", /has no part/],
  ["require('anadem').tubes", /anadem does not export "tubes"/],
])("%s is refused with a reason", (text, expected) => {
  if (text.startsWith("new WebSocket") && !("WebSocket" in globalThis)) return;
  const message = messageOf(`return ${text}`);
  expect(message.severity).toBe("error");
  expect(message.text).toMatch(expected);
});

test.each([
  ["new Date(0).toISOString()", "1970-01-01T00:00:00.000Z"],
  ["new Date(2031, 4, 1) instanceof Date", true],
  ["Date.UTC(1970, 0, 1, 0, 0, 1)", 1000],
  ["Math.hypot(3, 4) + Math.PI - Math.PI", 5],
  ["[1, 2] instanceof Array && Array.isArray([1])", true],
  ["typeof process.env.HOME", "undefined"],
  ["typeof window", "undefined"],
  ["globalThis.Array === Array && 'Map' in globalThis", true],
  ["structuredClone({ a: [1] }).a[0]", 1],
  ["require('anadem').tube()", "a tube"],
])("%s works", (text, expected) => {
  expect(run(`return ${text}`)).toBe(expected);
});

test("prints through the log", () => {
  const printed: string[] = [];
  run(
    "console.log('a', 1, { b: [2] }); console.warn('%d mm', 3); console.assert(false); console.group('x');",
    printed,
  );
  expect(printed).toEqual(["a 1 { b: [ 2 ] }", "3 mm"]);
});

describe("parts of @jscad/modeling by their file", () => {
  test.each([
    ["@jscad/modeling", jscad],
    ["@jscad/modeling/src/primitives", jscad.primitives],
    ["@jscad/modeling/src/primitives/sphere", jscad.primitives.sphere],
    ["@jscad/modeling/src/operations/booleans", jscad.booleans],
    ["@jscad/modeling/src/operations/booleans/union.js", jscad.booleans.union],
    ["@jscad/modeling/src/geometries/geom3/index.js", jscad.geometries.geom3],
    ["@jscad/modeling/src/maths/vec3/add", jscad.maths.vec3.add],
  ])("%s", (name, expected) => {
    const given = run(`return require(${JSON.stringify(name)})`);
    if (name === "@jscad/modeling") expect(Object.keys(given as object)).toEqual(Object.keys(expected));
    else expect(given).toBe(expected);
  });
});
