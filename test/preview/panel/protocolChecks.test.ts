import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { FromPreview, ToPreview, WearScene } from "../../../src/preview/protocol";
import { previewCommands } from "../../../src/preview/protocol";
import { readFromPreview, readToPreview } from "../../../src/preview/protocolChecks";
import {
  comparing,
  comparison,
  design,
  draft,
  field,
  layers,
  loose,
  mesh,
  plan,
  planMark,
  solid,
  state,
  thrown,
  wear,
  wearMark,
} from "./rig";

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

/** The way off in a message, with another motion. */
const hinge = (more: object) => ({
  motion: { kind: "hinge", origin: [0, -90, 0], axis: [1, 0, 0], degrees: 60, ...more },
});
const slide = (more: object) => ({
  motion: { kind: "slide", direction: [0, 0, 1], distance: 160, ...more },
});
/** A wear message with something else in its scene. */
const worn = (more: object) => ({ ...wear(1), scene: { ...wear(1).scene, ...more } });
const way = (more: object) => worn({ wayOff: { ...wear(1).scene.wayOff, ...more } });
const marked = (more: object) => worn({ marks: [{ ...wearMark(), ...more }] });

/** A plan with something else in its scene. */
const planned = (more: object) => ({ ...plan(1), scene: { ...plan(1).scene, ...more } });
const turned = (at: number, value: number) =>
  planned({ toHead: plan(1).scene.toHead.map((one, i) => (i === at ? value : one)) });
