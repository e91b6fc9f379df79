import { usualViewSettings, type ViewSettings } from "../pieceView";
import { type Ball, ballRound } from "./ball";
import type { Context } from "./context";
import { markColours } from "./markColours";
import { colourMaterials } from "./materialColours";
import type { Materials } from "./materials";
import type { Overlay } from "./overlay";
import { Painter } from "./painter";
import { pngOf } from "./picture";
import type { PlateStage } from "./plateStage";
import type { PointedPart } from "./pointedPart";
import type { Cut } from "./rayIndex";
import { cutOf } from "./section";
import { isWayShown, type Subjects } from "./subjects";
import { readTheme, type Theme } from "./theme";
import type { Viewpoint } from "./viewpoint";

/** What a drawing is made of. */
export interface Drawn {
  /** Where the theme's variables hold. */
  readonly page: HTMLElement;
  readonly context: Context;
  readonly materials: Materials;
  readonly subjects: Subjects;
  readonly stage: PlateStage;
  readonly viewpoint: Viewpoint;
  readonly overlay: Overlay;
  readonly pointed: PointedPart;
}

/** Draws everything as it stands now: the picture in the theme's colours, and what lies over it. */
export class SceneDrawing {
  settings: ViewSettings = usualViewSettings;
  readonly #drawn: Drawn;
  readonly #painter: Painter;
  #theme: Theme;
  #cut: Cut | undefined;
  #isShadeOld = true;

  constructor(drawn: Drawn) {
    this.#drawn = drawn;
    this.#painter = new Painter(drawn.context.renderer, drawn.materials);
    this.#theme = this.#themed();
    this.#painter.warm(this.#camera(ballRound(drawn.subjects)));
  }

  /** What lies beyond it is cut away. */
  get cut(): Cut | undefined {
    return this.#cut;
  }

  /** Reads the theme's colours anew. */
  refreshTheme(): void {
    this.#theme = this.#themed();
  }

  /** Puts the cut where the settings and the print have it. */
  setCut(): void {
    const { subjects, stage, materials } = this.#drawn;
    const box = subjects.piece.box();
    const { section } = this.settings;
    // On the plate it is cut where the print stands.
    this.#cut = stage.isOn ? stage.cut : section && box && cutOf(section, box);
    materials.setCut(this.#cut);
  }

  /** Lays the soft shade of the piece on the head now. */
  shade(): void {
    this.#isShadeOld = false;
    const { piece, head, way } = this.#drawn.subjects;
    // Away from its seat it darkens nothing.
    head.shade(way.motion ? [] : piece.shown().map(({ surface }) => surface.positions));
  }

  /** Piece or head is another: their shade is laid anew with the last touches. */
  shadeChanged(): void {
    this.#isShadeOld = true;
  }

  /** What waits until nothing changes: soft shade and the order of marks. */
  touchUp(): void {
    if (this.#isShadeOld) this.shade();
    this.sortMarks();
  }

  sortMarks(): void {
    this.#drawn.overlay.sortDepth(this.#cut);
  }

  draw(isFine: boolean): void {
    const { context, materials, subjects, viewpoint, pointed } = this.#drawn;
    pointed.follow(this.#cut);
    const { shared } = materials;
    shared.pointed.value = pointed.part;
    const { plate, head, way } = subjects;
    const { direction } = viewpoint.rig.stance;
    plate.setEye(direction, head.isShown);
    head.setEye(direction, plate.up);
    const ball = ballRound(subjects);
    const camera = this.#camera(ball);
    const { width, height, ratio } = context;
    const { isHighContrast } = this.#theme;
    const outline = isHighContrast ? 1.5 : 2;
    shared.outlineWidth.value.set((2 * outline) / width, (2 * outline) / height);
    shared.stripe.value = 9 * ratio;
    const manner = {
      isWireShown: this.settings.isWireShown,
      outlinesAll: isHighContrast,
      hasOutlines: isHighContrast || shared.lit.value >= 0 || shared.pointed.value >= 0,
      cut: this.#cut,
      motion: way.motion,
      // What moves shows the way itself, and would run into the arrow.
      isWayShown: isWayShown(subjects) && !way.motion,
    };
    context.draw(isFine, () => this.#painter.paint(subjects, camera, ball, manner));
    this.showOverlay();
  }

  showOverlay(): void {
    const { context, subjects, stage, overlay } = this.#drawn;
    const { isOn, frame } = stage;
    const settings = isOn ? { ...this.settings, isBalanceShown: false } : this.settings;
    const { piece } = subjects;
    const box = isOn ? stage.boxOf(piece.shown().map(({ surface }) => surface)) : piece.box();
    overlay.show(context.width, context.height, settings, { box, frame });
  }

  /** PNG of what was drawn in this same task. */
  png(): Promise<ArrayBuffer> {
    const { page, context, overlay } = this.#drawn;
    return pngOf(context.canvas, context.ratio, overlay.content, this.#theme, markColours(page));
  }

  /** Frees what lies on the graphics processor; drawn again, it is put there again. */
  release(): void {
    this.#painter.dispose();
    this.#drawn.materials.dispose();
  }

  #themed(): Theme {
    const { page, context, materials, subjects } = this.#drawn;
    const theme = readTheme(page);
    colourMaterials(materials, theme);
    subjects.plate.setTheme(theme);
    context.setBackground(theme.background);
    return theme;
  }

  #camera(ball: Ball) {
    const { viewpoint, context } = this.#drawn;
    return viewpoint.rig.camera(context.aspect, ball);
  }
}
