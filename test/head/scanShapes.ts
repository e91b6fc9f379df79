import type { Random } from "../../src/design/random";
import type { TriangleMesh } from "../../src/geometry/mesh";
import type { Vec3 } from "../../src/geometry/vector";
import { buildHeadForm, type HeadForm, inRegion, type MeshResolution } from "../../src/head/index";

/** Scans of heads as they come: head forms made unlike themselves, then moved away from the head frame. */

/** Means of ANSUR II (Gordon et al. 2014, NATICK/TR-15/007), mm: men, women. */
export const meanMan = { girth: 574.37, length: 199.5, breadth: 154.33, crownHeight: 131.15 };
export const meanWoman = { girth: 561.12, length: 189.82, breadth: 147.77, crownHeight: 126.48 };

/** Rows of ANSUR II's public data by subject: girth, length, breadth, tragion to top, ear, ear protrusion, eyes, neck. */
const rows: Readonly<Record<string, readonly number[]>> = {
  "10027": [583, 206, 150, 140, 71, 19, 68.5, 400],
  "13727": [558, 196, 150, 133, 64, 22, 61.5, 417],
  "20615": [564, 190, 156, 131, 58, 17, 60, 438],
  "28886": [633, 222, 171, 140, 62, 22, 64, 408],
  "17460": [575, 201, 142, 125, 57, 26, 62, 342],
  "18051": [511, 171, 138, 119, 54, 19, 62, 291],
  "25837": [518, 168, 152, 118, 58, 17, 57.5, 291],
};
const surveyed = Object.values(rows).map(
  ([girth, length, breadth, crownHeight, earLength, earProtrusion, interpupillaryDistance, neckGirth]) => ({
    girth,
    length,
    breadth,
    crownHeight,
    earLength,
    earProtrusion,
    interpupillaryDistance,
    neckGirth,
  }),
);

/** Head forms of the two means and of seven people of the survey, from the smallest to the largest head. */
export const heads: readonly HeadForm[] = [meanMan, meanWoman, ...surveyed].map(buildHeadForm);

/** A movement out of the head frame: x ↦ size · rotation · x + shift. */
export interface Movement {
  readonly rotation: readonly number[];
  readonly size: number;
  readonly shift: Vec3;
}

/** A rotation that any other is as likely as (Shoemake 1992, *Uniform random rotations*, Graphics Gems III). */
export function randomRotation(random: Random): number[] {
  const [u, v, w] = [random.share(), 2 * Math.PI * random.share(), 2 * Math.PI * random.share()];
  const [x, y, z, s] = [
    Math.sqrt(1 - u) * Math.sin(v),
    Math.sqrt(1 - u) * Math.cos(v),
    Math.sqrt(u) * Math.sin(w),
    Math.sqrt(u) * Math.cos(w),
  ];
  return [
    1 - 2 * (y * y + z * z),
    2 * (x * y - z * s),
    2 * (x * z + y * s),
    2 * (x * y + z * s),
    1 - 2 * (x * x + z * z),
    2 * (y * z - x * s),
    2 * (x * z - y * s),
    2 * (y * z + x * s),
    1 - 2 * (x * x + y * y),
  ];
}

export function moved(
  { positions, triangles }: TriangleMesh,
  { rotation: r, size, shift }: Movement,
): TriangleMesh {
  const out = new Float32Array(positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    for (let row = 0; row < 3; row++) {
      out[i + row] =
        size *
          (r[3 * row] * positions[i] +
            r[3 * row + 1] * positions[i + 1] +
            r[3 * row + 2] * positions[i + 2]) +
        shift[row];
    }
  }
  return { positions: out, triangles };
}

/** Bends the whole by a smooth displacement of at most `most` mm, of waves of 120 mm and more, not alike left and right. */
export function bent({ positions, triangles }: TriangleMesh, random: Random, most: number): TriangleMesh {
  const waves = Array.from({ length: 6 }, () => ({
    along: unit(random),
    by: unit(random),
    rate: (2 * Math.PI) / random.between(120, 260),
    phase: random.between(0, 2 * Math.PI),
  }));
  const displacement = new Float32Array(positions.length);
  let greatest = 0;
  for (let i = 0; i < positions.length; i += 3) {
    for (const { along, by, rate, phase } of waves) {
      const value = Math.sin(
        rate * (along[0] * positions[i] + along[1] * positions[i + 1] + along[2] * positions[i + 2]) + phase,
      );
      for (let axis = 0; axis < 3; axis++) displacement[i + axis] += value * by[axis];
    }
    greatest = Math.max(greatest, Math.hypot(displacement[i], displacement[i + 1], displacement[i + 2]));
  }
  return { positions: positions.map((value, i) => value + (most / greatest) * displacement[i]), triangles };
}

/** Adds noise of a standard deviation to every vertex. */
export function noisy(
  { positions, triangles }: TriangleMesh,
  random: Random,
  deviation: number,
): TriangleMesh {
  const normal = () => Math.sqrt(-2 * Math.log(1 - random.share())) * Math.cos(2 * Math.PI * random.share());
  return { positions: positions.map((value) => value + deviation * normal()), triangles };
}

