import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { newWearerText } from "../../../src/build/takeReadings";
import { entriesOf, standsInFile, typedReadings } from "../../../src/extension/measuring/guideEntries";
import { guideMessage } from "../../../src/extension/measuring/guideMessage";
import { guideVerdicts } from "../../../src/extension/measuring/guideVerdicts";
import { readToGuide } from "../../../src/pages/measuringGuide/protocolChecks";
import { root } from "../../../src/tools/setup.mjs";
import { plainTexts } from "../plainTexts";

const sample = (name: string) => readFileSync(join(root, "samples", `${name}.wearer.json`), "utf8");
const minnow = sample("minnow");
const stag = sample("drowned-stag");

describe("what a file says is shown", () => {
  it("as readings where it holds such, as words where not", () => {
    expect(entriesOf(minnow)).toMatchObject({ girth: ["53.4", "53.6"], length: [], hairThickness: ["0.4"] });
    expect(entriesOf(stag)).toMatchObject({ girth: [], breadth: ["6.1"] });
    expect(standsInFile(stag, "girth")).toBe("22.9 ± 0.1");
    expect(standsInFile(sample("marsh-warden"), "girth")).toBe("hat size US 7 1/8");
    expect(standsInFile(minnow, "girth")).toBeUndefined();
  });

  it("in a message that the page understands", () => {
    const message = guideMessage("k", minnow, false);
    expect(readToGuide(JSON.parse(JSON.stringify(message)))).toBeDefined();
    expect(message).toMatchObject({ name: "Pip, the Minnow", unit: "cm", units: ["cm"] });
    expect(message.steps).toHaveLength(10);
    expect(guideMessage("k", newWearerText("A", "mm"), true).units).toEqual(["mm", "cm", "in"]);
  });
});

describe("what was typed is judged by the checks of the file", () => {
  const told = (text: string, entries: Record<string, string[]>, unit: "mm" | "cm" | "in" = "cm") =>
    guideVerdicts(text, { ...entriesOf(text), ...entries }, unit, plainTexts);

  it("with mean, difference and limit, and estimates of the others", () => {
    const { verdicts, canFinish } = told(minnow, { length: ["18,2", "18.4 cm"] });
    expect(canFinish).toBe(true);
    expect(verdicts.length).toMatchObject({
      mean: "18.3 cm",
      difference: "0.2 cm",
      allowed: "0.3 cm",
      differ: false,
    });
    expect(verdicts.breadth.estimate).toMatch(/^14\.\d+ cm ± 0\.\d+ cm$/);
    expect(verdicts.length.remarks).toEqual([]);
  });

  it("and a warning where readings differ", () => {
    const { verdicts, canFinish } = told(minnow, { length: ["18.1", "18.6"] });
    expect(canFinish).toBe(true);
    expect(verdicts.length.differ).toBe(true);
    expect(verdicts.length.remarks[0]).toMatchObject({ severity: "warning" });
    expect(verdicts.length.remarks[0].text).toContain("a third time");
  });

  it("and an error where no human has that, or it is no length", () => {
    const far = told(minnow, { length: ["183"] });
    expect(far.canFinish).toBe(false);
    expect(far.verdicts.length.remarks.some(({ severity }) => severity === "error")).toBe(true);
    const word = told(minnow, { breadth: ["wide"] });
    expect(word.canFinish).toBe(false);
    expect(word.verdicts.breadth.remarks[0].text).toContain("“wide” is no length");
  });

  it("and nothing is to be written before something changed; a new wearer may begin without a girth", () => {
    expect(told(minnow, {}).canFinish).toBe(false);
    expect(told(newWearerText("A", "mm"), { length: ["190"] }, "mm").canFinish).toBe(true);
  });

  it("only what was changed is written", () => {
    const entries = {
      ...entriesOf(stag),
      breadth: ["6.1", "6.2"],
      crownHeight: [""],
      hairThickness: ["0.2"],
    };
    const { changed, hair, unreadable } = typedReadings(stag, entries, "in");
    expect([...changed]).toEqual([
      ["breadth", [6.1, 6.2]],
      ["crownHeight", []],
    ]);
    expect(hair).toEqual({ value: 0.2 });
    expect(unreadable.size).toBe(0);
  });
});
