import type { FindingMark, ViewSettings } from "../pieceView";
import type { PartFacts, WearScene } from "../protocol";
import { type BalanceLines, balanceLines } from "./balanceLayout";
import { BalanceMarks } from "./balanceMarks";
import type { Box } from "./bounds";
import type { CameraRig } from "./cameraRig";
import { type DimensionLine, dimensionLines, type Spot } from "./dimensionLayout";
import { Dimensions } from "./dimensions";
import { markPlaces } from "./markPlaces";
import { type MarkEvents, Marks, type PlacedMark } from "./marks";
import { type ThinnedMark, thinned } from "./markThinning";
import { isBehind } from "./pointing";
import type { Cut } from "./rayIndex";
import { movedPoint, type RigidMotion } from "./rigidMotion";
import type { Subjects } from "./subjects";
import { tightText } from "./tightText";
import type { Vector } from "./vector";

/** What the overlay shows now, for a picture of it. */
export interface OverlayContent {
  readonly dimensions: readonly DimensionLine[];
  readonly marks: readonly PlacedMark[];
  /** Told where the piece does not fit the printer. */
  readonly plateLabel: Label | undefined;
  /** Told where the piece does not pass on to the head. */
  readonly tightLabel: Label | undefined;
  readonly balance: BalanceLines | undefined;
}

interface Label {
  readonly text: string;
  readonly spot: Spot;
}

