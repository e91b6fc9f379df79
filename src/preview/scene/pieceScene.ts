import "./scene.css";
import {
  type CameraFrame,
  type CameraState,
  type Cameras,
  type FindingMark,
  type MakePieceView,
  type PieceView,
  type PieceViewEvents,
  type StandardView,
  usualViewSettings,
  type ViewSettings,
} from "../pieceView";
import type {
  ComparisonMessage,
  DraftMessage,
  FieldMessage,
  MeshBuffers,
  PartFacts,
  PlanScene,
  PlateScene,
  SolidMessage,
  ToPreview,
  WearScene,
} from "../protocol";
import { boxOf, boxRound, centreOf } from "./bounds";
import { CameraRig } from "./cameraRig";
import { ComparisonBodies } from "./comparisonBodies";
import { Context } from "./context";
import { framed } from "./framing";
import { HeadModel } from "./headModel";
import { colourMaterials } from "./materialColours";
import { Materials } from "./materials";
import { nearLook } from "./nearLook";
import { Overlay } from "./overlay";
import { type Ball, Painter, type Subjects } from "./painter";
import { type MarkColours, pngOf } from "./picture";
import { Piece } from "./piece";
import { PlanBodies } from "./planBodies";
import { PlateModel } from "./plateModel";
import { PlateStage } from "./plateStage";
import { PointerControls } from "./pointerControls";
import { nothingPointed, type Pointed, pointedBy } from "./pointing";
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
import type { Cut } from "./rayIndex";
import { cutOf } from "./section";
import { readTheme, type Theme } from "./theme";
import type { Vector } from "./vector";
import { WayModel } from "./wayModel";

/** Makes the picture of a piece in an element; throws an Error where there is no WebGL 2. */
export const makePieceView: MakePieceView = (host, events, cameras) => new PieceScene(host, events, cameras);

/** What is seen before there is a piece: room for a head with a crown, mm. */
const emptyPose: Pose = { ...firstLook, target: [0, 0, 60], span: 420 };

/** What a slider over the picture covers of the picture, from its upper edge, CSS pixels. */
const barHeight = 64;

/** How long nothing changes before the picture gets its last touches, ms. */
const settleTime = 120;
/** The same where the processor draws, which has builds to do meanwhile: after a draft the solid is on its way. */
const slowSettleTime = { draft: 3000, solid: 600 };

/** Puts the parts of the picture together, and draws when something changed. */
class PieceScene implements PieceView {
  readonly #events: PieceViewEvents;
  readonly #root: HTMLElement;
  readonly #context: Context;
  readonly #materials = new Materials();
  readonly #painter: Painter;
  readonly #subjects: Subjects;
  readonly #rig: CameraRig;
  readonly #overlay: Overlay;
  readonly #controls: PointerControls;
  #settings: ViewSettings = usualViewSettings;
  #theme: Theme;
  #cut: Cut | undefined;
  #frame = 0;
  #isShadeOld = true;
  #idle: ReturnType<typeof setTimeout> | undefined;
  /** Pictures so far after which the last touches are due. */
  #drawings = 0;
  #sorting: ReturnType<typeof setTimeout> | undefined;
  readonly #stage = new PlateStage();
  /** The frame that the camera stands in. */
  #standing: CameraFrame = "head";
  /** Where the camera was left in each frame. */
  readonly #left: Partial<Record<CameraFrame, Pose>> = {};
  /** The person, or the page before it was reloaded, chose where the camera stands: it is not moved for her. */
  readonly #placed: Record<CameraFrame, boolean>;
  #pointer: { readonly x: number; readonly y: number } | undefined;
  #isPointerNew = false;
  #pointed: Pointed = nothingPointed;
  /** Where the camera stood before it made room for the way on, and where it went then. */
  #before: { readonly from: Pose; readonly to: Pose } | undefined;
  #markPointed = -1;

