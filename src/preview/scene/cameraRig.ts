import { type Camera, OrthographicCamera, PerspectiveCamera } from "three";
import type { ViewSettings } from "../pieceView";
import { headFrame } from "./plateFrame";
import { between, distanceFor, openingAngle, type Pose } from "./pose";
import type { RigidMotion } from "./rigidMotion";
import { betweenStances, type Stance, stanceOf } from "./stance";
import { along, dot, minus, type Vector } from "./vector";

/** How long a turn to a view takes, ms. */
const turnTime = 190;

/** The same where the whole scene turns with it, from the head to the plate or back. */
const frameTime = 420;

/** How long nothing must move before the camera counts as at rest, ms. */
const restTime = 160;

export interface RigEvents {
  /** The pose changed: draw. */
  onMove(): void;
  onRest(): void;
}

/** A ray into the picture, head frame. */
export interface Ray {
  readonly origin: Vector;
  readonly direction: Vector;
}

/** The camera in both projections, and its way from one pose to another. Poses stand in a frame: the head's or the plate's. */
export class CameraRig {
  readonly #perspective = new PerspectiveCamera(openingAngle);
  readonly #parallel = new OrthographicCamera();
  readonly #events: RigEvents;
  #pose: Pose;
  #projection: ViewSettings["projection"] = "perspective";
  #frameOfPose = headFrame;
  #turn: { readonly from: Pose; readonly to: Pose; readonly since: number } | undefined;
  /** On its way from another frame. */
  #change: { readonly from: Stance; readonly since: number; stance: Stance } | undefined;
  #frame = 0;
  #rest: ReturnType<typeof setTimeout> | undefined;
  readonly #reduced = globalThis.matchMedia?.("(prefers-reduced-motion: reduce)");

