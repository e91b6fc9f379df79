import { type Camera, Matrix4, OrthographicCamera, type Vector3 } from "three";
import type { Cut } from "./rayIndex";
import { movedPoint, type RigidMotion, reversed } from "./rigidMotion";
import type { Uniforms } from "./uniforms";

/**
 * Lights that stand with the camera: the piece is lit from wherever it is looked at. What is drawn next is moved by
 * `motion`: the eye, its lights and the cut are moved back instead, so that no shader has to know.
 */
export function placeEye(shared: Uniforms, camera: Camera, cut: Cut | undefined, motion?: RigidMotion): void {
  const { keyLight, fillLight, halfway, eyePlace, toScreen } = shared;
  const back = motion && reversed(motion);
  const world = back ? matrixOf(back).multiply(camera.matrixWorld) : camera.matrixWorld;
  const toCamera = back ? world.clone().invert() : camera.matrixWorldInverse;
  toScreen.value.multiplyMatrices(camera.projectionMatrix, toCamera);
  placeCut(shared, cut, back);
  const place = (to: Vector3, x: number, y: number, z: number) => to.set(x, y, z).transformDirection(world);
  place(keyLight.value, -0.55, 0.75, 0.7);
  place(fillLight.value, 0.85, -0.1, 0.45);
  const towards = place(halfway.value, 0, 0, 1);
  if (camera instanceof OrthographicCamera) eyePlace.value.set(towards.x, towards.y, towards.z, 0);
  else eyePlace.value.set(...(world.elements.slice(12, 15) as [number, number, number]), 1);
  towards.add(keyLight.value).normalize();
}

function placeCut(shared: Uniforms, cut: Cut | undefined, back: RigidMotion | undefined): void {
  if (!cut) return;
  const { normal, offset } = cut;
  const { value } = shared.cut;
  if (!back) {
    value.set(...normal, offset);
    return;
  }
  const [x, y, z] = movedPoint({ ...back, shift: [0, 0, 0] }, normal);
  const on = movedPoint(back, [offset * normal[0], offset * normal[1], offset * normal[2]]);
  value.set(x, y, z, x * on[0] + y * on[1] + z * on[2]);
}

const matrixOf = ({ x, y, z, shift }: RigidMotion): Matrix4 =>
  new Matrix4().set(
    ...([x[0], y[0], z[0], shift[0]] as const),
    ...([x[1], y[1], z[1], shift[1]] as const),
    ...([x[2], y[2], z[2], shift[2]] as const),
    ...([0, 0, 0, 1] as const),
  );