const layered = (more: object) => planned({ layers: { ...layers(), ...more } });
const oriented = (more: object) => planned({ orientations: [{ ...plan(1).scene.orientations[1], ...more }] });
/** A comparison with something else in its scene. */
const compared = (more: object) => ({ ...comparison(1), scene: { ...comparison(1).scene, ...more } });
const numbers = (...values: number[]) => Float64Array.from(values).buffer;

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
  wear(1),
  wear(1, { verdict: undefined, rows: [], marks: [], wayOff: undefined, contacts: undefined }),
  wear(1, { wayOff: { ...hinge({}), passes: true, words: "from behind" } as unknown as WearScene["wayOff"] }),
  field(1),
  field(1, []),
  plan(1),
  plan(1, { isWhole: false, rows: [], marks: [], orientations: [], layers: undefined }),
  plan(1, { outline: { shape: "round", diameter: 180 }, layers: layers(3, { spoolEnds: [0, 2] }) }),
  { kind: "planBody", version: 1, body: "supports", mesh: mesh(2) },
  { kind: "planBody", version: 1, body: "pieces" },
  comparison(1),
  comparison(1, { rows: [], parts: [], greatest: undefined }),
  comparing(1, { stage: "measuring", isOutdated: true, messages: [loose] }),
  { kind: "comparisonEnded" },
  { kind: "sheet", version: 1, svg: "<svg/>" },
  { kind: "notice", title: "Restricted Mode", text: "", action: { label: "Manage", command: "manageTrust" } },
];
const fromPreview: FromPreview[] = [
  { kind: "ready", webgl: true },
  ...previewCommands.map((command) => ({ kind: "command", command }) as const),
  { kind: "goTo", place },
  { kind: "setValues", values: { branches: 12, mood: "storm", veil: false } },
  { kind: "useOrientation", orientation: "as designed" },
  { kind: "useOrientation", orientation: { tilt: 90, towards: -90, turn: 12.5 } },
  { kind: "writeValues" },
  { kind: "resetValues" },
  { kind: "picture", png },
  { kind: "drawn", version: 3, what: "solid", milliseconds: 41.5 },
  { kind: "compared", revision: "0a1b2c3d" },
  { kind: "compared" },
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
    ["a comparison without its surfaces", { ...comparison(1), removed: undefined }],
    ["a comparison with half a triangle", { ...comparison(1), old: { ...mesh(), triangles: bytes(8) } }],
    ["a comparison with no commit", compared({ revision: { asked: "HEAD", hash: "", subject: "" } })],
    ["a greatest distance nowhere", compared({ greatest: { text: "2 mm", at: [1, 2] } })],
    ["a greatest distance beyond all", compared({ greatest: { text: "2 mm", at: [0, 0, 1e9] } })],
    [
      "a part that became something else",
      compared({ parts: [{ name: "ring", change: "moved", what: "", part: 0 }] }),
    ],
    ["a part below none", compared({ parts: [{ name: "ring", change: "added", what: "", part: -2 }] })],
    ["a row without what was before", compared({ rows: [{ label: "Mass", now: "3 g", change: "" }] })],
    ["a comparison that is half outdated", { ...comparing(1), isOutdated: 0.5 }],
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
    ["a wear without a scene", { kind: "wear", version: 1 }],
    ["a wear without rows", worn({ rows: undefined })],
    ["a wear without marks", worn({ marks: undefined })],
    ["a verdict of an unknown word", worn({ verdict: { word: "perhaps", reasons: [] } })],
    ["a verdict without reasons", worn({ verdict: { word: "wear" } })],
    [
      "a reason that is as long as a book",
      worn({ verdict: { word: "wear", reasons: ["a".repeat(99_999)] } }),
    ],
    ["a row of an unknown tone", worn({ rows: [{ check: "gap", label: "", value: "", tone: "great" }] })],
    ["a row without a check", worn({ rows: [{ label: "", value: "", tone: "good" }] })],
    ["rows without end", worn({ rows: Array(5000).fill(wear(1).scene.rows[0]) })],
    ["marks without end", worn({ marks: Array(50_000).fill(wearMark()) })],
    ["a mark nowhere", marked({ at: [0, Number.NaN, 0] })],
    ["a mark at infinity", marked({ at: [0, Number.POSITIVE_INFINITY, 0] })],
    ["a mark on another hill", marked({ at: [0, 1e9, 0] })],
    ["a mark in a plane", marked({ at: [0, 1] })],
    ["a mark at line nought", marked({ place: { ...place, line: 0 } })],
    ["a way of an unknown kind", way({ motion: { kind: "fly" } })],
    ["a way without a motion", way({ motion: undefined })],
    ["a way that perhaps passes", way({ passes: "yes" })],
    ["a slide nowhere", way(slide({ direction: [0, 0, 0] }))],
    ["a slide by a direction that is no unit", way(slide({ direction: [0, 0, 160] }))],
    ["a slide backwards", way(slide({ distance: -3 }))],
    ["a slide without end", way(slide({ distance: 1e12 }))],
    ["a hinge about nothing", way(hinge({ axis: [0, 0, 0] }))],
    ["a hinge that winds", way(hinge({ degrees: 9000 }))],
    ["a hinge by no number", way(hinge({ degrees: Number.NaN }))],
    ["a tightest place by no number", way({ tightest: { at: [0, 0, 0], tooSmall: Number.NaN } })],
    ["a contact that bears more than all", worn({ contacts: [{ at: [0, 0, 0], share: 1.2 }] })],
    ["a balance without a joint", worn({ balance: { centre: [0, 0, 0] } })],
    ["a plot that is no text", worn({ sightPlot: new Uint8Array(9) })],
    ["a plot without end", worn({ sightPlot: "a".repeat(5_000_000) })],
    ["a field of half a value", { ...field(1), values: bytes(7) }],
    ["a field in a list", { ...field(1), values: [1, 2] }],
    ["a field as an array", { ...field(1), values: new Int16Array(2) }],
    ["a field in another unit", { ...field(1), unit: "inch" }],
    ["a field without a title", { ...field(1), title: undefined }],
    ["a field that is too large for any piece", { ...field(1), values: bytes(2 * 9_000_000) }],
    ["a plan without a scene", { kind: "plan", version: 1 }],
    ["a plan that is perhaps whole", planned({ isWhole: "yes" })],
    ["a plan of a mirrored plate", turned(0, -1)],
    ["a plan of a stretched plate", turned(0, 1.1)],
    ["a plan of a leaning axis", turned(4, 0.2)],
    ["a plan of a plate in perspective", turned(3, 0.1)],
    ["a plan of a plate on another hill", turned(12, 1e6)],
    ["a plan of a plate nowhere", turned(13, Number.NaN)],
    ["an overhang of more than a ceiling", planned({ overhangAngle: 91 })],
    ["a plan without rows", planned({ rows: undefined })],
    ["a plan's row of an unknown tone", planned({ rows: [{ label: "", value: "", tone: "great" }] })],
    ["a plan's mark nowhere", planned({ marks: [planMark({ at: [0, Number.NaN, 0] })] })],
    ["a plan's mark at line nought", planned({ marks: [planMark({ place: { ...place, line: 0 } })] })],
    ["a way up without a name", oriented({ name: "" })],
    ["a way up that is unknown", oriented({ orientation: "upside down" })],
    ["a way up beyond upside down", oriented({ orientation: { tilt: 181, towards: 0, turn: 0 } })],
    ["a way up that is not told whole", oriented({ orientation: { tilt: 10, towards: 0 } })],
    ["a figure that is perhaps best", oriented({ figures: [{ label: "", value: "" }] })],
    ["a picture without end", oriented({ picture: "a".repeat(2_000_001) })],
    ["ways up without end", planned({ orientations: Array(51).fill(plan(1).scene.orientations[0]) })],
    ["no layer", layered({ count: 0, seconds: numbers(), metres: numbers() })],
    ["half a layer", layered({ count: 3.5 })],
    ["layers without a height", layered({ height: 0 })],
    ["times of other layers", layered({ seconds: numbers(1, 2, 3) })],
    ["times that run back", layered({ seconds: numbers(1, 3, 2, 4) })],
    ["times before the start", layered({ seconds: numbers(-1, 3, 5, 7) })],
    ["metres that are none", layered({ metres: numbers(1, 2, Number.NaN, 4) })],
    ["metres without end", layered({ metres: numbers(1, 2, 3, Number.POSITIVE_INFINITY) })],
    ["metres in a list", layered({ metres: [1, 2, 3, 4] })],
    ["a spool that ends over the piece", layered({ spoolEnds: [4] })],
    ["an unknown body on the plate", { kind: "planBody", version: 1, body: "brim", mesh: mesh() }],
    ["a body that is no mesh", { kind: "planBody", version: 1, body: "props", mesh: [] }],
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
    ["no way up", { kind: "useOrientation" }],
    ["a way up that is searched", { kind: "useOrientation", orientation: "best" }],
    ["a tilt below nought", { kind: "useOrientation", orientation: { tilt: -1, towards: 0, turn: 0 } }],
    ["a turn that winds", { kind: "useOrientation", orientation: { tilt: 1, towards: 0, turn: 900 } }],
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
              scene: value,
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