/** What stands over the picture in the page's own text: dimensions, findings, the plate's label. */
export class Overlay {
  readonly element = document.createElement("div");
  readonly #subjects: Subjects;
  readonly #rig: CameraRig;
  readonly #dimensions = new Dimensions();
  readonly #plateLabel = document.createElement("div");
  readonly #tightLabel = document.createElement("div");
  readonly #balance = new BalanceMarks();
  readonly #marks: Marks;
  #found: readonly ThinnedMark[] = [];
  #weighed: Pick<WearScene, "contacts" | "balance"> = {};
  #parts: readonly PartFacts[] = [];
  /** Where the mark of each part stands; made when first needed after a change of the piece. */
  #places: ReadonlyMap<number, Vector> | undefined;
  #behind = new Set<FindingMark>();
  /** What stands before what may be another since the marks were sorted. */
  #isDepthOld = true;
  #content: OverlayContent = {
    dimensions: [],
    marks: [],
    plateLabel: undefined,
    tightLabel: undefined,
    balance: undefined,
  };

  constructor(subjects: Subjects, rig: CameraRig, events: MarkEvents) {
    this.#subjects = subjects;
    this.#rig = rig;
    this.#marks = new Marks(events);
    this.element.className = "scene-overlay";
    this.#plateLabel.className = "scene-plate-label";
    this.#plateLabel.hidden = true;
    this.#tightLabel.className = "scene-tight-label";
    this.#tightLabel.hidden = true;
    this.element.append(
      this.#plateLabel,
      this.#dimensions.element,
      this.#balance.element,
      this.#marks.element,
      this.#tightLabel,
    );
    this.#marks.set([], () => undefined);
  }

  get content(): OverlayContent {
    return this.#content;
  }

  setMarks(marks: readonly FindingMark[]): void {
    this.#found = thinned(marks);
    this.#places = undefined;
    this.#isDepthOld = true;
    this.#behind.clear();
    this.#marks.set(this.#found, (part) => this.#parts[part]?.name);
  }

  setBalance(weighed: Pick<WearScene, "contacts" | "balance">): void {
    this.#weighed = weighed;
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
    this.#isDepthOld = true;
  }

  /** The camera, the head or the cut is another: what stands before the marks may be too. */
  depthChanged(): void {
    this.#isDepthOld = true;
  }

  /** Draws for a picture of this size, CSS pixels. `measured`: the box whose dimensions are told, in its frame. */
  show(
    width: number,
    height: number,
    settings: ViewSettings,
    measured: { readonly box: Box | undefined; readonly frame: RigidMotion },
  ): void {
    const spotOf = (point: Vector): Spot => {
      const { x, y } = this.#rig.seen(point);
      return { x: width / 2 + x * height, y: height / 2 - y * height };
    };
    const { motion } = this.#subjects.way;
    const box = settings.areDimensionsShown && !motion ? measured.box : undefined;
    const dimensions = box ? dimensionLines(box, (point) => spotOf(movedPoint(measured.frame, point))) : [];
    const marks = settings.areFindingsShown && !motion ? this.#placed(spotOf) : [];
    const balance = settings.isBalanceShown && !motion ? balanceLines(this.#weighed, spotOf) : undefined;
    this.#content = {
      dimensions,
      marks,
      balance,
      plateLabel: this.#plateText(spotOf, settings, width, height),
      tightLabel: this.#tightText(spotOf),
    };
    this.#dimensions.show(dimensions);
    this.#balance.show(balance);
    this.#marks.element.hidden = marks.length === 0;
    this.#marks.place(marks);
    this.#showPlateLabel();
    this.#showTightLabel();
  }

  /** Tells marks that are behind something from those in front; asked for when the camera is at rest. */
  sortDepth(cut: Cut | undefined): void {
    if (!this.#isDepthOld) return;
    this.#isDepthOld = false;
    const { piece, head } = this.#subjects;
    const hidden = this.#found.filter(({ mark }) => {
      const place = this.#placeOf(mark);
      if (!place) return false;
      const { x, y } = this.#rig.seen(place);
      return isBehind(place, this.#rig.ray(x, y), piece, head, cut);
    });
    this.#behind = new Set(hidden.map(({ mark }) => mark));
  }

  #placed(spotOf: (point: Vector) => Spot): PlacedMark[] {
    const ranks = new Map<number, number>();
    return this.#found.map(({ mark, others }) => {
      const rank = mark.at ? 0 : (ranks.get(mark.part) ?? 0);
      if (!mark.at) ranks.set(mark.part, rank + 1);
      const place = this.#placeOf(mark);
      const isSeen = place !== undefined && !this.#rig.seen(place).isBehind;
      const spot = isSeen ? spotOf(place) : undefined;
      return { mark, others, spot, isBehind: this.#behind.has(mark), rank };
    });
  }

  /** A finding of no part in particular stands over the whole piece. */
  #placeOf(mark: FindingMark): Vector | undefined {
    if (mark.at) return mark.at;
    this.#places ??= this.#findPlaces();
    const place = this.#places.get(mark.part);
    if (place) return place;
    const box = this.#subjects.piece.box();
    return box && [(box.least[0] + box.most[0]) / 2, (box.least[1] + box.most[1]) / 2, box.most[2]];
  }

  #findPlaces(): Map<number, Vector> {
    const placeless = this.#found.filter(({ mark }) => !mark.at && mark.part >= 0);
    const wanted = [...new Set(placeless.map(({ mark }) => mark.part))];
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

  /** A piece that does not pass says how much is wanting, at the place where it is tightest, wherever that is now. */
  #tightText(spotOf: (point: Vector) => Spot): Label | undefined {
    const { way, piece, head } = this.#subjects;
    const { tightest, passes } = way.way ?? {};
    if (!tightest || passes || !way.isShown(piece, head)) return undefined;
    const at = way.motion ? movedPoint(way.motion, tightest.at) : tightest.at;
    return this.#rig.seen(at).isBehind ? undefined : { text: tightText(tightest.tooSmall), spot: spotOf(at) };
  }

  #showTightLabel(): void {
    const { tightLabel } = this.#content;
    this.#tightLabel.hidden = tightLabel === undefined;
    if (!tightLabel) return;
    const { text, spot } = tightLabel;
    if (this.#tightLabel.textContent !== text) this.#tightLabel.textContent = text;
    this.#tightLabel.style.transform = `translate(${spot.x.toFixed(1)}px, ${spot.y.toFixed(1)}px) translate(-50%, -50%)`;
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
