import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { FromPreview, ToPreview } from "../../../src/preview/protocol";
import { previewCommands } from "../../../src/preview/protocol";
import { readFromPreview, readToPreview } from "../../../src/preview/protocolChecks";
import { design, draft, loose, mesh, solid, state, thrown } from "./rig";

const plate: ToPreview = {
  kind: "plate",
  version: 1,
  plate: {
    printer: "Harbour desktop",
    outline: { shape: "rectangular", width: 250, depth: 210 },
    height: 210,
    fits: true,
    summary: "as designed",
    toHead: [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1],
  },
};
const png = new Uint8Array([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0]).buffer;
const place = { file: "/stage/coral.headpiece.ts", line: 12, column: 18 };

const toPreview: ToPreview[] = [
  design(1),
  design(1, { uri: undefined }),
  draft(1),
  solid(1),
  solid(1, 0),
  state(1, "building", { stage: "uniting", share: 0.5, messages: [loose, thrown] }),
  { kind: "head", version: 2, mesh: mesh(3) },
  plate,
  { ...plate, plate: { ...plate.plate, outline: { shape: "round", diameter: 180 } } },
  { kind: "cursor", part: -1 },
  { kind: "sheet", version: 1, svg: "<svg/>" },
  { kind: "notice", title: "Restricted Mode", text: "", action: { label: "Manage", command: "manageTrust" } },
];
const fromPreview: FromPreview[] = [
  { kind: "ready", webgl: true },
  ...previewCommands.map((command) => ({ kind: "command", command }) as const),
  { kind: "goTo", place },
  { kind: "setValues", values: { branches: 12, mood: "storm", veil: false } },
  { kind: "writeValues" },
  { kind: "resetValues" },
  { kind: "picture", png },
  { kind: "drawn", version: 3, what: "solid", milliseconds: 41.5 },
  { kind: "fault", text: "the graphics were lost" },
];

describe("whole messages are let through as they are", () => {
  test.each(toPreview)("to the preview: $kind %#", (message) => {
    expect(readToPreview(message)).toBe(message);
    expect(readFromPreview(message)).toBeUndefined();
  });
  test.each(fromPreview)("from the preview: $kind %#", (message) => {
    expect(readFromPreview(message)).toBe(message);
    expect(readToPreview(message)).toBeUndefined();
  });
  test("also as a copy that came through a wire", () => {
    for (const message of toPreview) expect(readToPreview(structuredClone(message))).toEqual(message);
  });
});

const bytes = (count: number) => new ArrayBuffer(count);
const declared = (more: object) => ({ ...design(1), parameters: [{ ...design(1).parameters[0], ...more }] });

