import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { MessageError } from "../../src/message";
import { EvaluatorRig, input, designName as name, withMake } from "./evaluatorRig";

let rig: EvaluatorRig;
beforeAll(async () => {
  rig = await EvaluatorRig.create();
});
afterAll(() => rig.dispose());
beforeEach(() => rig.newFolder());
afterEach(() => rig.folder.remove());

describe("a good design", () => {
  test("gives header, then parts that remember their lines", async () => {
    let asked = "";
    const { header, result, messages } = await rig.run(
      {
        [name]: `import { headpiece, tube } from "anadem";
import { primitives } from "@jscad/modeling";
import sphere from "@jscad/modeling/src/primitives/sphere";
import { stem } from "./parts/stem";
import sizes from "./sizes.json";
export default headpiece({
  name: "Crown",
  make({ head, values }) {
    const same = sphere === primitives.sphere && head.points instanceof Float64Array;
    return [/*@*/tube(\`\${head.girth} \${values.reach} \${sizes.rise} \${same}\`, [[0, 0, 0], [0, 0, 1]]), stem()];
  },
});
`,
        "parts/stem.ts": `import { tube } from "anadem";
export const stem = () => /*@*/tube("stem", [[0, 0, 0], [1, 0, 0]]);
`,
        "sizes.json": `{ "rise": 12 }`,
      },
      {
        provideInput: async (told) => {
          asked = told.name;
          return input;
        },
      },
    );
    expect(messages).toEqual([]);
    expect(asked).toBe("Crown");
    expect(header?.origin?.line).toBe(6);
    expect(result?.parts.map(({ name, origin }) => ({ name, ...origin }))).toEqual([
      { name: "560 90 12 true", ...rig.folder.place(name) },
      { name: "stem", ...rig.folder.place("parts/stem.ts") },
    ]);
  });

  test("may use names of the world for its own", async () => {
    const { result } = await rig.run(`import { headpiece, tube } from "anadem";
const performance = 3, process = 4, global = 5, require = 6, crypto = 7, module = 8, exports = 9;
export default headpiece({
  name: String(performance + process + global + require + crypto + module + exports),
  make: () => [],
});
`);
    expect(result?.name).toBe("42");
  });

  test("passes typed arrays", async () => {
    const { result } = await rig.run(withMake(`return [solid("gem", 4)];`));
    const part = result?.parts[0];
    expect(part?.kind === "solid" && part.mesh.positions).toEqual(new Float32Array(12).fill(0.5));
  });

  test("prints notes, a bounded number", async () => {
    const { messages } = await rig.run(
      withMake(`for (let i = 0; i < 150; i++) /*@*/console.log("line", i, { i });\nreturn [];`),
    );
    expect(messages).toHaveLength(101);
    // The call is to `log`, behind `console.`
    const place = rig.folder.place(name);
    expect(messages[7]).toEqual({
      id: "design-log",
      severity: "note",
      text: "line 7 { i: 7 }",
      ...place,
      column: place.column + "console.".length,
    });
    expect(messages[100].text).toBe("50 further lines that the design printed are left out");
  });

  test("twenty in a row start clean and leave one waiting process", async () => {
    const design = withMake(
      `globalThis.Object.seen = (Object.seen ?? 0) + 1;\nreturn [tube(String(Object.seen), [[0, 0, 0], [1, 1, 1]])];`,
    );
    for (let i = 0; i < 20; i++) {
      const { result } = await rig.run(design);
      expect(result?.parts[0].name).toBe("1");
    }
    await rig.evaluator.warm();
    await expect.poll(() => rig.evaluator.processIds.length).toBe(1);
  });

  test("learns a line in under 20 µs", async () => {
    const { messages } = await rig.run(
      `import { headpiece, lookUpTime } from "anadem";
export default headpiece({ name: "Crown", make() { console.log(lookUpTime()); return []; } });
`,
    );
    expect(Number(messages[0].text)).toBeLessThan(20);
  });
});