  constructor(pose: Pose, events: RigEvents) {
    this.#pose = pose;
    this.#events = events;
    for (const camera of [this.#perspective, this.#parallel]) camera.matrixAutoUpdate = false;
  }

  /** Where it stands, or where it is turning to. */
  get aim(): Pose {
    return this.#turn?.to ?? this.#pose;
  }

  get pose(): Pose {
    return this.#pose;
  }

  /** Where it stands now in the head frame. */
  get stance(): Stance {
    return this.#change?.stance ?? stanceOf(this.#pose, this.#frameOfPose);
  }

  /** The frame that its poses stand in, from there to the head frame. */
  get frame(): RigidMotion {
    return this.#frameOfPose;
  }

  set projection(projection: ViewSettings["projection"]) {
    this.#projection = projection;
  }

  /** Stands there at once. */
  place(pose: Pose): void {
    this.#stop();
    this.#pose = pose;
    this.#events.onMove();
    this.#restSoon();
  }

  /** Turns there in a moment; at once where motion is to be reduced. */
  turnTo(pose: Pose): void {
    if (this.#isStill) {
      this.place(pose);
      return;
    }
    this.#stop();
    this.#turn = { from: this.#pose, to: pose, since: performance.now() };
    this.#frame = requestAnimationFrame(() => this.#step());
  }

  /** Stands in another frame at once; on its turntable nothing changes. */
  placeIn(frame: RigidMotion, pose: Pose): void {
    this.#frameOfPose = frame;
    this.place(pose);
  }

  /** Turns to a pose in another frame; at once where motion is to be reduced. */
  turnInto(frame: RigidMotion, pose: Pose): void {
    const from = this.stance;
    if (this.#isStill) {
      this.placeIn(frame, pose);
      return;
    }
    this.#stop();
    this.#frameOfPose = frame;
    this.#pose = pose;
    this.#change = { from, since: performance.now(), stance: from };
    this.#frame = requestAnimationFrame(() => this.#stepFrame());
  }

  get #isStill(): boolean {
    return (
      this.#reduced?.matches === true ||
      globalThis.document?.body.classList.contains("vscode-reduce-motion") === true
    );
  }

  /**
   * The camera for a picture of this size that shows a ball round all there is.
   * @param ball its middle and radius, mm
   */
  camera(aspect: number, ball: { readonly middle: Vector; readonly radius: number }): Camera {
    const pose = this.stance;
    const { direction, up, right } = pose;
    const offset = dot(minus(ball.middle, pose.target), direction);
    const camera = this.#projection === "parallel" ? this.#parallel : this.#perspective;
    // The parallel camera stands where nothing is behind it.
    const distance = camera === this.#parallel ? ball.radius + offset + pose.span : distanceFor(pose.span);
    const nearest = distance - offset - ball.radius;
    const near = Math.max(nearest, camera === this.#parallel ? 0.1 : distance / 200);
    const far = Math.max(distance - offset + ball.radius, near * 1.01);
    if (camera instanceof PerspectiveCamera) {
      Object.assign(camera, { aspect, near, far });
    } else {
      const half = pose.span / 2;
      Object.assign(camera, {
        left: -half * aspect,
        right: half * aspect,
        top: half,
        bottom: -half,
        near,
        far,
      });
    }
    const eye = along(pose.target, direction, distance);
    camera.matrix.set(
      ...([right[0], up[0], direction[0], eye[0]] as const),
      ...([right[1], up[1], direction[1], eye[1]] as const),
      ...([right[2], up[2], direction[2], eye[2]] as const),
      ...([0, 0, 0, 1] as const),
    );
    camera.matrixWorldNeedsUpdate = true;
    camera.updateMatrixWorld(true);
    camera.updateProjectionMatrix();
    return camera;
  }

  /** The ray through a point of the picture: shares of its height from its middle, right and up. */
  ray(x: number, y: number): Ray {
    const { target, span, direction, up, right } = this.stance;
    const at = along(along(target, right, x * span), up, y * span);
    if (this.#projection === "parallel") {
      return {
        origin: along(at, direction, 20_000),
        direction: [-direction[0], -direction[1], -direction[2]],
      };
    }
    const origin = along(target, direction, distanceFor(span));
    const way = minus(at, origin);
    const length = Math.hypot(...way);
    return { origin, direction: [way[0] / length, way[1] / length, way[2] / length] };
  }

  /** Where a point stands in the picture: shares of its height from its middle, right and up, and its depth. */
  seen(point: Vector): { readonly x: number; readonly y: number; readonly isBehind: boolean } {
    const { target, span, direction, up, right } = this.stance;
    const from = minus(point, target);
    const [x, y, z] = [dot(from, right) / span, dot(from, up) / span, dot(from, direction)];
    if (this.#projection === "parallel") return { x, y, isBehind: false };
    const distance = distanceFor(span);
    const scale = distance / Math.max(distance - z, 1e-6);
    return { x: x * scale, y: y * scale, isBehind: distance - z <= 0 };
  }

  dispose(): void {
    this.#stop();
    clearTimeout(this.#rest);
  }

  #step(): void {
    const turn = this.#turn;
    if (!turn) return;
    const share = Math.min(1, (performance.now() - turn.since) / turnTime);
    // Slow at both ends.
    this.#pose = share === 1 ? turn.to : between(turn.from, turn.to, share * share * (3 - 2 * share));
    if (share === 1) this.#turn = undefined;
    else this.#frame = requestAnimationFrame(() => this.#step());
    this.#events.onMove();
    if (share === 1) this.#restSoon();
  }

  #stepFrame(): void {
    const change = this.#change;
    if (!change) return;
    const share = Math.min(1, (performance.now() - change.since) / frameTime);
    if (share === 1) this.#change = undefined;
    else {
      const to = stanceOf(this.#pose, this.#frameOfPose);
      change.stance = betweenStances(change.from, to, share * share * (3 - 2 * share));
      this.#frame = requestAnimationFrame(() => this.#stepFrame());
    }
    this.#events.onMove();
    if (share === 1) this.#restSoon();
  }

  #stop(): void {
    this.#turn = undefined;
    this.#change = undefined;
    cancelAnimationFrame(this.#frame);
  }

  #restSoon(): void {
    clearTimeout(this.#rest);
    this.#rest = setTimeout(() => this.#events.onRest(), restTime);
  }
}
