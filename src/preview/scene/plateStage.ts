import type { ViewSettings } from "../pieceView";
import type { PlanScene, PlateScene } from "../protocol";
import { type Box, boxOf, boxRound } from "./bounds";
import { areWithin, cutAtHeight, headFrame, movedPoints, plateFrame } from "./plateFrame";
import type { Cut } from "./rayIndex";
import { type RigidMotion, reversed } from "./rigidMotion";
import type { Surface } from "./surface";

/** Top of the first layer where the plan has told no layers yet, mm: what lies below is on the plate. */
const usualLayer = 0.2;

/** The printer's side of the picture: where the plate stands, whether the piece is seen on it, and how much is printed. */
export class PlateStage {
  #fitting: PlateScene | undefined;
  #plan: PlanScene | undefined;
  #frame: RigidMotion = headFrame;
  #boxes = new WeakMap<Surface, Box>();
  #settings: Pick<ViewSettings, "isPlateView" | "isOverhangShown" | "printedHeight"> = {
    isPlateView: false,
    isOverhangShown: false,
  };

  /**
   * Takes in how the piece fits the printer; tells whether it is another way than before. Throws a RangeError where its
   * transform is not of 16 numbers.
   */
  takePlate(plate: PlateScene): boolean {
    if (JSON.stringify(plate) === JSON.stringify(this.#fitting)) return false;
    if (!this.#plan) this.#stand(plate.toHead);
    this.#fitting = plate;
    return true;
  }

  /** Takes in how the piece is printed; undefined: nothing is known any more. */
  takePlan(plan: PlanScene | undefined): void {
    this.#stand((plan ?? this.#fitting)?.toHead);
    this.#plan = plan;
  }

  set settings(settings: ViewSettings) {
    this.#settings = settings;
  }

  /** The piece is seen as it is printed. */
  get isOn(): boolean {
    return this.#settings.isPlateView && (this.#plan ?? this.#fitting) !== undefined;
  }

  /** It is seen with the layers of its print, and the slider over them. */
  get hasLayers(): boolean {
    return this.isOn && this.#plan?.layers !== undefined;
  }

  /** From the frame that the picture stands in to the head's. */
  get frame(): RigidMotion {
    return this.isOn ? this.#frame : headFrame;
  }

  /** From the plate's frame to the head's, whether or not the piece is seen on it. */
  get plateFrame(): RigidMotion {
    return this.#frame;
  }

  get isOverhangShown(): boolean {
    return this.isOn && this.#plan !== undefined && this.#settings.isOverhangShown;
  }

  /** What leans out farther from the vertical is held up, degrees; and where the first layer ends along the frame's z. */
  get overhang(): { readonly angle: number; readonly level: number } {
    const layer = this.#plan?.layers?.height ?? usualLayer;
    const { z, shift } = this.frame;
    const level = z[0] * shift[0] + z[1] * shift[1] + z[2] * shift[2] + layer;
    return { angle: this.#plan?.overhangAngle ?? 90, level };
  }

  /** What lies above the layers that are printed so far is cut away; undefined: all is printed, or nothing is known. */
  get cut(): Cut | undefined {
    const { printedHeight } = this.#settings;
    const layers = this.#plan?.layers;
    if (!this.isOn || printedHeight === undefined || !layers) return undefined;
    const most = layers.count * layers.height;
    return printedHeight < most - 1e-6 ? cutAtHeight(this.#frame, printedHeight) : undefined;
  }

  /** The plate as it is to be drawn round what is shown; undefined: none is known. */
  plateFor(shown: readonly Surface[], isInPieces: boolean): PlateScene | undefined {
    if (!this.isOn || !this.#plan) return this.#fitting;
    const { printer, outline, height, toHead } = this.#plan;
    // Pieces may stand on several plates, side by side.
    const fits =
      isInPieces || shown.every(({ positions }) => areWithin(positions, this.#frame, outline, height));
    const summary = fits ? "as planned" : "the piece reaches out of the build volume";
    return { printer, outline, height, toHead, fits, summary };
  }

  /** The box of what is shown along the axes of the plate; undefined where there is nothing. */
  boxOf(shown: readonly Surface[]): Box | undefined {
    const back = reversed(this.#frame);
    return boxRound(
      shown.flatMap((surface) => {
        const known = this.#boxes.get(surface) ?? boxOf([movedPoints(back, surface.positions)]);
        if (known) this.#boxes.set(surface, known);
        return known ?? [];
      }),
    );
  }

  #stand(toHead: readonly number[] | undefined): void {
    this.#frame = toHead ? plateFrame(toHead) : headFrame;
    this.#boxes = new WeakMap();
  }
}