  constructor(host: HTMLElement, events: PieceViewEvents, cameras: Cameras = {}) {
    this.#events = events;
    this.#root = document.createElement("div");
    this.#root.className = "scene";
    host.append(this.#root);
    try {
      this.#context = new Context(this.#root, {
        onResize: () => this.#resized(),
        onLost: () => {
          // Nothing of the lost context may be freed in the one that comes after it.
          this.#release();
          events.onContext(true);
        },
        onRestored: () => {
          this.#draw();
          events.onContext(false);
        },
      });
    } catch (error) {
      this.#root.remove();
      throw error;
    }
    this.#painter = new Painter(this.#context.renderer, this.#materials);
    this.#subjects = {
      piece: new Piece(this.#materials),
      head: new HeadModel(this.#materials),
      plate: new PlateModel(),
      way: new WayModel(this.#materials),
      bodies: new PlanBodies(this.#materials),
      comparison: new ComparisonBodies(this.#materials),
    };
    this.#placed = { head: cameras.head !== undefined, plate: cameras.plate !== undefined };
    if (cameras.plate) this.#left.plate = poseOf(cameras.plate);
    this.#rig = new CameraRig(cameras.head ? poseOf(cameras.head) : emptyPose, {
      onMove: () => this.#invalidate(),
      onRest: () => this.#rested(),
    });
    this.#overlay = new Overlay(this.#subjects, this.#rig, {
      onPick: (mark) => events.onPickMark(mark),
      onPoint: (mark) => this.#pointAtMark(mark),
    });
    this.#root.append(this.#overlay.element);
    this.#controls = new PointerControls(this.#context.canvas, this.#root, {
      orbit: (right, up) => this.orbit(right, up),
      pan: (right, up) => this.pan(right, up),
      zoom: (factor, x, y) => this.#move(zoomed(this.#rig.aim, factor, x, y)),
      point: (place) => {
        this.#pointer = place;
        this.#isPointerNew = true;
        this.#invalidate();
      },
      pick: (x, y) => {
        const { part } = this.#pointedAt(x, y);
        if (part >= 0) events.onPick(part);
      },
    });
    this.#theme = readTheme(this.#root);
    this.refreshTheme();
    this.#painter.warm(this.#camera());
    this.#draw();
  }

  showDraft(draft: DraftMessage): void {
    const since = performance.now();
    const wasEmpty = this.#subjects.piece.isEmpty;
    try {
      if (this.#subjects.piece.takeDraft(draft)) this.#pieceShown("draft", draft.version, since, wasEmpty);
    } catch (error) {
      // What came is shown even where a part is missing.
      this.#pieceShown("draft", draft.version, since, wasEmpty);
      throw error;
    }
  }

  showSolid(solid: SolidMessage): void {
    const since = performance.now();
    const wasEmpty = this.#subjects.piece.isEmpty;
    if (this.#subjects.piece.takeSolid(solid)) this.#pieceShown("solid", solid.version, since, wasEmpty);
  }

  showHead(mesh: MeshBuffers): void {
    const { head, piece } = this.#subjects;
    const isFirst = head.surface === undefined;
    head.take(mesh);
    this.#arrangeWay();
    this.#overlay.pieceChanged();
    if (isFirst && !this.#isPlaced && !piece.isEmpty) this.#frameAtOnce();
    this.#isShadeOld = true;
    this.#settleSoon();
    this.#invalidate();
  }

  showPlate(plate: PlateScene): void {
    this.#stage.takePlate(plate);
    this.#arrangeStage("at once");
  }

  showPlan(plan: PlanScene | undefined): void {
    this.#stage.takePlan(plan);
    this.#arrangeStage("at once");
  }

  showPlanBody(body: Extract<ToPreview, { kind: "planBody" }>): void {
    if (!this.#subjects.bodies.take(body)) return;
    this.#arrangeStage("at once");
    if (!this.#isPlaced && !this.#subjects.piece.isEmpty) this.#frameAtOnce();
  }

  setParts(parts: readonly PartFacts[]): void {
    this.#overlay.setParts(parts);
    if (this.#subjects.piece.setKinds(parts.map(({ kind }) => kind))) this.#invalidate();
    else this.#showOverlay();
  }

  setMarks(marks: readonly FindingMark[]): void {
    this.#overlay.setMarks(marks);
    this.#sortSoon();
    this.#showOverlay();
  }

  showField(field: FieldMessage): void {
    if (this.#subjects.piece.takeField(field)) this.#invalidate();
  }

  get hasField(): boolean {
    return this.#subjects.piece.hasField;
  }

  setWay(way: WearScene["wayOff"]): void {
    if (!this.#subjects.way.take(way)) return;
    this.#arrangeWay();
    // Her camera is not moved; one that nobody placed makes room for the arrow.
    if (way && !this.#isPlaced && !this.#subjects.piece.isEmpty) this.#frameAtOnce();
    this.#invalidate();
  }

  setWayShare(share: number | undefined): void {
    const { way } = this.#subjects;
    if (share === way.share || !way.way) return;
    const wasAway = way.share !== undefined;
    const wasMoved = way.motion !== undefined;
    way.share = share;
    if ((way.motion !== undefined) !== wasMoved) this.#shade();
    if (share !== undefined && !wasAway) this.#makeRoomForWay();
    if (share === undefined) this.#goBack();
    this.#invalidate();
  }

  setBalance(balance: Pick<WearScene, "contacts" | "balance">): void {
    this.#overlay.setBalance(balance);
    if (this.#settings.isBalanceShown) this.#showOverlay();
  }

  showComparison(meshes: Pick<ComparisonMessage, "old" | "added" | "removed"> | undefined): void {
    this.#subjects.comparison.take(meshes);
    this.#arrangeStage("at once");
    this.#arrangeWay();
    if (meshes && !this.#isPlaced && !this.#subjects.piece.isEmpty) this.#frameAtOnce();
  }

  setComparisonOutdated(isOutdated: boolean): void {
    this.#subjects.comparison.isOutdated = isOutdated;
    this.#invalidate();
  }

  setSettings(settings: ViewSettings): void {
    const before = this.#settings;
    this.#settings = settings;
    this.#stage.settings = settings;
    if (isAlone("comparisonShare", before, settings)) {
      this.#subjects.comparison.arrange(
        settings.comparisonShare,
        settings.areDifferencesShown && !this.#stage.isOn,
      );
      this.#invalidate();
      return;
    }
    if (isAlone("printedHeight", before, settings)) {
      this.#setCut();
      this.#overlay.depthChanged();
      this.#sortSoon();
      this.#invalidate();
      return;
    }
    this.#subjects.piece.isFieldShown = settings.isFieldShown;
    this.#subjects.plate.isShown = settings.isPlateShown;
    this.#rig.projection = settings.projection;
    this.#arrangeStage("smoothly");
    this.#arrangeWay();
    this.#overlay.depthChanged();
    this.#overlay.sortDepth(this.#cut);
    this.#invalidate();
  }

  light(part: number): void {
    if (this.#materials.shared.lit.value === part) return;
    this.#materials.shared.lit.value = part;
    this.#invalidate();
  }

  setOutdated(isOutdated: boolean): void {
    const fade = isOutdated ? 0.55 : 0;
    if (this.#materials.shared.fade.value === fade) return;
    this.#materials.shared.fade.value = fade;
    this.#invalidate();
  }

  setCamera(camera: CameraState): void {
    this.#move(poseOf(camera));
  }

  get camera(): CameraState {
    return stateOf(this.#rig.aim);
  }

  look(view: StandardView): void {
    const { plate } = this.#subjects;
    this.#isPlaced = true;
    const look = this.#stage.isOn ? plateLookFrom(view) : lookFrom(view, plate.up);
    const pose = { ...this.#rig.aim, ...look };
    this.#rig.turnTo(this.#framed(pose, view === "plate" && plate.isShown ? [plate.corners()] : []));
  }

  lookAt(place: Vector): void {
    const box = this.#subjects.piece.box();
    if (!box) return;
    this.#isPlaced = true;
    this.#rig.turnTo(nearLook(this.#rig.aim, place, box));
  }

  frame(): void {
    this.#isPlaced = true;
    this.#rig.turnTo(this.#framed(this.#rig.aim));
  }

  orbit(right: number, up: number): void {
    this.#move(orbited(this.#rig.aim, right, up));
  }

  pan(right: number, up: number): void {
    this.#move(panned(this.#rig.aim, right, up));
  }

  zoom(factor: number): void {
    if (!(factor > 0)) throw new RangeError(`a picture cannot be zoomed by ${factor}`);
    this.#move(zoomed(this.#rig.aim, factor));
  }

  refreshTheme(): void {
    this.#theme = readTheme(this.#root);
    colourMaterials(this.#materials, this.#theme);
    this.#subjects.plate.setTheme(this.#theme);
    this.#context.setBackground(this.#theme.background);
    this.#invalidate();
  }

  picture(): Promise<ArrayBuffer> {
    if (this.#context.isLost) return Promise.reject(new Error("the picture is gone for a moment: try again"));
    this.#draw("fine");
    const { canvas, ratio } = this.#context;
    return pngOf(canvas, ratio, this.#overlay.content, this.#theme, markColours(this.#root));
  }

  dispose(): void {
    cancelAnimationFrame(this.#frame);
    clearTimeout(this.#idle);
    this.#drawings++;
    this.#controls.dispose();
    this.#rig.dispose();
    this.#subjects.piece.dispose();
    this.#subjects.head.dispose();
    this.#subjects.plate.dispose();
    this.#subjects.way.release();
    this.#subjects.bodies.dispose();
    this.#subjects.comparison.dispose();
    clearTimeout(this.#sorting);
    this.#painter.dispose();
    this.#materials.dispose();
    this.#context.dispose();
    this.#root.remove();
  }

  #release(): void {
    for (const each of Object.values(this.#subjects)) each.release();
    this.#painter.dispose();
    this.#materials.dispose();
  }

  /** Draws at once and tells when it stands on the screen. */
  #pieceShown(what: "draft" | "solid", version: number, since: number, isFirst: boolean): void {
    this.#overlay.pieceChanged();
    this.#arrangeStage("at once");
    this.#arrangeWay();
    this.#setCut();
    if (isFirst && !this.#isPlaced) this.#frameAtOnce();
    this.#draw();
    this.#isShadeOld = true;
    this.#settleSoon();
    if (this.#context.isLost) return;
    void this.#context.done().then(() => this.#events.onDrawn(what, version, performance.now() - since));
  }

  #move(pose: Pose): void {
    this.#isPlaced = true;
    this.#rig.place(pose);
  }

  #frameAtOnce(): void {
    const look = this.#standing === "plate" ? firstPlateLook : firstLook;
    this.#rig.place(this.#framed({ ...this.#rig.pose, ...look }));
  }

  get #isPlaced(): boolean {
    return this.#placed[this.#standing];
  }

  set #isPlaced(isPlaced: boolean) {
    this.#placed[this.#standing] = isPlaced;
  }

  /** Brings all in step with where the plate stands and whether the piece is seen on it. */
  #arrangeStage(manner: "smoothly" | "at once"): void {
    const stage = this.#stage;
    const { piece, head, plate, bodies, comparison } = this.#subjects;
    const { shared } = this.#materials;
    const { areDifferencesShown, comparisonShare } = this.#settings;
    comparison.arrange(comparisonShare, areDifferencesShown && !stage.isOn);
    bodies.arrange(stage.plateFrame, piece.isSolid ? piece.version : -1, stage.isOn);
    bodies.isOverhangShown = stage.isOverhangShown;
    piece.isOverhangShown = stage.isOverhangShown;
    const surfaces = piece.shown().map(({ surface }) => surface);
    const shown = stage.plateFor(surfaces, bodies.shown("pieces") !== undefined);
    if (shown) plate.take(shown);
    const { angle, level } = stage.overhang;
    this.#materials.setOverhang(angle, level);
    shared.skyward.value.set(...stage.frame.z);
    const isHeadWanted = this.#settings.isHeadShown && !stage.isOn;
    if (isHeadWanted !== head.isWanted) {
      head.isWanted = isHeadWanted;
      this.#shade();
    }
    this.#turnStage(manner);
    this.#setCut();
    this.#invalidate();
  }

  /** The camera stands with the plate or with the head, in each where it was left. */
  #turnStage(manner: "smoothly" | "at once"): void {
    const { isOn, frame } = this.#stage;
    const wanted: CameraFrame = isOn ? "plate" : "head";
    if (wanted === this.#standing) {
      if (JSON.stringify(frame) === JSON.stringify(this.#rig.frame)) return;
      this.#rig.placeIn(frame, this.#rig.aim);
      if (!this.#isPlaced && !this.#subjects.piece.isEmpty) this.#frameAtOnce();
      return;
    }
    this.#left[this.#standing] = this.#rig.aim;
    this.#standing = wanted;
    this.#overlay.depthChanged();
    const left = this.#placed[wanted] ? this.#left[wanted] : undefined;
    const pose = left ?? this.#framed({ ...emptyPose, ...(isOn ? firstPlateLook : firstLook) });
    if (manner === "smoothly" && !this.#subjects.piece.isEmpty) this.#rig.turnInto(frame, pose);
    else this.#rig.placeIn(frame, pose);
  }

  /** Piece and head, as far as they are shown, fill the picture. */
  #framed(pose: Pose, others: readonly ArrayLike<number>[] = []): Pose {
    const { piece, head } = this.#subjects;
    const { plate, bodies } = this.#subjects;
    const { isOn, frame } = this.#stage;
    const clouds = [...piece.shown().map(({ surface }) => surface.positions), ...others];
    if (isOn) {
      if (bodies.shown("pieces")) clouds.length = 0;
      clouds.push(...bodies.surfaces().map(({ positions }) => positions));
      if (plate.isShown) clouds.push(plate.corners());
    } else head.setEye(axesOf(pose).direction, plate.up);
    if (head.isShown && head.surface) clouds.push(head.surface.positions);
    if (this.#isWayShown) clouds.push(this.#subjects.way.arrowPoints());
    const margin = this.#settings.areDimensionsShown ? 0.15 : 0.07;
    const whole = framed(pose, clouds, this.#context.aspect, margin, frame);
    if (!this.#stage.hasLayers && !this.#subjects.comparison.isShown) return whole;
    const covered = Math.min(0.3, barHeight / this.#context.height);
    return zoomed(whole, 1 - covered, 0, -0.5);
  }

  get #isWayShown(): boolean {
    const { way, piece, head, comparison } = this.#subjects;
    // Beside the old piece its arrow would be one thing too many, and of the colour of what was added.
    return !comparison.isShown && way.isShown(piece, head);
  }

  #arrangeWay(): void {
    const box = this.#subjects.piece.box();
    if (box && this.#isWayShown) this.#subjects.way.arrange(box);
  }

  /** Steps back where the piece would come from outside the picture. */
  #makeRoomForWay(): void {
    const { piece, way } = this.#subjects;
    const box = piece.box();
    const away = box ? way.cornersAway(box) : [];
    const from = this.#rig.aim;
    const to = this.#framed(from, [away]);
    if (!this.#isInPicture(away)) {
      this.#before = { from, to };
      this.#rig.turnTo(to);
    }
  }

  /** The camera goes back to where it stood, unless the person moved it meanwhile. */
  #goBack(): void {
    const before = this.#before;
    this.#before = undefined;
    if (before && this.#rig.aim === before.to) this.#rig.turnTo(before.from);
  }

  #isInPicture(points: readonly number[]): boolean {
    const half = this.#context.aspect / 2;
    for (let i = 0; i < points.length; i += 3) {
      const { x, y, isBehind } = this.#rig.seen([points[i], points[i + 1], points[i + 2]]);
      if (isBehind || Math.abs(x) > half || Math.abs(y) > 0.5) return false;
    }
    return true;
  }

  #setCut(): void {
    const box = this.#subjects.piece.box();
    const { section } = this.#settings;
    // On the plate it is cut where the print stands.
    this.#cut = this.#stage.isOn ? this.#stage.cut : section && box && cutOf(section, box);
    this.#materials.setCut(this.#cut);
  }

  #resized(): void {
    if (!this.#isPlaced && !this.#subjects.piece.isEmpty) this.#frameAtOnce();
    this.#draw();
  }

  #rested(): void {
    this.#overlay.depthChanged();
    this.#overlay.sortDepth(this.#cut);
    this.#showOverlay();
    this.#events.onCamera(this.camera, this.#standing);
  }

  /** Marks came: they are sorted when no picture is on its way that will see to it. */
  #sortSoon(): void {
    clearTimeout(this.#sorting);
    this.#sorting = setTimeout(() => {
      this.#overlay.sortDepth(this.#cut);
      this.#showOverlay();
    }, this.#settleTime);
  }

  /** Soft shade and the order of marks wait until the picture stands; so do smooth edges where they take long. */
  #settleSoon(): void {
    clearTimeout(this.#idle);
    const drawing = ++this.#drawings;
    if (!this.#context.isSlow) {
      this.#settleAfterPause();
      return;
    }
    // Counted from when it stands on the screen: were the smooth one begun before, every step would wait for it.
    void this.#context.done().then(() => {
      if (drawing === this.#drawings) this.#settleAfterPause();
    });
  }

  #settleAfterPause(): void {
    this.#idle = setTimeout(() => {
      if (this.#isShadeOld) this.#shade();
      this.#overlay.sortDepth(this.#cut);
      this.#draw("fine");
    }, this.#settleTime);
  }

  get #settleTime(): number {
    if (!this.#context.isSlow) return settleTime;
    const { piece } = this.#subjects;
    return piece.isSolid || piece.isEmpty ? slowSettleTime.solid : slowSettleTime.draft;
  }

  #shade(): void {
    this.#isShadeOld = false;
    const { piece, head, way } = this.#subjects;
    // Away from its seat it darkens nothing.
    head.shade(way.motion ? [] : piece.shown().map(({ surface }) => surface.positions));
  }

  #pointedAt(x: number, y: number): Pointed {
    const { piece, head, way, bodies, comparison } = this.#subjects;
    // On its way, cut into pieces, or with the old one in its place, it is only looked at.
    if (way.motion || bodies.shown("pieces") || comparison.matter) return nothingPointed;
    const { width, height } = this.#context;
    const ray = this.#rig.ray((x - width / 2) / height, (height / 2 - y) / height);
    return pointedBy(ray, piece, head, this.#cut);
  }

  #pointAtMark(mark: FindingMark | undefined): void {
    this.#markPointed = mark?.part ?? -1;
    this.#invalidate();
  }

  /** Finds the part under the pointer, once a frame. */
  #followPointer(): void {
    if (!this.#isPointerNew) return;
    this.#isPointerNew = false;
    const at = this.#pointer;
    const pointed = at ? this.#pointedAt(at.x, at.y) : nothingPointed;
    const before = this.#pointed;
    this.#pointed = pointed;
    const isNothing = ({ part, value }: Pointed) => part < 0 && value === undefined;
    if (isNothing(pointed) && isNothing(before)) return;
    this.#context.canvas.classList.toggle("is-over-part", pointed.part >= 0);
    this.#events.onPoint(pointed.part, at?.x ?? 0, at?.y ?? 0, pointed.value);
  }

  #invalidate(): void {
    if (this.#frame !== 0) return;
    this.#frame = requestAnimationFrame(() => {
      this.#frame = 0;
      this.#draw();
    });
  }

  #draw(quality: "fine" | "usual" = "usual"): void {
    if (this.#context.isLost) return;
    const isFine = quality === "fine" || !this.#context.isSlow;
    if (!isFine) this.#settleSoon();
    cancelAnimationFrame(this.#frame);
    this.#frame = 0;
    this.#followPointer();
    const { shared } = this.#materials;
    shared.pointed.value = this.#markPointed >= 0 ? this.#markPointed : this.#pointed.part;
    const { plate, head } = this.#subjects;
    const { direction } = this.#rig.stance;
    plate.setEye(direction, head.isShown);
    head.setEye(direction, plate.up);
    const camera = this.#camera();
    const { width, height, ratio } = this.#context;
    const { isHighContrast } = this.#theme;
    const outline = isHighContrast ? 1.5 : 2;
    shared.outlineWidth.value.set((2 * outline) / width, (2 * outline) / height);
    shared.stripe.value = 9 * ratio;
    const manner = {
      isWireShown: this.#settings.isWireShown,
      outlinesAll: isHighContrast,
      hasOutlines: isHighContrast || shared.lit.value >= 0 || shared.pointed.value >= 0,
      cut: this.#cut,
      motion: this.#subjects.way.motion,
      // What moves shows the way itself, and would run into the arrow.
      isWayShown: this.#isWayShown && !this.#subjects.way.motion,
    };
    this.#context.draw(isFine, () => this.#painter.paint(this.#subjects, camera, this.#ball(), manner));
    this.#showOverlay();
  }

  #showOverlay(): void {
    const { isOn, frame } = this.#stage;
    const settings = isOn ? { ...this.#settings, isBalanceShown: false } : this.#settings;
    const { piece } = this.#subjects;
    const box = isOn ? this.#stage.boxOf(piece.shown().map(({ surface }) => surface)) : piece.box();
    this.#overlay.show(this.#context.width, this.#context.height, settings, { box, frame });
  }

  #camera() {
    return this.#rig.camera(this.#context.aspect, this.#ball());
  }

  #ball(): Ball {
    const { piece, head, plate } = this.#subjects;
    const own = piece.box();
    const { way } = this.#subjects;
    const isAway = own !== undefined && way.motion !== undefined;
    const others = [
      ...(isAway ? [boxOf([way.cornersAway(own)])] : []),
      ...(this.#isWayShown ? [boxOf([way.arrowPoints()])] : []),
    ];
    const { bodies, comparison } = this.#subjects;
    const boxes = [own, head.shownBox, ...bodies.boxes(), ...comparison.boxes(), ...others].flatMap(
      (box) => box ?? [],
    );
    const box = boxRound(boxes) ?? { least: [-120, -120, -120], most: [120, 120, 240] };
    const middle = centreOf(box);
    const radius = Math.hypot(...box.most.map((most, axis) => most - middle[axis]));
    return { middle, radius: Math.max(radius, plate.isShown ? plate.reachFrom(middle) : 0) + 1 };
  }
}

/** Whether no more than what a slider moves is another: the picture follows it with every step. */
const isAlone = (
  name: "printedHeight" | "comparisonShare",
  before: ViewSettings,
  after: ViewSettings,
): boolean =>
  before[name] !== after[name] &&
  JSON.stringify({ ...before, [name]: 0 }) === JSON.stringify({ ...after, [name]: 0 });

/** Colours of marks, as the theme gives them. */
function markColours(element: HTMLElement): MarkColours {
  const style = getComputedStyle(element);
  const read = (name: string, fallback: string) => style.getPropertyValue(name).trim() || fallback;
  return {
    error: read("--vscode-editorError-foreground", "#d13438"),
    warning: read("--vscode-editorWarning-foreground", "#bf8803"),
    note: read("--vscode-editorInfo-foreground", "#1a85ff"),
  };
}
