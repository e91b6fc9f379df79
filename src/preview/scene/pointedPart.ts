import type { FindingMark, PieceViewEvents } from "../pieceView";
import type { CameraRig } from "./cameraRig";
import type { Context } from "./context";
import { nothingPointed, type Pointed, pointedBy } from "./pointing";
import type { Cut } from "./rayIndex";
import type { Subjects } from "./subjects";

/** What the pointer is over: of the picture, or of the marks that stand over it. */
export class PointedPart {
  readonly #subjects: Subjects;
  readonly #rig: CameraRig;
  readonly #context: Context;
  readonly #tell: PieceViewEvents["onPoint"];
  #pointer: { readonly x: number; readonly y: number } | undefined;
  #isPointerNew = false;
  #pointed: Pointed = nothingPointed;
  #markPointed = -1;

  constructor(subjects: Subjects, rig: CameraRig, context: Context, tell: PieceViewEvents["onPoint"]) {
    this.#subjects = subjects;
    this.#rig = rig;
    this.#context = context;
    this.#tell = tell;
  }

  /** The part that is pointed at; −1 for none. */
  get part(): number {
    return this.#markPointed >= 0 ? this.#markPointed : this.#pointed.part;
  }

  /** The pointer is there now, CSS pixels in the view; undefined: it left. */
  moveTo(place: { readonly x: number; readonly y: number } | undefined): void {
    this.#pointer = place;
    this.#isPointerNew = true;
  }

  pointAtMark(mark: FindingMark | undefined): void {
    this.#markPointed = mark?.part ?? -1;
  }

  /** What stands there in the picture, CSS pixels. */
  at(x: number, y: number, cut: Cut | undefined): Pointed {
    const { piece, head, way, bodies, comparison } = this.#subjects;
    // On its way, cut into pieces, or with the old one in its place, it is only looked at.
    if (way.motion || bodies.shown("pieces") || comparison.matter) return nothingPointed;
    const { width, height } = this.#context;
    const ray = this.#rig.ray((x - width / 2) / height, (height / 2 - y) / height);
    return pointedBy(ray, piece, head, cut);
  }

  /** Finds the part under the pointer and tells it; once a frame, where the pointer moved. */
  follow(cut: Cut | undefined): void {
    if (!this.#isPointerNew) return;
    this.#isPointerNew = false;
    const at = this.#pointer;
    const pointed = at ? this.at(at.x, at.y, cut) : nothingPointed;
    const before = this.#pointed;
    this.#pointed = pointed;
    const isNothing = ({ part, value }: Pointed) => part < 0 && value === undefined;
    if (isNothing(pointed) && isNothing(before)) return;
    this.#context.canvas.classList.toggle("is-over-part", pointed.part >= 0);
    this.#tell(pointed.part, at?.x ?? 0, at?.y ?? 0, pointed.value);
  }
}
