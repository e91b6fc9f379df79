import { writeFileSync } from "node:fs";
import Ajv from "ajv";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import reportSchema from "../../src/export/report.schema.json";
import { writeStl } from "../../src/export/stl";
import { formOf } from "../checks/wornBodies";
import { CommandLine, wearerText } from "./commandLine";

let line: CommandLine;
beforeAll(async () => {
  line = await CommandLine.create();
  line.write("marin.wearer.json", wearerText);
}, 120_000);
afterAll(() => line.remove());

/** A band round the head at a height, thick and blunt, with more parts and declarations. */
const circlet = ({
  raised = 12,
  parts = "",
  more = "",
  radius = 6,
} = {}) => `import { band, headpiece, onHead, tube } from "anadem";
export default headpiece({
  name: "Tide circlet",
  wearer: "marin.wearer.json",
  ${more}
  make({ head }) {
    const ring = band("ring", head.girthLine.raised(${raised}), { radius: ${radius} });
    return [ring, ${parts}];
  },
});
`;

const check = async (text: string, ...options: string[]) => {
  line.write("circlet.headpiece.ts", text);
  const { code, out, err } = await line.run(["check", "circlet.headpiece.ts", "--json", ...options]);
  const told = JSON.parse(out);
  return { code, err, told, wear: told.report?.wear };
};

describe("anadem check", () => {
  test("a plain circlet: wear, exit code 0, every question answered, as the report's schema says", async () => {
    const { code, told, wear } = await check(circlet());
    expect(code).toBe(0);
    expect(told).toMatchObject({ ok: true, files: [] });
    expect(wear).toMatchObject({ verdict: "wear", reasons: [] });
    for (const answer of [
      "gap",
      "wayOn",
      "stayOn",
      "sureness",
      "weight",
      "sight",
      "sharp",
      "strength",
      "heat",
    ]) {
      expect(wear[answer], answer).toBeDefined();
    }
    expect(wear.wayOn).toMatchObject({ passes: true, passesOverHair: true });
    const validate = new Ajv({ strict: false }).compile(reportSchema);
    expect(validate(told.report), JSON.stringify(validate.errors)).toBe(true);
  });

  test("to be read: the verdict first, the answers, the limits with their source, the cautions", async () => {
    line.write(
      "circlet.headpiece.ts",
      circlet({
        parts:
          'tube("spine", [ring.atAzimuth(0), onHead({ azimuth: 0, elevation: 30, lift: 90 })], { radius: [5, 1.2], endTip: "round" })',
      }),
    );
    const { code, out } = await line.run(["check", "circlet.headpiece.ts"]);
    expect(code).toBe(0);
    expect(out).toContain("Adjust first");
    expect(out).toMatch(/because the tip of "spine" is sharp/);
    expect(out).toContain("circlet.headpiece.ts:8");
    expect(out).toContain("common practice, no source");
    expect(out).toContain("costume, not protective equipment");
    expect(out.indexOf("Adjust first")).toBeLessThan(out.indexOf("Take care"));
    expect((await line.run(["check", "circlet.headpiece.ts", "--strict"])).code).toBe(1);
  });

  test("a ring below the ears: don't, exit code 1, with the way that is missing", async () => {
    const { code, wear, told } = await check(circlet({ raised: -75, radius: 4 }));
    expect(code).toBe(1);
    expect(told.ok).toBe(false);
    expect(wear.verdict).toBe("dont");
    expect(wear.wayOn.passes).toBe(false);
    expect(wear.findings.find(({ id }: { id: string }) => id === "cannot-be-put-on")).toMatchObject({
      severity: "error",
      part: "ring",
      file: "circlet.headpiece.ts",
      line: 7,
      limit: { name: "passageTight", value: 0.5 },
    });
  });

  test("limits: the wearer goes before the design, the design before the folder", async () => {
    line.write("anadem.limits.json", '{ "massAdvised": 5, "nodForward": 11 }');
    const folder = await check(circlet());
    expect(folder.wear.verdict).toBe("adjust");
    expect(folder.wear.findings[0]).toMatchObject({
      id: "heavy",
      limit: { value: 5, source: "set by the workspace" },
    });
    const design = await check(circlet({ more: "limits: { massAdvised: 400 }," }));
    expect(design.wear.limitsSet).toEqual({
      nodForward: { value: 11, by: "workspace" },
      massAdvised: { value: 400, by: "design" },
    });
    expect(design.wear.verdict).toBe("wear");
    line.write(
      "tender.wearer.json",
      JSON.stringify({ ...JSON.parse(wearerText), limits: { massAdvised: 6 } }),
    );
    const wearer = await check(
      circlet({ more: "limits: { massAdvised: 400 }," }),
      "--wearer",
      "tender.wearer.json",
    );
    expect(wearer.wear.limitsSet.massAdvised).toEqual({ value: 6, by: "wearer" });
    expect(wearer.wear.verdict).toBe("adjust");
    line.write("anadem.limits.json", "{}");
  });

  test("wrong limits are told at their place, and nothing is checked", async () => {
    line.write("anadem.limits.json", '{\n  "masAdvised": 5\n}');
    const folder = await check(circlet());
    expect(folder.code).toBe(1);
    expect(folder.told).toMatchObject({ ok: false, report: null });
    expect(folder.told.messages[0]).toMatchObject({
      id: "unknown-limit",
      line: 2,
      suggestion: 'did you mean "massAdvised"?',
    });
    line.write("anadem.limits.json", "{}");
    const design = await check(circlet({ more: "limits: { friction: 7 }," }));
    expect(design.told.messages[0]).toMatchObject({ id: "out-of-range" });
    expect(design.told.messages[0].text).toContain("7");
  });

  test("--head: on a real head's mesh, in inches and turned, with its measures told", async () => {
    const { positions, triangles } = formOf({ girth: 568 }).mesh();
    const moved = positions.slice();
    for (let i = 0; i < moved.length; i += 3) {
      const [x, y, z] = [positions[i], positions[i + 1], positions[i + 2]];
      moved.set([z / 25.4 + 3, x / 25.4 - 8, y / 25.4], i);
    }
    writeFileSync(line.path("scan.stl"), writeStl({ positions: moved, triangles }, "a head"));
    const { code, told, wear } = await check(circlet(), "--head", "scan.stl");
    expect(code).toBe(0);
    expect(wear.verdict).toBe("wear");
    const placed = told.messages.find(({ id }: { id: string }) => id === "head-placed");
    expect(placed.text).toContain("inch");
    expect(placed.text).toMatch(/girth 5[67]\d mm/);
  });

  test("--head: a file that is none, and one that is no head, are told with a reason", async () => {
    line.write("noise.stl", "solid nothing here");
    const broken = await check(circlet(), "--head", "noise.stl");
    expect(broken).toMatchObject({ code: 1, told: { ok: false, report: null } });
    expect(broken.told.messages[0].file).toContain("noise.stl");
    const missing = await line.run(["check", "circlet.headpiece.ts", "--head", "no.stl"]);
    expect(missing.code).toBe(2);
    expect(missing.err).toContain("no.stl");
  });
});
