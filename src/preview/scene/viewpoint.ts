import {
  type CameraFrame,
  type CameraState,
  type Cameras,
  type StandardView,
  usualViewSettings,
  type ViewSettings,
} from "../pieceView";
import { CameraRig } from "./cameraRig";
import type { Context } from "./context";
import { framed } from "./framing";
import { nearLook } from "./nearLook";
import type { PlateStage } from "./plateStage";
import {
  axesOf,
  firstLook,
  firstPlateLook,
  lookFrom,
  orbited,
  type Pose,
  panned,
  plateLookFrom,
  poseOf,
  stateOf,
  zoomed,
} from "./pose";
import { isWayShown, type Subjects } from "./subjects";
import type { Vector } from "./vector";

/** What is seen before there is a piece: room for a head with a crown, mm. */
const emptyPose: Pose = { ...firstLook, target: [0, 0, 60], span: 420 };

/** What a slider over the picture covers of the picture, from its upper edge, CSS pixels. */
const barHeight = 64;

export interface ViewpointEvents {
  /** Another picture is seen: draw. */
  onMove(): void;
  onRest(): void;
  /** The camera stands in another frame. */
  onFrame(): void;
}

/**
 * Where the picture is seen from: with the head or with the plate, in each where the camera was left. Until somebody
 * places it, it keeps all that is shown in the picture.
 */
export class Viewpoint {
  readonly rig: CameraRig;
  readonly #subjects: Subjects;
  readonly #stage: PlateStage;
  readonly #context: Pick<Context, "aspect" | "height">;
  readonly #events: ViewpointEvents;
  #settings: ViewSettings = usualViewSettings;
  /** The frame that the camera stands in. */
  #standing: CameraFrame = "head";
  /** Where the camera was left in each frame. */
  readonly #left: Partial<Record<CameraFrame, Pose>> = {};
  /** The person, or the page before it was reloaded, chose where the camera stands: it is not moved for her. */
  readonly #placed: Record<CameraFrame, boolean>;
  /** Where the camera stood before it made room for the way on, and where it went then. */
  #before: { readonly from: Pose; readonly to: Pose } | undefined;

  constructor(
    subjects: Subjects,
    stage: PlateStage,
    context: Pick<Context, "aspect" | "height">,
    cameras: Cameras,
    events: ViewpointEvents,
  ) {
    this.#subjects = subjects;
    this.#stage = stage;
    this.#context = context;
    this.#events = events;
    this.#placed = { head: cameras.head !== undefined, plate: cameras.plate !== undefined };
    if (cameras.plate) this.#left.plate = poseOf(cameras.plate);
    this.rig = new CameraRig(cameras.head ? poseOf(cameras.head) : emptyPose, events);
  }

  set settings(settings: ViewSettings) {
    this.#settings = settings;
    this.rig.projection = settings.projection;
  }

  get standing(): CameraFrame {
    return this.#standing;
  }

  get camera(): CameraState {
    return stateOf(this.rig.aim);
  }

  set camera(camera: CameraState) {
    this.#place(poseOf(camera));
  }

  /** Degrees about the vertical and over it. */
  orbit(right: number, up: number): void {
    this.#place(orbited(this.rig.aim, right, up));
  }

  /** Shares of the picture's height. */
  pan(right: number, up: number): void {
    this.#place(panned(this.rig.aim, right, up));
  }

  /** Above 1 comes nearer to a place: shares of the picture's height from its middle, right and up. */
  zoom(factor: number, x = 0, y = 0): void {
    if (!(factor > 0)) throw new RangeError(`a picture cannot be zoomed by ${factor}`);
    this.#place(zoomed(this.rig.aim, factor, x, y));
  }

