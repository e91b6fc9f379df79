import type { ShaderMaterial, Vector3 } from "three";
import { addedColour, removedColour } from "../differenceColours";
import { type Colour, mixed } from "./colour";
import type { Materials } from "./materials";
import type { Theme } from "./theme";

/** Gives the materials the colours of a theme. */
export function colourMaterials(materials: Materials, theme: Theme): void {
  const { shared } = materials;
  const set = (uniform: { value: Vector3 }, value: Colour) => uniform.value.set(...asLight(value));
  set(shared.pieceColour, theme.piece);
  set(shared.innerColour, theme.inner);
  set(shared.headColour, theme.head);
  set(shared.litColour, theme.lit);
  set(shared.outlineColour, theme.outline);
  set(shared.noValueColour, theme.noValue);
  // As it stands on the screen: it is laid over what is there.
  shared.ghostColour.value.set(...theme.ghost);
  shared.ghostShare.value = theme.isHighContrast ? 0.5 : theme.isDark ? 0.3 : 0.34;
  for (const uniform of ["pieceColour", "innerColour"]) set(materials.props.uniforms[uniform], theme.props);
  for (const uniform of ["pieceColour", "innerColour"]) {
    set(materials.wayOn.uniforms[uniform], theme.way);
    set(materials.wayBarred.uniforms[uniform], theme.misfit);
  }
  materials.otherPiece.uniforms.otherColour.value.set(
    ...(theme.isHighContrast ? theme.outline : theme.ghost),
  );
  for (const [material, of] of [
    [materials.added, addedColour],
    [materials.removed, removedColour],
  ] as const) {
    const share = theme.isHighContrast ? 0.9 : 0.5;
    material.uniforms.differenceEdge.value.set(...mixed(of, theme.foreground, share));
  }
  // These three are mixed as they stand on the screen.
  shared.background.value.set(...theme.background);
  shared.lineColour.value.set(...theme.foreground);
  shared.wireColour.value.set(...(theme.isDark ? mixed(theme.background, [0, 0, 0], 0.6) : theme.foreground));
  shared.rim.value = theme.isHighContrast ? 0 : theme.isDark ? 0.07 : 0.02;
  shared.outlinesAll.value = theme.isHighContrast ? 1 : 0;
  const cap = (material: ShaderMaterial, of: Colour, lines: number) => {
    set(material.uniforms.capColour, mixed(of, theme.background, 0.12));
    set(
      material.uniforms.capLine,
      mixed(of, theme.isDark && !theme.isHighContrast ? [0, 0, 0] : theme.foreground, lines),
    );
  };
  cap(materials.capOfPiece, theme.piece, theme.isHighContrast ? 0.7 : 0.5);
  cap(materials.capOfHead, theme.head, theme.isHighContrast ? 0.35 : 0.16);
  cap(materials.capOfProps, theme.props, theme.isHighContrast ? 0.7 : 0.4);
}

/** Light is mixed as squares of what the screen shows: near enough to how it adds up, and cheap to turn back. */
const asLight = ([r, g, b]: Colour): [number, number, number] => [r * r, g * g, b * b];
