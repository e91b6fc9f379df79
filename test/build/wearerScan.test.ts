import { mkdtempSync, rmSync, truncateSync, utimesSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readDataFile } from "../../src/build/dataFile";
import { Heads } from "../../src/build/heads";
import { readParties } from "../../src/build/parties";
import { measuresOf } from "../../src/build/reporting";
import { readWearerScan, scanNamedIn, type WearerScan } from "../../src/build/wearerScan";
import type { DesignHeader } from "../../src/design/part";
import { writeStl } from "../../src/export/stl";
import { buildHeadForm } from "../../src/head/headForm";
import { MessageError } from "../../src/message";
import { fineness, meanMan, moved } from "../head/scanShapes";

const folder = mkdtempSync(join(tmpdir(), "anadem-scan-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const form = buildHeadForm(meanMan);
const centimetres = moved(form.mesh(fineness(5000)), {
  rotation: [0, -1, 0, 1, 0, 0, 0, 0, 1],
  size: 0.1,
  shift: [3, 2, 1],
});
const scanFile = join(folder, "maris.stl");
writeFileSync(scanFile, writeStl(centimetres, "maris"));

/** Writes a wearer's file in lines that are known. */
function wearerFile(name: string, scan: string, more = '"girth": 574'): string {
  const file = join(folder, `${name}.wearer.json`);
  writeFileSync(
    file,
    `{\n  "name": "${name}",\n  "units": "mm",\n  ${more},\n  "scan": { "file": "${scan}" }\n}\n`,
  );
  return file;
}

function read(file: string): WearerScan {
  const { value } = readDataFile(file, "wearer");
  if (!value?.scan) throw new Error("no wearer with a scan");
  return readWearerScan(value, value.scan, file);
}

describe("the scan that a wearer's file names", () => {
  const file = wearerFile("maris", "maris.stl");
  let first: WearerScan;
  beforeAll(() => {
    first = read(file);
  }, 60_000);

  it("becomes the wearer's head, with a note at the name of the file", () => {
    expect(first.file).toBe(scanFile);
    expect(first.wearer?.scanned?.scaledBy).toBe("girth");
    expect(first.wearer?.measurements.breadth).toBeCloseTo(form.measurements.breadth, 0);
    const note = first.messages.find(({ id }) => id === "scan-placed");
    expect(note).toMatchObject({ severity: "note", file, line: 5, column: 21, length: '"maris.stl"'.length });
  });

  it("is not placed again while neither it nor a measure changed, whatever else did", () => {
    const again = read(
      wearerFile("maris", "maris.stl", '"girth": 574,  "hairThickness": 9, "notes": "braids"'),
    );
    expect(again.wearer?.scanned).toBe(first.wearer?.scanned);
    expect(again.wearer).toMatchObject({ hairThickness: 9, notes: "braids" });
    expect(again.wearer?.measurements.hairThickness).toBe(9);
  });

  it("is placed again where a measure changed, or the file", () => {
    const other = read(wearerFile("maris", "maris.stl", '"girth": 560'));
    expect(other.wearer?.scanned?.measured.girth).toBeCloseTo(560, 1);
    utimesSync(scanFile, new Date(), new Date(Date.now() - 5000));
    const touched = read(wearerFile("maris", "maris.stl", '"girth": 560'));
    expect(touched.wearer?.scanned).not.toBe(other.wearer?.scanned);
    expect(touched.wearer?.scanned?.key).toBe(other.wearer?.scanned?.key);
  });

  it("is among the files of a design that names the wearer, and its head is the scan's", () => {
    const header = { name: "reed", wearer: "maris.wearer.json", print: {} } as unknown as DesignHeader;
    const { wearer, files } = readParties(join(folder, "reed.headpiece.ts"), header, {});
    expect(files).toContain(scanFile);
    expect(scanNamedIn(wearerFile("maris", "maris.stl"))).toBe(scanFile);
    const heads = new Heads();
    const head = heads.of(wearer, header);
    expect(head.form.surface.data.whole).toBe(true);
    const sources = Object.entries(measuresOf(wearer, head.form)).map(([name, { source }]) => [name, source]);
    expect(Object.fromEntries(sources)).toMatchObject({
      girth: "given",
      length: "scanned",
      breadth: "scanned",
      crownHeight: "scanned",
      earLength: "estimated",
    });
    const { scanned: _, ...unscanned } = wearer;
    expect(heads.of(unscanned, header).key).not.toBe(head.key);
    expect(heads.of(unscanned, header).form.surface.data.whole).toBeUndefined();
  });
});

describe("a scan that cannot be read is an error at its field", () => {
  const errorOf = (file: string) => {
    const { wearer, messages } = read(file);
    expect(wearer).toBeUndefined();
    expect(messages).toHaveLength(1);
    expect(messages[0]).toMatchObject({ severity: "error", field: "scan.file", file, line: 5, column: 21 });
    return messages[0];
  };

  it("that is not there, with the name that is near", () => {
    const message = errorOf(wearerFile("a", "mariss.stl"));
    expect(message).toMatchObject({ id: "file-not-found", suggestion: 'did you mean "maris.stl"?' });
  });

  it("that is a folder", () => {
    expect(errorOf(wearerFile("b", "../"))).toMatchObject({ id: "file-unreadable" });
  });

  it("that is too large, without reading it", () => {
    const file = join(folder, "large.stl");
    writeFileSync(file, "");
    truncateSync(file, 65 * 2 ** 20);
    const message = errorOf(wearerFile("c", "large.stl"));
    expect(message.id).toBe("mesh-too-large");
    expect(message.text).toContain("65 MB");
  });

  it("that is wrong within, with its line as a note", () => {
    const file = join(folder, "wrong.obj");
    writeFileSync(file, "v 0 0 0\nv 1 0 0\nv 0 nought 0\nf 1 2 3\n");
    const message = errorOf(wearerFile("d", "wrong.obj"));
    expect(message.id).toBe("mesh-not-finite");
    expect(message.notes).toEqual([{ text: "in the scan", file, line: 3, column: 1 }]);
  });

  it("and stops the build of a design that names the wearer", () => {
    wearerFile("e", "gone.stl");
    const header = { name: "reed", wearer: "e.wearer.json", print: {} } as unknown as DesignHeader;
    expect(() => readParties(join(folder, "reed.headpiece.ts"), header, {})).toThrow(MessageError);
  });
});