  look(view: StandardView): void {
    const { plate } = this.#subjects;
    this.#isPlaced = true;
    const look = this.#stage.isOn ? plateLookFrom(view) : lookFrom(view, plate.up);
    const pose = { ...this.rig.aim, ...look };
    this.rig.turnTo(this.#framed(pose, view === "plate" && plate.isShown ? [plate.corners()] : []));
  }

  lookAt(place: Vector): void {
    const box = this.#subjects.piece.box();
    if (!box) return;
    this.#isPlaced = true;
    this.rig.turnTo(nearLook(this.rig.aim, place, box));
  }

  frame(): void {
    this.#isPlaced = true;
    this.rig.turnTo(this.#framed(this.rig.aim));
  }

  /** Keeps all in the picture, unless somebody chose where the camera stands. */
  frameUnlessPlaced(): void {
    if (this.#isPlaced) return;
    const look = this.#standing === "plate" ? firstPlateLook : firstLook;
    this.rig.place(this.#framed({ ...this.rig.pose, ...look }));
  }

  /** Stands with the plate or with the head, in each where it was left. */
  turnStage(manner: "smoothly" | "at once"): void {
    const { isOn, frame } = this.#stage;
    const { piece } = this.#subjects;
    const wanted: CameraFrame = isOn ? "plate" : "head";
    if (wanted === this.#standing) {
      if (JSON.stringify(frame) === JSON.stringify(this.rig.frame)) return;
      this.rig.placeIn(frame, this.rig.aim);
      if (!piece.isEmpty) this.frameUnlessPlaced();
      return;
    }
    this.#left[this.#standing] = this.rig.aim;
    this.#standing = wanted;
    this.#events.onFrame();
    const left = this.#placed[wanted] ? this.#left[wanted] : undefined;
    const pose = left ?? this.#framed({ ...emptyPose, ...(isOn ? firstPlateLook : firstLook) });
    if (manner === "smoothly" && !piece.isEmpty) this.rig.turnInto(frame, pose);
    else this.rig.placeIn(frame, pose);
  }

  /** Steps back where the piece would come from outside the picture. */
  makeRoomForWay(): void {
    const { piece, way } = this.#subjects;
    const box = piece.box();
    const away = box ? way.cornersAway(box) : [];
    const from = this.rig.aim;
    const to = this.#framed(from, [away]);
    if (!this.#isInPicture(away)) {
      this.#before = { from, to };
      this.rig.turnTo(to);
    }
  }

  /** Goes back to where it stood before it made room, unless the person moved it meanwhile. */
  goBack(): void {
    const before = this.#before;
    this.#before = undefined;
    if (before && this.rig.aim === before.to) this.rig.turnTo(before.from);
  }

  dispose(): void {
    this.rig.dispose();
  }

  get #isPlaced(): boolean {
    return this.#placed[this.#standing];
  }

  set #isPlaced(isPlaced: boolean) {
    this.#placed[this.#standing] = isPlaced;
  }

  /** Somebody wants it there. */
  #place(pose: Pose): void {
    this.#isPlaced = true;
    this.rig.place(pose);
  }

  /** Piece and head, as far as they are shown, fill the picture. */
  #framed(pose: Pose, others: readonly ArrayLike<number>[] = []): Pose {
    const { piece, head, plate, bodies, way, comparison } = this.#subjects;
    const { isOn, frame, hasLayers } = this.#stage;
    const clouds = [...piece.shown().map(({ surface }) => surface.positions), ...others];
    if (isOn) {
      if (bodies.shown("pieces")) clouds.length = 0;
      clouds.push(...bodies.surfaces().map(({ positions }) => positions));
      if (plate.isShown) clouds.push(plate.corners());
    } else head.setEye(axesOf(pose).direction, plate.up);
    if (head.isShown && head.surface) clouds.push(head.surface.positions);
    if (isWayShown(this.#subjects)) clouds.push(way.arrowPoints());
    const margin = this.#settings.areDimensionsShown ? 0.15 : 0.07;
    const whole = framed(pose, clouds, this.#context.aspect, margin, frame);
    if (!hasLayers && !comparison.isShown) return whole;
    const covered = Math.min(0.3, barHeight / this.#context.height);
    return zoomed(whole, 1 - covered, 0, -0.5);
  }

  #isInPicture(points: readonly number[]): boolean {
    const half = this.#context.aspect / 2;
    for (let i = 0; i < points.length; i += 3) {
      const { x, y, isBehind } = this.rig.seen([points[i], points[i + 1], points[i + 2]]);
      if (isBehind || Math.abs(x) > half || Math.abs(y) > 0.5) return false;
    }
    return true;
  }
}
