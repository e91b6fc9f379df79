import { describe, expect, it } from "vitest";
import type { Plate } from "../../src/checks/printer";
import { Random } from "../../src/design/random";
import { orientationPicture } from "../../src/export/orientationPicture";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { box, moved, together, torus } from "../checks/shapes";

const plate: Plate = { shape: "rectangular", width: 220, depth: 220 };
const picture = (mesh: TriangleMesh, on: Plate = plate, title = "upright") =>
  orientationPicture({ mesh }, on, title);

/** Corners of a path's data: absolute starts, relative steps. */
function cornersOf(d: string): [number, number][] {
  const corners: [number, number][] = [];
  for (const line of d.split("M").slice(1)) {
    const numbers = (line.match(/-?(?:\d+\.?\d*|\.\d+)/g) ?? []).map(Number);
    let [x, y] = numbers;
    corners.push([x, y]);
    for (let i = 2; i + 1 < numbers.length; i += 2) {
      x += numbers[i];
      y += numbers[i + 1];
      corners.push([x, y]);
    }
  }
  return corners;
}
const pathsOf = (svg: string) => [...svg.matchAll(/<path[^>]* d="([^"]*)"/g)].map(([, d]) => cornersOf(d));
const extent = (corners: [number, number][], axis: 0 | 1) => {
  const values = corners.map((corner) => corner[axis]);
  return Math.max(...values) - Math.min(...values);
};

describe("the small picture of a piece on the plate", () => {
  it("is a whole SVG document within its frame, with plate, piece and outline", () => {
    const svg = picture(moved(torus(60, 12, 60, 16), [0, 0, 12]));
    expect(svg).toMatch(/^<svg xmlns="http:\/\/www.w3.org\/2000\/svg" viewBox="0 0 120 120"/);
    expect(svg).toMatch(/<\/svg>$/);
    const paths = pathsOf(svg);
    expect(paths.length).toBeGreaterThanOrEqual(3);
    for (const corners of paths) {
      for (const [x, y] of corners) {
        expect(Math.min(x, y)).toBeGreaterThanOrEqual(0);
        expect(Math.max(x, y)).toBeLessThanOrEqual(120);
      }
    }
    expect(paths[0]).toHaveLength(4);
  });

  it("draws a piece in the proportions of a parallel projection from 28° above", () => {
    // A flat disc is seen as high as wide times sin 28°, an upright square plate as high as its side times cos 28°.
    const disc = pathsOf(picture(torus(80, 1, 90, 8)))[1];
    expect(extent(disc, 1) / extent(disc, 0)).toBeCloseTo(Math.sin((28 * Math.PI) / 180), 1);
    const mast = pathsOf(picture(box([-1.5, -1.5, 0], [1.5, 1.5, 200])))[1];
    const ground = pathsOf(picture(box([-1.5, -1.5, 0], [1.5, 1.5, 200])))[0];
    // The plate from 25° beside its front: 220·(cos 25° + sin 25°) wide.
    const width = 220 * (Math.cos((25 * Math.PI) / 180) + Math.sin((25 * Math.PI) / 180));
    const high = (200 * Math.cos((28 * Math.PI) / 180)) / width;
    expect(extent(mast, 1) / extent(ground, 0)).toBeCloseTo(high, 1);
  });

  it("stays light, however many parts there are, and the same each time", () => {
    const seed = 2;
    const random = new Random(seed);
    const many = together(
      ...Array.from({ length: 60 }, () =>
        moved(torus(random.between(4, 20), 1.5, 24, 8), [
          random.between(-90, 90),
          random.between(-90, 90),
          random.between(2, 120),
        ]),
      ),
    );
    const svg = picture(many);
    expect(svg.length, `seed ${seed}`).toBeLessThan(8000);
    expect(picture(many)).toBe(svg);
    expect(picture(many, { shape: "round", diameter: 250 }).length).toBeLessThan(8000);
  });

  it("says in words what it shows, and runs no risk on a page", () => {
    const svg = picture(box([0, 0, 0], [10, 10, 10]), plate, 'tilted <35°> & "turned"');
    expect(svg).toContain("<title>tilted &lt;35°&gt; &amp; &quot;turned&quot;</title>");
    expect(svg).not.toMatch(/<script|<style|href|url\(| id=/);
  });

  it("refuses a mesh that is none", () => {
    expect(() => picture({ positions: new Float32Array(0), triangles: new Uint32Array(0) })).toThrow(
      RangeError,
    );
    const broken = box([0, 0, 0], [1, 1, 1]);
    broken.positions[0] = Number.POSITIVE_INFINITY;
    expect(() => picture(broken)).toThrow(RangeError);
  });
});
