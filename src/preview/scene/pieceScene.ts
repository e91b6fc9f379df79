import "./scene.css";
import {
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
import { arrangeComparison, arrangeSubjects, arrangeWay } from "./arrangement";
import { Context } from "./context";
import { Materials } from "./materials";
import { Overlay } from "./overlay";
import { Pace } from "./pace";
import { PlateStage } from "./plateStage";
import { PointedPart } from "./pointedPart";
import { PointerControls } from "./pointerControls";
import { SceneDrawing } from "./sceneDrawing";
import { disposeSubjects, makeSubjects, releaseSubjects, type Subjects } from "./subjects";
import type { Vector } from "./vector";
import { Viewpoint } from "./viewpoint";

/** Makes the picture of a piece in an element; throws an Error where there is no WebGL 2. */
export const makePieceView: MakePieceView = (host, events, cameras) => new PieceScene(host, events, cameras);

/** Puts the parts of the picture together, and brings them in step with what comes. */
class PieceScene implements PieceView {
  readonly #events: PieceViewEvents;
  readonly #root: HTMLElement;
  readonly #context: Context;
  readonly #materials = new Materials();
  readonly #subjects: Subjects;
  readonly #stage = new PlateStage();
  readonly #viewpoint: Viewpoint;
  readonly #overlay: Overlay;
  readonly #pointed: PointedPart;
  readonly #drawing: SceneDrawing;
  readonly #pace: Pace;
  readonly #controls: PointerControls;
  #settings: ViewSettings = usualViewSettings;

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
          releaseSubjects(this.#subjects);
          this.#drawing.release();
          events.onContext(true);
        },
        onRestored: () => {
          this.#pace.draw();
          events.onContext(false);
        },
      });
    } catch (error) {
      this.#root.remove();
      throw error;
    }
    this.#subjects = makeSubjects(this.#materials);
    this.#viewpoint = new Viewpoint(this.#subjects, this.#stage, this.#context, cameras, {
      onMove: () => this.#pace.drawSoon(),
      onRest: () => this.#rested(),
      onFrame: () => this.#overlay.depthChanged(),
    });
    const { rig } = this.#viewpoint;
    this.#pointed = new PointedPart(this.#subjects, rig, this.#context, (part, x, y, value) =>
      events.onPoint(part, x, y, value),
    );
    this.#overlay = new Overlay(this.#subjects, rig, {
      onPick: (mark) => events.onPickMark(mark),
      onPoint: (mark) => {
        this.#pointed.pointAtMark(mark);
        this.#pace.drawSoon();
      },
    });
    this.#root.append(this.#overlay.element);
    this.#controls = new PointerControls(this.#context.canvas, this.#root, {
      orbit: (right, up) => this.#viewpoint.orbit(right, up),
      pan: (right, up) => this.#viewpoint.pan(right, up),
      zoom: (factor, x, y) => this.#viewpoint.zoom(factor, x, y),
      point: (place) => {
        this.#pointed.moveTo(place);
        this.#pace.drawSoon();
      },
      pick: (x, y) => {
        const { part } = this.#pointed.at(x, y, this.#drawing.cut);
        if (part >= 0) events.onPick(part);
      },
    });
    this.#drawing = new SceneDrawing({
      page: this.#root,
      context: this.#context,
      materials: this.#materials,
      subjects: this.#subjects,
      stage: this.#stage,
      viewpoint: this.#viewpoint,
      overlay: this.#overlay,
      pointed: this.#pointed,
    });
    this.#pace = new Pace(this.#context, this.#subjects.piece, {
      onDraw: (isFine) => this.#drawing.draw(isFine),
      onSettle: () => this.#drawing.touchUp(),
      onSort: () => {
        this.#drawing.sortMarks();
        this.#drawing.showOverlay();
      },
    });
    this.#pace.draw();
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
    arrangeWay(this.#subjects);
    this.#overlay.pieceChanged();
    if (isFirst && !piece.isEmpty) this.#viewpoint.frameUnlessPlaced();
    this.#drawing.shadeChanged();
    this.#pace.settleSoon();
    this.#pace.drawSoon();
  }

  showPlate(plate: PlateScene): void {
    if (!this.#stage.takePlate(plate)) return;
    this.#arrangeStage("at once");
    this.#pace.drawSoon();
  }

  showPlan(plan: PlanScene | undefined): void {
    const wasOn = this.#stage.isOn;
    this.#stage.takePlan(plan);
    this.#arrangeStage("at once");
    // Told step by step, and seen on the plate only.
    if (wasOn || this.#stage.isOn) this.#pace.drawSoon();
  }

  showPlanBody(body: Extract<ToPreview, { kind: "planBody" }>): void {
    if (!this.#subjects.bodies.take(body)) return;
    this.#arrangeStage("at once");
    if (!this.#subjects.piece.isEmpty) this.#viewpoint.frameUnlessPlaced();
    this.#pace.drawSoon();
  }

  setParts(parts: readonly PartFacts[]): void {
    this.#overlay.setParts(parts);
    if (this.#subjects.piece.setKinds(parts.map(({ kind }) => kind))) this.#pace.drawSoon();
    else this.#drawing.showOverlay();
  }

  setMarks(marks: readonly FindingMark[]): void {
    this.#overlay.setMarks(marks);
    this.#pace.sortSoon();
    this.#drawing.showOverlay();
  }

  showField(field: FieldMessage): void {
    if (this.#subjects.piece.takeField(field)) this.#pace.drawSoon();
  }

  get hasField(): boolean {
    return this.#subjects.piece.hasField;
  }

  setWay(way: WearScene["wayOff"]): void {
    if (!this.#subjects.way.take(way)) return;
    arrangeWay(this.#subjects);
    // Her camera is not moved; one that nobody placed makes room for the arrow.
    if (way && !this.#subjects.piece.isEmpty) this.#viewpoint.frameUnlessPlaced();
    this.#pace.drawSoon();
  }

  setWayShare(share: number | undefined): void {
    const { way } = this.#subjects;
    if (share === way.share || !way.way) return;
    const wasAway = way.share !== undefined;
    const wasMoved = way.motion !== undefined;
    way.share = share;
    if ((way.motion !== undefined) !== wasMoved) this.#drawing.shade();
    if (share !== undefined && !wasAway) this.#viewpoint.makeRoomForWay();
    if (share === undefined) this.#viewpoint.goBack();
    this.#pace.drawSoon();
  }

  setBalance(balance: Pick<WearScene, "contacts" | "balance">): void {
    this.#overlay.setBalance(balance);
    if (this.#settings.isBalanceShown) this.#drawing.showOverlay();
  }

  showComparison(meshes: Pick<ComparisonMessage, "old" | "added" | "removed"> | undefined): void {
    this.#subjects.comparison.take(meshes);
    this.#arrangeStage("at once");
    arrangeWay(this.#subjects);
    if (meshes && !this.#subjects.piece.isEmpty) this.#viewpoint.frameUnlessPlaced();
    this.#pace.drawSoon();
  }

  setComparisonOutdated(isOutdated: boolean): void {
    this.#subjects.comparison.isOutdated = isOutdated;
    this.#pace.drawSoon();
  }

  setSettings(settings: ViewSettings): void {
    const before = this.#settings;
    this.#settings = settings;
    this.#stage.settings = settings;
    this.#viewpoint.settings = settings;
    this.#drawing.settings = settings;
    if (isAlone("comparisonShare", before, settings)) {
      arrangeComparison(this.#subjects, this.#stage, settings);
      this.#pace.drawSoon();
      return;
    }
    if (isAlone("printedHeight", before, settings)) {
      this.#drawing.setCut();
      this.#overlay.depthChanged();
      this.#pace.sortSoon();
      this.#pace.drawSoon();
      return;
    }
    this.#subjects.piece.isFieldShown = settings.isFieldShown;
    this.#subjects.plate.isShown = settings.isPlateShown;
    this.#arrangeStage("smoothly");
    arrangeWay(this.#subjects);
    this.#overlay.depthChanged();
    this.#drawing.sortMarks();
    this.#pace.drawSoon();
  }

  light(part: number): void {
    if (this.#materials.shared.lit.value === part) return;
    this.#materials.shared.lit.value = part;
    this.#pace.drawSoon();
  }

  setOutdated(isOutdated: boolean): void {
    const fade = isOutdated ? 0.55 : 0;
    if (this.#materials.shared.fade.value === fade) return;
    this.#materials.shared.fade.value = fade;
    this.#pace.drawSoon();
  }

  setCamera(camera: CameraState): void {
    this.#viewpoint.camera = camera;
  }

  get camera(): CameraState {
    return this.#viewpoint.camera;
  }

  look(view: StandardView): void {
    this.#viewpoint.look(view);
  }

  lookAt(place: Vector): void {
    this.#viewpoint.lookAt(place);
  }

  frame(): void {
    this.#viewpoint.frame();
  }

  orbit(right: number, up: number): void {
    this.#viewpoint.orbit(right, up);
  }

  pan(right: number, up: number): void {
    this.#viewpoint.pan(right, up);
  }

  zoom(factor: number): void {
    this.#viewpoint.zoom(factor);
  }

  refreshTheme(): void {
    this.#drawing.refreshTheme();
    this.#pace.drawSoon();
  }

  picture(): Promise<ArrayBuffer> {
    if (this.#context.isLost) return Promise.reject(new Error("the picture is gone for a moment: try again"));
    this.#pace.draw("fine");
    return this.#drawing.png();
  }

  dispose(): void {
    this.#pace.dispose();
    this.#controls.dispose();
    this.#viewpoint.dispose();
    disposeSubjects(this.#subjects);
    this.#drawing.release();
    this.#context.dispose();
    this.#root.remove();
  }

  /** Draws as soon as all is in place that came with it, and tells when it stands on the screen. */
  #pieceShown(what: "draft" | "solid", version: number, since: number, isFirst: boolean): void {
    this.#overlay.pieceChanged();
    this.#arrangeStage("at once");
    arrangeWay(this.#subjects);
    this.#drawing.setCut();
    if (isFirst) this.#viewpoint.frameUnlessPlaced();
    this.#drawing.shadeChanged();
    this.#pace.settleSoon();
    this.#pace.drawAtTaskEnd(() => {
      void this.#context.done().then(() => this.#events.onDrawn(what, version, performance.now() - since));
    });
  }

  /** Brings all in step with where the plate stands and whether the piece is seen on it. */
  #arrangeStage(manner: "smoothly" | "at once"): void {
    arrangeSubjects(this.#subjects, this.#materials, this.#stage, this.#settings);
    const { head } = this.#subjects;
    const isHeadWanted = this.#settings.isHeadShown && !this.#stage.isOn;
    if (isHeadWanted !== head.isWanted) {
      head.isWanted = isHeadWanted;
      this.#drawing.shade();
    }
    this.#viewpoint.turnStage(manner);
    this.#drawing.setCut();
  }

  #resized(): void {
    if (!this.#subjects.piece.isEmpty) this.#viewpoint.frameUnlessPlaced();
    this.#pace.draw();
  }

  #rested(): void {
    this.#overlay.depthChanged();
    this.#drawing.sortMarks();
    this.#drawing.showOverlay();
    this.#events.onCamera(this.camera, this.#viewpoint.standing);
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