describe("what a design throws", () => {
  test("at the top level", async () => {
    const error = await rig.errorAtMark(`import { headpiece } from "anadem";
const size: number = 3;
if (size > 2) throw /*@*/new Error("size is too large");
export default headpiece({ name: "Crown", make: () => [] });
`);
    expect(error).toMatchObject({ id: "design-threw", text: "size is too large" });
  });

  test("in make, after a line with an umlaut", async () => {
    const error = await rig.errorAtMark(
      withMake(`    const größe = "ü"; const none: any = undefined; return none./*@*/parts;`),
    );
    expect(error.text).toBe("Cannot read properties of undefined (reading 'parts')");
  });

  test("in a helper of a second file: both frames", async () => {
    rig.folder.write({
      "stem.ts": `import { tube } from "anadem";
export function stem(n: number) {
  return /*@*/tube("stem " + n, [[0, 0, 0]]);
}
`,
    });
    const { messages } = await rig.run(
      `import { headpiece } from "anadem";
import { stem } from "./stem";
const heap = () => [/*@*/stem(4)];
export default headpiece({
  name: "Crown",
  make() {
    return /*@*/heap();
  },
});
`,
    );
    expect(messages).toEqual([
      {
        id: "short-path",
        severity: "error",
        text: '"stem 4" has 1 points',
        ...rig.folder.place("stem.ts"),
        notes: [
          { text: "called in heap", ...rig.folder.place(name) },
          { text: "called in make", ...rig.folder.place(name, 1) },
        ],
      },
    ]);
  });

  test("something that is no Error", async () => {
    const error = await rig.errorAtMark(
      withMake(`console.log("once");\n/*@*/throw "the reeds are too short";`),
    );
    expect(error.id).toBe("design-threw");
    expect(error.text).toBe('the design threw "the reeds are too short", which is not an Error');
    const { messages } = await rig.run(withMake(`console.log("once");\nthrow 5;`));
    expect(messages.filter(({ id }) => id === "design-log")).toHaveLength(1);
  });

  test("a call without an end", async () => {
    const { messages } = await rig.run(
      withMake("const deeper = (n: number): number => 1 + deeper(n + 1);\nreturn [deeper(0)];"),
    );
    // Which column the full stack is met at differs with how far the engine has optimised the function.
    expect(messages).toMatchObject([{ id: "deep-recursion", file: rig.folder.file(name), line: 5 }]);
  });

  test("inside a library's callback", async () => {
    await rig.errorAtMark(withMake(`return [1].map(() => { throw /*@*/new RangeError("no"); });`));
  });

  test("a promise that is rejected", async () => {
    const error = await rig.errorAtMark(
      withMake(`void Promise.resolve().then(() => { throw /*@*/new Error("late"); });\nreturn [];`),
    );
    expect(error).toMatchObject({ id: "rejected-promise", text: "a promise was rejected: late" });
  });

  test("an async make", async () => {
    const { messages, result } = await rig.run(withMake("    return [];").replace("make(", "async make("));
    expect(result).toBeUndefined();
    expect(messages).toMatchObject([
      { severity: "error", text: "make must return its parts at once", line: 2 },
    ]);
  });
});

describe("provideInput", () => {
  test("its MessageError becomes the evaluation's messages", async () => {
    const message = { id: "no-wearer", severity: "error", text: "there is no wearer" } as const;
    const { header, result, messages } = await rig.run(withMake("return [];"), {
      provideInput: async () => {
        throw new MessageError([message]);
      },
    });
    expect({ name: header?.name, result, messages }).toEqual({
      name: "Crown",
      result: undefined,
      messages: [message],
    });
  });

  test("any other error of it is the caller's own", async () => {
    const evaluation = rig.run(withMake("return [];"), {
      provideInput: () => {
        throw new TypeError("a fault of the engine");
      },
    });
    await expect(evaluation).rejects.toThrow("a fault of the engine");
  });
});

describe("the default export", () => {
  test("missing", async () => {
    const { messages } = await rig.run(`import { tube } from "anadem";\nexport const stem = tube;\n`);
    expect(messages).toMatchObject([{ id: "no-headpiece", file: rig.folder.file(name), line: 1, column: 1 }]);
    expect(messages[0].suggestion).toMatch(/export default headpiece\(/);
  });

  test.each([["42"], ["Promise.resolve({})"], ["{ name: 'x' }"]])("%s", async (value) => {
    const error = await rig.errorAtMark(`const a = 1;\n/*@*/export default (${value} as unknown);\n`);
    expect(error.id).toBe("no-headpiece");
  });
});

describe("purity", () => {
  test.each([
    ["Date./*@*/now()", /clock/],
    ["Math./*@*/random()", /differ from build to build/],
    ["/*@*/setTimeout(() => {}, 1)", /cannot wait for a timer/],
    ["process./*@*/exit()", /cannot end the process/],
  ])("%s is an error at its line", async (call, text) => {
    const error = await rig.errorAtMark(withMake(`    return [(${call}) as never];`));
    expect(error.text).toMatch(text);
    expect(error.id).toBe("not-pure");
  });

  test("a misspelt import is an error where it is used", async () => {
    const error = await rig.errorAtMark(`import { headpiece, tubee } from "anadem";
export default headpiece({ name: "Crown", make: () => [/*@*/tubee("a", [])] });
`);
    expect(error).toMatchObject({ id: "import-name", suggestion: 'did you mean "tube"?' });
  });

  test("dates of their own and the rest of Math stay", async () => {
    const { result } = await rig.run(
      withMake(
        `const day = new Date(2031, 4, 1); return [tube(day.toISOString() + Math.max(1, 2) + (day instanceof Date), [[0,0,0],[1,1,1]])];`,
      ),
    );
    expect(result?.parts[0].name).toBe("2031-05-01T00:00:00.000Z2true");
  });
});
