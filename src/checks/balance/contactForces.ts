import { addScaled, cross, normalize, scale, type Vec3 } from "../../geometry/vector";
import type { Contacts } from "./balance";
import { maximise, type Row } from "./linearProgramme";

/** Sides of the pyramid that stands in a friction cone here: at worst 8 % of the friction are left out. */
const sides = 8;
/** Price of what is not carried, and of force that is not needed, against the greatest force. */
const lackPrice = 1000;
const forcePrice = 1e-3;

/**
 * How the contacts share the weight: of all forces that balance it those whose greatest normal force is least, since
 * soft hair and skin even loads out. Where none balance it, those that come nearest.
 * @returns x, y, z of the force that each contact gives to the piece, as a share of the weight, and its normal part
 */
export function evenForces(
  { count, positions, normals }: Contacts,
  centre: Vec3,
  gravity: Vec3,
  friction: number,
): { readonly forces: Float64Array; readonly normal: Float64Array } {
  const forces = new Float64Array(3 * count);
  const normal = new Float64Array(count);
  let squares = 0;
  for (let k = 0; k < 3 * count; k++) squares += (positions[k] - centre[k % 3]) ** 2;
  const unit = Math.max(1, Math.sqrt(squares / Math.max(1, count)));
  const given: Vec3[] = [];
  const wrenches: number[][] = [];
  for (let i = 0; i < count; i++) {
    const n: Vec3 = [normals[3 * i], normals[3 * i + 1], normals[3 * i + 2]];
    const arm: Vec3 = [0, 1, 2].map(
      (axis) => (positions[3 * i + axis] - centre[axis]) / unit,
    ) as unknown as Vec3;
    const across = normalize(cross(n, Math.abs(n[0]) < 0.7 ? [1, 0, 0] : [0, 1, 0]));
    const other = cross(n, across);
    for (let side = 0; side < sides; side++) {
      const angle = (2 * Math.PI * side) / sides;
      const tangent = addScaled(scale(across, Math.cos(angle)), other, Math.sin(angle));
      const force = addScaled(n, tangent, friction);
      given.push(force);
      wrenches.push([...force, ...cross(arm, force)]);
    }
  }
  const sizes = wrenches.length;
  const rows: Row[] = [];
  for (let axis = 0; axis < 6; axis++) {
    const load = axis < 3 ? gravity[axis] : 0;
    for (const sign of [1, -1]) {
      rows.push({ terms: [...wrenches.map((wrench) => sign * wrench[axis]), 0, 1], least: -sign * load });
    }
  }
  for (let i = 0; i < count; i++) {
    const terms = new Float64Array(sizes + 1);
    terms.fill(-1, sides * i, sides * (i + 1));
    terms[sizes] = 1;
    rows.push({ terms, least: 0 });
  }
  const found = maximise(
    {
      gain: [...wrenches.map(() => -forcePrice), -1, -lackPrice],
      least: new Float64Array(sizes + 2),
      most: new Float64Array(sizes + 2).fill(Infinity),
    },
    rows,
  );
  if (!found) return { forces, normal };
  for (let k = 0; k < sizes; k++) {
    const i = Math.floor(k / sides);
    normal[i] += found.x[k];
    for (let axis = 0; axis < 3; axis++) forces[3 * i + axis] += found.x[k] * given[k][axis];
  }
  return { forces, normal };
}
