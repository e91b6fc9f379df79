import type { FindingMark, ViewSettings } from "../pieceView";
import type { PartFacts } from "../protocol";
import type { CameraRig } from "./cameraRig";
import { type DimensionLine, dimensionLines, type Spot } from "./dimensionLayout";
import { Dimensions } from "./dimensions";
import { markPlaces } from "./markPlaces";
import { type MarkEvents, Marks, type PlacedMark } from "./marks";
import type { Subjects } from "./painter";
import { isBehind } from "./pointing";
import type { Cut } from "./rayIndex";
import type { Vector } from "./vector";

/** What the overlay shows now, for a picture of it. */
export interface OverlayContent {
  readonly dimensions: readonly DimensionLine[];
  readonly marks: readonly PlacedMark[];
  /** Told where the piece does not fit the printer. */
  readonly plateLabel: { readonly text: string; readonly spot: Spot } | undefined;
}

/** What stands over the picture in the page's own text: dimensions, findings, the plate's label. */
export class Overlay {
  readonly element = document.createElement("div");
  readonly #subjects: Subjects;
  readonly #rig: CameraRig;
  readonly #dimensions = new Dimensions();
  readonly #plateLabel = document.createElement("div");
  readonly #marks: Marks;
  #found: readonly FindingMark[] = [];
  #parts: readonly PartFacts[] = [];
  /** Where the mark of each part stands; made when first needed after a change of the piece. */
  #places: ReadonlyMap<number, Vector> | undefined;
  #behind = new Set<FindingMark>();
  #content: OverlayContent = { dimensions: [], marks: [], plateLabel: undefined };

  constructor(subjects: Subjects, rig: CameraRig, events: MarkEvents) {
    this.#subjects = subjects;
    this.#rig = rig;
    this.#marks = new Marks(events);
    this.element.className = "scene-overlay";
    this.#plateLabel.className = "scene-plate-label";
    this.#plateLabel.hidden = true;
    this.element.append(this.#plateLabel, this.#dimensions.element, this.#marks.element);
    this.#marks.set([], () => undefined);
  }

  get content(): OverlayContent {
    return this.#content;
  }

  setMarks(marks: readonly FindingMark[]): void {
    this.#found = marks;
    this.#places = undefined;
    this.#behind.clear();
    this.#marks.set(marks, (part) => this.#parts[part]?.name);
  }

  setParts(parts: readonly PartFacts[]): void {
    const isSame =
      parts.length === this.#parts.length && parts.every(({ name }, i) => name === this.#parts[i].name);
    this.#parts = parts;
    if (!isSame) this.#marks.set(this.#found, (part) => this.#parts[part]?.name);
  }

  /** The piece has another shape: marks are placed anew. */
  pieceChanged(): void {
    this.#places = undefined;
  }

  /** Draws for a picture of this size, CSS pixels. */
  show(width: number, height: number, settings: ViewSettings): void {
    const spotOf = (point: Vector): Spot => {
      const { x, y } = this.#rig.seen(point);
      return { x: width / 2 + x * height, y: height / 2 - y * height };
    };
    const box = settings.areDimensionsShown ? this.#subjects.piece.box() : undefined;
    const dimensions = box ? dimensionLines(box, spotOf) : [];
    const marks = settings.areFindingsShown ? this.#placed(spotOf) : [];
    this.#content = { dimensions, marks, plateLabel: this.#plateText(spotOf, settings, width, height) };
    this.#dimensions.show(dimensions);
    this.#marks.element.hidden = marks.length === 0;
    this.#marks.place(marks);
    this.#showPlateLabel();
  }

  /** Tells marks that are behind something from those in front; asked for when the camera is at rest. */
  sortDepth(cut: Cut | undefined): void {
    this.#behind = new Set(
      this.#found.filter((mark) => {
        const place = this.#placeOf(mark);
        if (!place) return false;
        const { x, y } = this.#rig.seen(place);
        const { piece, head } = this.#subjects;
        return isBehind(place, this.#rig.ray(x, y), piece, head, cut);
      }),
    );
  }

  #placed(spotOf: (point: Vector) => Spot): PlacedMark[] {
    const ranks = new Map<number, number>();
    return this.#found.map((mark) => {
      const rank = ranks.get(mark.part) ?? 0;
      ranks.set(mark.part, rank + 1);
      const place = this.#placeOf(mark);
      const isSeen = place !== undefined && !this.#rig.seen(place).isBehind;
      return { mark, spot: isSeen ? spotOf(place) : undefined, isBehind: this.#behind.has(mark), rank };
    });
  }

  /** A finding of no part in particular stands over the whole piece. */
  #placeOf(mark: FindingMark): Vector | undefined {
    this.#places ??= this.#findPlaces();
    const place = this.#places.get(mark.part);
    if (place) return place;
    const box = this.#subjects.piece.box();
    return box && [(box.least[0] + box.most[0]) / 2, (box.least[1] + box.most[1]) / 2, box.most[2]];
  }

  #findPlaces(): Map<number, Vector> {
    const wanted = [...new Set(this.#found.map(({ part }) => part))].filter((part) => part >= 0);
    const { piece, head } = this.#subjects;
    const { solid, parts } = piece.surfacesOf();
    const places =
      solid && wanted.length > 0 ? markPlaces(solid, wanted, head.middle) : new Map<number, Vector>();
    for (const part of wanted) {
      const own = parts.get(part);
      // A part that left no trace in the solid is marked where its draft stands.
      if (places.has(part) || !own) continue;
      const place = markPlaces(own, [part], head.middle).get(part);
      if (place) places.set(part, place);
    }
    return places;
  }

  #plateText(
    spotOf: (point: Vector) => Spot,
    settings: ViewSettings,
    width: number,
    height: number,
  ): OverlayContent["plateLabel"] {
    const { plate } = this.#subjects;
    const at = plate.labelPlace();
    // What fits needs no words on the picture.
    if (!settings.isPlateShown || !plate.plate || plate.plate.fits) return undefined;
    if (!at || this.#rig.seen(at).isBehind) return undefined;
    const spot = spotOf(at);
    if (spot.x < 0 || spot.y < 0 || spot.x > width || spot.y > height) return undefined;
    return { text: `⚠ ${plate.plate.printer}: ${plate.plate.summary}`, spot };
  }

  #showPlateLabel(): void {
    const { plateLabel } = this.#content;
    this.#plateLabel.hidden = plateLabel === undefined;
    if (!plateLabel) return;
    const { text, spot } = plateLabel;
    if (this.#plateLabel.textContent !== text) this.#plateLabel.textContent = text;
    this.#plateLabel.style.transform = `translate(${spot.x.toFixed(1)}px, ${(spot.y + 6).toFixed(1)}px) translateX(-50%)`;
  }
}
