import { type BufferGeometry, Mesh, type ShaderMaterial } from "three";

/** Matter that is of no part of the design: nothing lights it. */
const ofNoPart = 1e6;

/** A surface that belongs to no part of the design, drawn where its points lie. */
export function partlessMesh(geometry: BufferGeometry, material: ShaderMaterial): Mesh {
  const mesh = new Mesh(geometry, material);
  mesh.frustumCulled = false;
  mesh.matrixAutoUpdate = false;
  mesh.onBeforeRender = (_renderer, _scene, _camera, _geometry, used) => {
    const shader = used as ShaderMaterial;
    if (!shader.uniforms.part) return;
    shader.uniforms.part.value = ofNoPart;
    shader.uniformsNeedUpdate = true;
  };
  return mesh;
}