describe("what is wrong anywhere is refused", () => {
  test.each<[string, unknown]>([
    ["nothing", undefined],
    ["a text", "state"],
    ["a list", [state(1, "ready")]],
    ["no kind", { version: 1 }],
    ["an unknown kind", { kind: "shutdown" }],
    ["a kind of every object", { kind: "toString" }],
    ["a kind that only a prototype has", Object.create({ kind: "cursor", part: 1 })],
    ["no version", { ...state(1, "ready"), version: undefined }],
    ["half a version", state(1.5, "ready")],
    ["a version below nought", state(-1, "ready")],
    ["an unknown phase", { ...state(1, "ready"), phase: "done" }],
    ["a share above one", state(1, "building", { share: 1.2 })],
    ["a share that is no number", state(1, "building", { share: Number.NaN })],
    ["a message with no text", { ...state(1, "failed"), messages: [{ ...thrown, text: undefined }] }],
    ["a message at line nought", state(1, "failed", { messages: [{ ...thrown, line: 0 }] })],
    [
      "a message with an unknown severity",
      { ...state(1, "failed"), messages: [{ ...thrown, severity: "fatal" }] },
    ],
    ["a note without a text", { ...state(1, "failed"), messages: [{ ...thrown, notes: [{ line: 3 }] }] }],
    [
      "positions that are no vertices",
      { kind: "head", version: 1, mesh: { ...mesh(), positions: bytes(40) } },
    ],
    [
      "triangles that are no triangles",
      { kind: "head", version: 1, mesh: { ...mesh(), triangles: bytes(8) } },
    ],
    [
      "an array for a buffer",
      { kind: "head", version: 1, mesh: { ...mesh(), positions: new Float32Array(9) } },
    ],
    ["a solid of other bytes", { ...solid(1, 2), packed: new Uint8Array(90) }],
    ["a solid that was cut off", { ...solid(1, 2), packed: solid(1, 2).packed.subarray(0, -1) }],
    ["a solid in a list", { ...solid(1, 2), packed: [...solid(1, 2).packed] }],
    ["a draft without a key", { ...draft(1), parts: [{ part: 0, mesh: mesh() }] }],
    ["a draft of part −1", { ...draft(1), parts: [{ part: -1, key: "a" }] }],
    ["a cursor in part −2", { kind: "cursor", part: -2 }],
    ["values that are lists", { ...design(1), values: { branches: [9] } }],
    ["values that are not finite", { ...design(1), values: { branches: Number.POSITIVE_INFINITY } }],
    ["a parameter of an unknown kind", declared({ kind: "colour" })],
    ["ends the wrong way round", declared({ least: 9, most: 3 })],
    ["a count whose default is a text", declared({ default: "9" })],
    ["a choice without its default", declared({ kind: "choice", default: "gale", choices: ["calm"] })],
    ["a toggle whose default is a number", declared({ kind: "toggle", default: 1 })],
    ["a radius of three numbers", { ...design(1), parts: [{ name: "a", kind: "tube", radius: [1, 2, 3] }] }],
    ["a fact of an unknown tone", { ...design(1), facts: [{ label: "Mass", value: "84 g", tone: "great" }] }],
    ["a plate of fifteen numbers", { ...plate, plate: { ...plate.plate, toHead: Array(15).fill(0) } }],
    ["a plate of no known shape", { ...plate, plate: { ...plate.plate, outline: { shape: "oval" } } }],
    [
      "a notice that asks for an unknown command",
      { kind: "notice", title: "", text: "", action: { label: "Go", command: "format" } },
    ],
  ])("to the preview: %s", (_, message) => {
    expect(readToPreview(message)).toBeUndefined();
  });

  test.each<[string, unknown]>([
    ["ready, perhaps", { kind: "ready", webgl: "yes" }],
    ["an unknown command", { kind: "command", command: "workbench.action.quit" }],
    ["a command of every object", { kind: "command", command: "constructor" }],
    ["a place without a file", { kind: "goTo", place: { ...place, file: "" } }],
    ["a place at column nought", { kind: "goTo", place: { ...place, column: 0 } }],
    ["a place at half a line", { kind: "goTo", place: { ...place, line: 1.5 } }],
    ["values that are not finite", { kind: "setValues", values: { reach: Number.NaN } }],
    ["a list of values", { kind: "setValues", values: [1] }],
    ["an object for a value", { kind: "setValues", values: { reach: {} } }],
    [
      "a picture that is no PNG",
      { kind: "picture", png: new TextEncoder().encode("<svg xmlns=''/>").buffer },
    ],
    ["a picture of nothing", { kind: "picture", png: bytes(0) }],
    ["a time below nought", { kind: "drawn", version: 1, what: "draft", milliseconds: -1 }],
    ["a fault that is no text", { kind: "fault", text: new Error("x") }],
  ])("from the preview: %s", (_, message) => {
    expect(readFromPreview(message)).toBeUndefined();
  });

  test("any field of any message that becomes an odd thing, unless it may be absent", () => {
    const odd = fc.constantFrom<unknown>(Symbol("odd"), () => 0, 10n, new Map(), Number.NaN);
    const check = (messages: readonly object[], read: (value: unknown) => unknown) =>
      fc.assert(
        fc.property(fc.constantFrom(...messages), fc.nat(), odd, (message, at, value) => {
          const names = Object.keys(message).filter(
            (name) => (message as Record<string, unknown>)[name] !== undefined,
          );
          const broken = { ...message, [names[at % names.length]]: value };
          expect(read(broken)).toBeUndefined();
        }),
        { numRuns: 400 },
      );
    check(toPreview, readToPreview);
    check(fromPreview, readFromPreview);
  });

  test("random values never throw", () => {
    fc.assert(
      fc.property(
        fc.anything(),
        fc.constantFrom(...[...toPreview, ...fromPreview].map(({ kind }) => kind)),
        (value, kind) => {
          for (const read of [readToPreview, readFromPreview]) {
            read(value);
            read({
              kind,
              version: 1,
              mesh: value,
              parts: value,
              values: value,
              messages: value,
              plate: value,
            });
          }
        },
      ),
    );
  });

  test("of buffers only those that hold whole vertices and whole triangles", () => {
    fc.assert(
      fc.property(fc.nat(200), fc.nat(200), (positions, triangles) => {
        const message = {
          kind: "head",
          version: 1,
          mesh: { positions: bytes(positions), triangles: bytes(triangles) },
        };
        const isWhole = positions % 12 === 0 && triangles % 12 === 0;
        expect(readToPreview(message) !== undefined).toBe(isWhole);
      }),
    );
  });
});
