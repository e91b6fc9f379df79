import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { massProperties } from "../../src/checks/massProperties";
import { placedStl } from "../../src/export/placedStl";
import { readStl, stlHeaderText, writeStl } from "../../src/export/stl";
import { auditStl } from "../../src/export/stlAudit";
import { weld } from "../../src/export/weld";
import type { PartMesh, TriangleMesh } from "../../src/geometry/mesh";
import { placedPiece } from "../../src/print/placedPiece";
import { box, ellipsoid, insideOut, together, torus } from "../checks/shapes";

const seed = 50_220;
const plate = { shape: "rectangular", width: 300, depth: 300 } as const;
/** Degrees to the hundredth, evenly spread. */
const degrees = (least: number, most: number) =>
  fc.integer({ min: 100 * least, max: 100 * most }).map((hundredths) => hundredths / 100);

const withParts = (mesh: TriangleMesh): PartMesh => ({
  ...mesh,
  partOfTriangle: new Int32Array(mesh.triangles.length / 3),
});

/** A ball whose rings at the poles are so fine that turning it lays vertices upon each other. */
const fineBall = (): TriangleMesh => {
  const ball = ellipsoid(60, 60, 60, 60, 90);
  const positions = ball.positions.slice();
  for (let i = 0; i < positions.length; i += 3) {
    if (Math.abs(positions[i + 2]) < 59.8) continue;
    positions[i] *= 1e-7;
    positions[i + 1] *= 1e-7;
  }
  return { ...ball, positions };
};

const bodies: Record<string, { mesh: TriangleMesh; pieces: number; voids: number }> = {
  torus: { mesh: torus(80, 5, 96, 24), pieces: 1, voids: 0 },
  "thin torus": { mesh: torus(110, 0.8, 300, 12), pieces: 1, voids: 0 },
  "hollow box": {
    mesh: together(box([-40, -30, 0], [40, 30, 50]), insideOut(box([-20, -10, 10], [20, 10, 40]))),
    pieces: 1,
    voids: 1,
  },
  "two balls": {
    mesh: together(ellipsoid(20, 30, 40, 24, 36), torus(90, 10, 48, 16)),
    pieces: 2,
    voids: 0,
  },
  "fine ball": { mesh: fineBall(), pieces: 1, voids: 0 },
};

const orientations = fc.sample(
  fc.record({
    tilt: degrees(0, 180),
    towards: degrees(-180, 180),
    turn: degrees(0, 360),
  }),
  { numRuns: 50, seed },
);

describe("placedStl", () => {
  for (const [name, { mesh, pieces, voids }] of Object.entries(bodies)) {
    it(`is closed on the plate in 50 orientations: ${name} (seed ${seed})`, () => {
      const { volume } = massProperties(mesh);
      for (const orientation of orientations) {
        const bytes = placedStl(placedPiece(withParts(mesh), orientation, plate).mesh, name);
        const audit = auditStl(bytes);
        expect(audit).toMatchObject({ closed: true, pieces, voids, insideOut: 0 });
        expect(audit.vertices).toBe(mesh.positions.length / 3);
        expect(Math.abs(audit.volumeMm3 / volume - 1)).toBeLessThan(1e-5);
        const { least } = massProperties(readStl(bytes)).box;
        expect(Math.abs(least[2])).toBeLessThan(1e-5);
      }
    });
  }

  it("is needed: turned, the fine ball's vertices coincide, and the STL as turned is not closed", () => {
    const merged = orientations.filter((orientation) => {
      const { mesh } = placedPiece(withParts(bodies["fine ball"].mesh), orientation, plate);
      return !auditStl(writeStl(mesh)).closed;
    });
    expect(merged.length).toBeGreaterThan(0);
  });

  it("moves nothing farther than 32-bit numbers resolve, and leaves the mesh given as it was", () => {
    const { mesh } = placedPiece(withParts(bodies["fine ball"].mesh), orientations[0], plate);
    const before = mesh.positions.slice();
    const bytes = placedStl(mesh, "ball");
    expect(mesh.positions).toEqual(before);
    const after = weld(Float32Array.from(readStl(bytes).positions));
    expect(after.positions.length).toBe(before.length);
    const { box: was } = massProperties(mesh);
    const { box: is } = massProperties(readStl(bytes));
    is.most.forEach((value, axis) => {
      expect(Math.abs(value - was.most[axis])).toBeLessThan(1e-3);
    });
  });

  it("says in its header name, state and unit, in 80 bytes", () => {
    const crown = box([0, 0, 0], [10, 20, 30]);
    expect(stlHeaderText(placedStl(crown, "Coral crown"))).toBe(
      "STL of Coral crown, as printed, units millimetres, made with anadem",
    );
    const long = stlHeaderText(
      placedStl(crown, "Drowned stag, left antler, lower half with the tray of pins"),
    );
    expect(long).toContain(", as printed, units millimetres");
    expect(long.length).toBeLessThanOrEqual(80);
    expect(long).toContain("STL of Drowned stag, left");
  });

  it("refuses what does not stand on the plate", () => {
    expect(() => placedStl(box([0, 0, 2], [1, 1, 3]), "crest")).toThrow(
      /"crest" lies 2.000 mm over the plate/,
    );
    expect(() => placedStl(box([0, 0, -2], [1, 1, 3]), "crest")).toThrow(/-2.000 mm/);
    expect(() => placedStl(box([0, 0, Number.NaN], [1, 1, 3]), "crest")).toThrow(RangeError);
    expect(() => placedStl({ positions: new Float32Array(0), triangles: new Uint32Array(0) }, "x")).toThrow(
      /no triangles/,
    );
  });
});
