import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { describe, expect, test } from "vitest";
import coral from "../../samples/coral-crown.headpiece";
import stag from "../../samples/drowned-stag.headpiece";
import kelp from "../../samples/kelp-crest.headpiece";
import horns from "../../samples/rams-horns.headpiece";
import reeds from "../../samples/reed-wreath.headpiece";
import { readHeader, runDesign } from "../../src/design/run";
import { Curve } from "../../src/geometry/curve";
import { tubeProfile } from "../../src/geometry/tips";
import { buildHeadForm, wearerFromDocument } from "../../src/head";

const folder = resolve(import.meta.dirname, "../../samples");
const samples = { coral, stag, kelp, horns, reeds };
const wearers = readdirSync(folder).filter((name) => name.endsWith(".wearer.json"));

const headOf = (file: string) => {
  const { wearer, messages } = wearerFromDocument(JSON.parse(readFileSync(join(folder, file), "utf8")));
  expect(messages.filter(({ severity }) => severity === "error")).toEqual([]);
  if (!wearer) throw new Error(`${file} is no wearer`);
  const { measurements, easeOffset: offset, hairThickness } = wearer;
  return buildHeadForm(measurements).grown({ offset, hairThickness }).toData();
};

describe.each(Object.entries(samples))("%s", (_, piece) => {
  const header = readHeader(piece);

  test("names files that are there", () => {
    const files = readdirSync(folder);
    for (const file of [header.wearer, header.printer, header.material]) expect(files).toContain(file);
  });

  test.each(wearers)("is made for %s, twice the same", (file) => {
    const head = headOf(file);
    const result = runDesign(piece, { head, values: {} });
    expect(JSON.stringify(runDesign(piece, { head, values: {} }).parts)).toBe(JSON.stringify(result.parts));
  });

  test("has no thin part and no sharp end: every end is at least 1.5 mm in radius", () => {
    const { parts } = runDesign(piece, { head: headOf(header.wearer ?? ""), values: {} });
    for (const part of parts) {
      if (part.kind !== "tube" || part.shape.section.kind === "outline") continue;
      const length = new Curve(part.shape.path).length;
      const profile = tubeProfile(part.shape, length);
      for (let i = 0; i <= 20; i++) {
        expect(profile.radiusAt((length * i) / 20), part.name).toBeGreaterThanOrEqual(1.5);
      }
    }
  });
});

test("the reed wreath is woven of at least 60 tubes", () => {
  const { parts } = runDesign(reeds, { head: headOf("marsh-warden.wearer.json"), values: {} });
  expect(parts.filter(({ name }) => name.startsWith("reed ")).length).toBeGreaterThanOrEqual(60);
});

test("antlers end in balls of more than 2 mm radius", () => {
  const { parts } = runDesign(stag, { head: headOf("drowned-stag.wearer.json"), values: {} });
  const tips = parts.flatMap((part) =>
    part.kind === "tube" && /^(?:tine|beam)/.test(part.name) ? [part.shape.endTip] : [],
  );
  expect(tips).toHaveLength(2 * 6);
  for (const tip of tips) expect(tip).toMatchObject({ kind: "point", radius: 2.4 });
});
