import { prepareTube } from "../../src/geometry/rings";
import { SectionFrames } from "../../src/geometry/sectionFrames";
import type { TubeShape } from "../../src/geometry/tubeShape";
import type { Vec2, Vec3 } from "../../src/geometry/vector";

/**
 * Volume of the union of all sections along a tube's path and of its round ends, counted in voxels of `voxel` mm: each
 * voxel's centre is tested against the sections themselves, no mesh is involved. The slow, obvious way.
 */
export function unionOfSections(shape: TubeShape, voxel: number): number {
  const { curve, profile, turnAt, section } = prepareTube(shape, 0.02);
  const frames = new SectionFrames(curve, turnAt);
  const count = Math.ceil(curve.length / (voxel * 0.5)) + 1;
  const list = Array.from({ length: count }, (_, i) => frames.at(Math.min(i / (count - 1), 1 - 1e-12)));
  const reach = profile.greatest * section.reach + 2 * voxel;
  const low = [0, 1, 2].map((k) => Math.min(...list.map((f) => f.centre[k])) - reach);
  const size = [0, 1, 2].map((k) =>
    Math.ceil((Math.max(...list.map((f) => f.centre[k])) + reach - low[k]) / voxel),
  );
  const filled = new Uint8Array(size[0] * size[1] * size[2]);
  const outline = shape.section.kind === "outline" ? shape.section.points : undefined;
  const within = (u: number, v: number) => (outline ? inPolygon(outline, u, v) : u * u + v * v < 1);

  const around = (c: Vec3, r: number, test: (x: number, y: number, z: number) => boolean) => {
    const from = [0, 1, 2].map((k) => Math.max(0, Math.floor((c[k] - r - low[k]) / voxel)));
    const to = [0, 1, 2].map((k) => Math.min(size[k] - 1, Math.ceil((c[k] + r - low[k]) / voxel)));
    for (let i = from[0]; i <= to[0]; i++) {
      for (let j = from[1]; j <= to[1]; j++) {
        for (let k = from[2]; k <= to[2]; k++) {
          const id = (i * size[1] + j) * size[2] + k;
          if (filled[id]) continue;
          const x = low[0] + (i + 0.5) * voxel - c[0];
          const y = low[1] + (j + 0.5) * voxel - c[1];
          const z = low[2] + (k + 0.5) * voxel - c[2];
          if (test(x, y, z)) filled[id] = 1;
        }
      }
    }
  };

  for (let i = 0; i + 1 < count; i++) {
    const [f, g] = [list[i], list[i + 1]];
    const radius = profile.radiusAt(((i + 0.5) / (count - 1)) * curve.length);
    const [ox, oy, oz] = [0, 1, 2].map((k) => f.centre[k] - g.centre[k]);
    around(f.centre, radius * section.reach + voxel, (x, y, z) => {
      // Passed by the plane of the section on its way from f to g.
      const before = x * f.tangent[0] + y * f.tangent[1] + z * f.tangent[2];
      const after = (x + ox) * g.tangent[0] + (y + oy) * g.tangent[1] + (z + oz) * g.tangent[2];
      if (before * after > 0 || before === after) return false;
      const w = before / (before - after);
      let [u, v] = [0, 0];
      const p = [x + w * ox, y + w * oy, z + w * oz];
      for (let k = 0; k < 3; k++) {
        u += p[k] * (f.x[k] * (1 - w) + g.x[k] * w);
        v += p[k] * (f.y[k] * (1 - w) + g.y[k] * w);
      }
      return within(u / radius, v / radius);
    });
  }
  for (const [cap, f, sign] of [
    [profile.start, list[0], -1],
    [profile.end, list[count - 1], 1],
  ] as const) {
    if (curve.closed || cap.kind === "flat") continue;
    const r = cap.radius;
    around(f.centre, r, (x, y, z) => {
      const ahead = sign * (x * f.tangent[0] + y * f.tangent[1] + z * f.tangent[2]);
      return ahead > 0 && x * x + y * y + z * z < r * r;
    });
  }
  let sum = 0;
  for (const one of filled) sum += one;
  return sum * voxel ** 3;
}

function inPolygon(points: readonly Vec2[], u: number, v: number): boolean {
  let inside = false;
  for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
    const [a, b] = [points[i], points[j]];
    if (a[1] > v !== b[1] > v && u < ((b[0] - a[0]) * (v - a[1])) / (b[1] - a[1]) + a[0]) inside = !inside;
  }
  return inside;
}
