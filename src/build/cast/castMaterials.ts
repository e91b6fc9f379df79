import type { Material } from "../../checks/material";
import { readDataFile } from "../dataFile";
import { defaultMaterial } from "../materialFile";
import type { OpenTexts } from "../sourceTexts";
import type { Cast } from "./cast";
import type { CastRow } from "./castCells";

/** The materials of rows, each file read once. */
export class CastMaterials {
  readonly #known = new Map<string, Material>();
  readonly #texts: OpenTexts | undefined;

  constructor({ stock }: Cast, texts?: OpenTexts) {
    this.#texts = texts;
    for (const { file, material } of stock) this.#known.set(file, material);
  }

  /**
   * The material that a row was made of: it stands among the files that the row depends on.
   * @param given the file that stands in for the design's own
   */
  of({ inputs, filament }: CastRow["row"], given?: string): Material {
    const files = given === undefined ? inputs.filter((file) => file.endsWith(".json")) : [given];
    for (const file of files) {
      const material = this.#read(file);
      if (material && (filament === undefined || material.name === filament.material)) return material;
    }
    return filament ? { ...defaultMaterial, name: filament.material } : defaultMaterial;
  }

  #read(file: string): Material | undefined {
    const known = this.#known.get(file);
    if (known) return known;
    const { value } = readDataFile(file, "material", undefined, this.#texts);
    if (value) this.#known.set(file, value);
    return value;
  }
}
