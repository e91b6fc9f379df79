import { existsSync, readdirSync, statSync } from "node:fs";
import Ajv from "ajv";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import planSchema from "../../src/export/cast-plan.schema.json";
import type { CastReport } from "../../src/export/castReport";
import { CommandLine, wearerText } from "./commandLine";

/** A band that is made in a tenth of a second; with `reach`, a rod that stands off so far. */
const bandText = (
  name: string,
  wearer: string,
  reach = 0,
) => `import { band, headpiece, length, onHead, tube } from "anadem";

export default headpiece({
  name: ${JSON.stringify(name)},
  wearer: ${JSON.stringify(wearer)},
  material: "foam.material.json",
  parameters: { width: length(14, { least: 8, most: 30 }) },
  make({ head, parameters: { width } }) {
    const ring = band("ring", head.girthLine.raised(12), { width, thickness: 4 });
    return ${reach === 0 ? "[ring]" : `[ring, tube("rod", [ring.atAzimuth(0), onHead({ azimuth: 0, elevation: 60, lift: ${reach} })], { radius: 5 })]`};
  },
});
`;

const printer = (name: string, width: number) =>
  JSON.stringify({ name, plate: { shape: "rectangular", width, depth: width }, height: 300 });

const castText = (change: object = {}) =>
  JSON.stringify(
    {
      production: "The Small Court",
      opens: "2027-05-14",
      pieces: [
        { role: "The Gull", design: "gull.headpiece.ts", wearer: "marin.wearer.json" },
        {
          role: "The Tern",
          design: "gull.headpiece.ts",
          wearer: "brine.wearer.json",
          copies: 2,
          parameters: { width: 20 },
        },
      ],
      printers: [{ file: "hall.printer.json" }, { file: "thumb.printer.json", name: "The thumb" }],
      ...change,
    },
    undefined,
    2,
  );

let line: CommandLine;
beforeAll(async () => {
  line = await CommandLine.create();
  line.write("marin.wearer.json", wearerText);
  line.write("brine.wearer.json", wearerText.replace("Marin", "Brine").replace("570", "555"));
  line.write(
    "foam.material.json",
    JSON.stringify({
      name: "Foam",
      density: 0.5,
      softening: [70, 80],
      strength: 20,
      modulus: 1,
      pricePerKilogram: 40,
      currency: "€",
    }),
  );
  line.write("hall.printer.json", printer("Hall", 300));
  line.write("thumb.printer.json", printer("Thumb", 60));
  line.write("gull.headpiece.ts", bandText("Gull", "marin.wearer.json"));
  line.write("court.cast.json", castText());
}, 240_000);
afterAll(() => line.remove());

const cast = async (...words: string[]) => {
  const ran = await line.run(["cast", "--today", "2027-04-01", ...words]);
  const told = words.includes("--json") ? JSON.parse(ran.out) : undefined;
  return { ...ran, told, report: told?.report as CastReport };
};