/** Without the triangles whose middle is such a place. */
export function without(
  { positions, triangles }: TriangleMesh,
  leftOut: (middle: Vec3) => boolean,
): TriangleMesh {
  const kept: number[] = [];
  for (let i = 0; i < triangles.length; i += 3) {
    const middle = [0, 1, 2].map(
      (axis) =>
        (positions[3 * triangles[i] + axis] +
          positions[3 * triangles[i + 1] + axis] +
          positions[3 * triangles[i + 2] + axis]) /
        3,
    );
    if (!leftOut([middle[0], middle[1], middle[2]])) kept.push(...triangles.subarray(i, i + 3));
  }
  return { positions, triangles: Uint32Array.from(kept) };
}

export const withoutEars = (mesh: TriangleMesh, form: HeadForm): TriangleMesh =>
  without(mesh, (middle) => inRegion("ears", form.directionOf(middle)));

export const withoutTop = (mesh: TriangleMesh, form: HeadForm): TriangleMesh =>
  without(mesh, ([x, y, z]) => z > 0 && Math.hypot(x - 12, y - form.center[1] + 10) < 32);

export const withoutFoot = (mesh: TriangleMesh, form: HeadForm): TriangleMesh =>
  without(mesh, ([, , z]) => z < form.surface.data.baseZ + 12);

export const withoutFace = (mesh: TriangleMesh): TriangleMesh =>
  without(mesh, ([x, y, z]) => z < 25 && y > 30 && Math.abs(x) < 90);

/** Two meshes as one, not joined. */
export function both(a: TriangleMesh, b: TriangleMesh): TriangleMesh {
  const offset = a.positions.length / 3;
  return {
    positions: Float32Array.from([...a.positions, ...b.positions]),
    triangles: Uint32Array.from([...a.triangles, ...b.triangles.map((vertex) => vertex + offset)]),
  };
}

/** A ball of three half axes round a middle. */
export function ball([a, b, c]: Vec3, [x, y, z]: Vec3, rings = 24): TriangleMesh {
  const columns = 2 * rings;
  const positions: number[] = [];
  for (let k = 0; k <= rings; k++) {
    const polar = (Math.PI * k) / rings;
    for (let i = 0; i < columns; i++) {
      const turn = (2 * Math.PI * i) / columns;
      positions.push(
        x + a * Math.sin(polar) * Math.cos(turn),
        y + b * Math.sin(polar) * Math.sin(turn),
        z + c * Math.cos(polar),
      );
    }
  }
  const triangles: number[] = [];
  for (let k = 0; k < rings; k++) {
    for (let i = 0; i < columns; i++) {
      const [p, q] = [k * columns + i, k * columns + ((i + 1) % columns)];
      triangles.push(p, p + columns, q, q, p + columns, q + columns);
    }
  }
  return { positions: Float32Array.from(positions), triangles: Uint32Array.from(triangles) };
}

/** The head on a trunk with shoulders 430 mm wide. */
export const onShoulders = (mesh: TriangleMesh, form: HeadForm): TriangleMesh =>
  both(mesh, ball([215, 105, 95], [0, -30, form.surface.data.baseZ - 75]));

/** Hair that stands up to `most` mm off the head, more behind than at the sides. */
export function haired({ positions, triangles }: TriangleMesh, form: HeadForm, most: number): TriangleMesh {
  const out = new Float32Array(positions);
  for (let i = 0; i < positions.length; i += 3) {
    const point: Vec3 = [positions[i], positions[i + 1], positions[i + 2]];
    const place = form.directionOf(point);
    if (!inRegion("hair", place)) continue;
    const thickness = most * (0.6 + 0.4 * (Math.abs(place.azimuth) / 180));
    const [cx, cy, cz] = form.center;
    const away = [point[0] - cx, point[1] - cy, point[2] - cz];
    const size = Math.hypot(...away);
    for (let axis = 0; axis < 3; axis++) out[i + axis] += (thickness * away[axis]) / size;
  }
  return { positions: out, triangles };
}

/** Some of the triangles turned over. */
export function partlyTurned(
  { positions, triangles }: TriangleMesh,
  random: Random,
  share: number,
): TriangleMesh {
  const out = new Uint32Array(triangles);
  for (let i = 0; i < out.length; i += 3) {
    if (random.share() < share) [out[i + 1], out[i + 2]] = [out[i + 2], out[i + 1]];
  }
  return { positions, triangles: out };
}

/** About as fine as a scanner's mesh: so many triangles. */
export const fineness = (triangles: number): MeshResolution => {
  const columns = 2 * Math.round(Math.sqrt(triangles / 2) / 2);
  return { columns, rowsAbove: Math.round(0.37 * columns), rowsBelow: Math.round(0.63 * columns) };
};

function unit(random: Random): Vec3 {
  const z = random.between(-1, 1);
  const turn = random.between(0, 2 * Math.PI);
  const r = Math.sqrt(1 - z * z);
  return [r * Math.cos(turn), r * Math.sin(turn), z];
}