describe("anadem cast", () => {
  test("plans the only cast of the folder, writes its sheet, and goes on from what is good", async () => {
    const first = await cast("--sheet", "--json");
    expect(first.told.messages).toEqual([]);
    expect(first.code).toBe(0);
    const { report } = first;
    const validate = new Ajv({ allErrors: true }).compile(planSchema);
    expect(validate(report), JSON.stringify(validate.errors)).toBe(true);
    expect(
      report.pieces.map(({ headpiece, wearer, verdict }) => [headpiece, wearer, verdict === "failed"]),
    ).toEqual([
      ["Gull", "Marin", false],
      ["Gull", "Brine", false],
    ]);
    // The parameter is at work: a broader band weighs more, though the head is smaller.
    expect(report.pieces[1].massG).toBeGreaterThan(1.2 * report.pieces[0].massG!);
    // A band round a head is no smaller than 60 mm.
    expect(report.pieces[0].on.map(({ printer, fits }) => [printer, fits])).toEqual([
      ["Hall", true],
      ["The thumb", false],
    ]);
    expect(report.prints).toHaveLength(3);
    expect(new Set(report.prints.map(({ printer }) => printer))).toEqual(new Set(["Hall"]));
    for (const { piece, hours } of report.prints) {
      const { hours: estimate } = report.pieces[piece].on[0];
      expect(hours).toBeCloseTo(1.25 * estimate!, 0);
    }
    expect(report.filament).toMatchObject([{ material: "Foam", buy: 1, price: 40, currency: "€" }]);
    expect(first.told.files.map(({ kind }: { kind: string }) => kind)).toEqual([
      "cast-html",
      "cast-plan-json",
    ]);
    const sheet = line.read("out/cast/court.cast.html");
    expect(sheet).toContain("The Small Court");
    expect(sheet.match(/data:image\/svg\+xml,/g)).toHaveLength(2);
    expect(JSON.parse(line.read("out/cast/court.cast-plan.json")).prints).toEqual(report.prints);

    const row = readdirSync(line.path("out/cast/gull/marin"), { recursive: true })
      .map(String)
      .find((name) => name.endsWith("row.json"))!;
    const made = statSync(line.path(`out/cast/gull/marin/${row}`)).mtimeMs;
    const again = await cast("--json");
    expect(again.report).toEqual(report);
    expect(statSync(line.path(`out/cast/gull/marin/${row}`)).mtimeMs).toBe(made);
  });

  test("tells it in tables, with the cautions", async () => {
    const { code, out, err } = await cast("court.cast.json");
    expect({ code, err }).toEqual({ code: 0, err: "" });
    for (const part of [
      "The Small Court",
      "The Gull: Gull",
      "Hall",
      "buy 1 spool of 1000 g (€ 40)",
      "In time",
      "Take care",
    ])
      expect(out).toContain(part);
    expect(out).not.toContain(line.folder);
  });

  test("late: exit code 1, how late, and what would mend it", async () => {
    line.write(
      "late/court.cast.json",
      castText({
        opens: "2027-04-02",
        ready: 1,
        pieces: [{ ...JSON.parse(castText()).pieces[0], copies: 7 }],
      }).replace(/"(\w+\.(?:headpiece\.ts|wearer\.json|printer\.json))"/g, '"../$1"'),
    );
    const { code, report } = await cast("late", "--json");
    expect(code).toBe(1);
    expect(report.ok).toBe(false);
    expect(report.prints.some(({ lateHours }) => lateHours > 0)).toBe(true);
    expect(
      report.findings.every(
        ({ id, file, line }) => id === "cast-late" && file === "court.cast.json" && line! > 1,
      ),
    ).toBe(true);
    expect(report.findings[0].suggestion).toContain("Hall");
  });

  test("a design that is broken is told, and the others are planned", async () => {
    line.write(
      "broken.headpiece.ts",
      bandText("Broken", "marin.wearer.json").replace('band("ring"', 'bnad("ring"'),
    );
    line.write(
      "broken/court.cast.json",
      castText({
        pieces: [
          { design: "../gull.headpiece.ts", wearer: "../marin.wearer.json" },
          { design: "../broken.headpiece.ts", wearer: "../marin.wearer.json" },
        ],
        printers: [{ file: "../hall.printer.json" }],
      }),
    );
    const { code, report } = await cast("broken", "--json");
    expect(code).toBe(1);
    expect(report.findings).toMatchObject([{ id: "cast-piece-failed", field: "pieces.1.design" }]);
    expect(JSON.stringify(report.findings)).toContain("broken.headpiece.ts");
    expect(report.prints.map(({ piece }) => piece)).toEqual([0]);
  });

  test("what is wrong in the file is told at its line, and nothing is made", async () => {
    line.write("wrong/court.cast.json", castText().replace('"printers"', '"pirnters"'));
    const { code, err } = await cast("wrong");
    expect(code).toBe(1);
    expect(err).toMatch(
      /wrong\/court\.cast\.json:\d+:\d+: error: unknown key "pirnters"\n {2}hint: did you mean "printers"\?/,
    );
    expect(existsSync(line.path("wrong/out"))).toBe(false);
  });

  test("--new begins one, which is not written over", async () => {
    const begun = await line.run(["cast", "--new", "tide-court", "--today", "2027-01-04"]);
    expect(begun).toMatchObject({ code: 0, err: "" });
    expect(JSON.parse(line.read("tide-court.cast.json"))).toMatchObject({
      production: "Tide court",
      opens: "2027-03-01",
    });
    const again = await line.run(["cast", "--new", "tide-court"]);
    expect(again.code).toBe(2);
    expect(again.err).toContain("there already");
    // Two casts now: one has to be named.
    const two = await line.run(["cast"]);
    expect(two.code).toBe(2);
    expect(two.err).toContain("2 casts");
  });

  test("wrong use is told with what would be right", async () => {
    line.write("empty/notes.txt", "");
    const none = await line.run(["cast", "empty"]);
    expect(none.code).toBe(2);
    expect(none.err).toContain("anadem cast --new NAME");
    const day = await line.run(["cast", "court.cast.json", "--today", "1.4.2027"]);
    expect(day.code).toBe(2);
    expect(day.err).toContain('--today is "1.4.2027"');
    const gone = await line.run(["cast", "curt.cast.json"]);
    expect(gone.code).toBe(2);
    expect(gone.err).toContain("there is no file");
  });
});
