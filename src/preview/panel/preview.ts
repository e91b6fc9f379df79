import type { Message, Place } from "../../message";
import type { FindingMark, MakePieceView, PieceView, ViewSettings } from "../pieceView";
import type { DesignMessage, FromPreview, ToPreview, WearScene } from "../protocol";
import type { ActionId } from "./actions";
import { setText } from "./dom";
import { inReadingOrder } from "./findingsList";
import type { PreviewHost } from "./host";
import type { KeptState } from "./keptState";
import { camerasOf, keptDesignOf, readKeptState } from "./keptState";
import type { Layers } from "./layers";
import { layersOf } from "./layers";
import type { Layout } from "./layout";
import { makeLayout } from "./layout";
import { LitPart } from "./litPart";
import { isModelOld } from "./modelAge";
import { paintLayout } from "./paintLayout";
import { ParameterEdits } from "./parameterEdits";
import type { ParameterState } from "./parameterValues";
import type { Performer, Walked } from "./performAction";
import { performAction } from "./performAction";
import { PictureFeed } from "./pictureFeed";
import { listenToKeys } from "./pictureKeys";
import { isOnPlate } from "./planState";
import { isMotionReduced } from "./reducedMotion";
import type { ShownState } from "./shownState";
import { isSameDesign, nothingShown, receive } from "./shownState";
import type { Speech } from "./speech";
import { Telling } from "./telling";
import { wholePlace } from "./textEquivalent";
import { findingOf, partOf } from "./walk";
import { WayPlayer } from "./wayPlayer";
import { wearOfPicture } from "./wearState";

/** The whole preview: takes messages in, keeps the picture and the controls around it in step. */
export class Preview implements Performer {
  readonly layout: Layout;
  readonly view: PieceView | undefined;
  #shown: ShownState = nothingShown;
  #kept: KeptState;
  #findings: readonly Message[] = [];
  readonly #host: PreviewHost;
  readonly #lit: LitPart;
  readonly #feed: PictureFeed | undefined;
  readonly #telling: Telling;
  readonly #edits = new ParameterEdits({
    onChange: (state) => this.layout.parameters.update(state),
    onSend: (values) => this.#host.post({ kind: "setValues", values }),
  });
  readonly #player = new WayPlayer({
    show: (share) => this.view?.setWayShare(share),
    changed: () => this.#paintWay(),
    isStill: isMotionReduced,
    now: () => performance.now(),
    request: (callback) => requestAnimationFrame(callback),
    cancel: (handle) => cancelAnimationFrame(handle),
  });

  constructor(root: HTMLElement, host: PreviewHost, speech: Speech, makeView: MakePieceView) {
    this.#host = host;
    this.#telling = new Telling(speech, () => this.#shown);
    this.#kept = readKeptState(host.kept);
    this.layout = makeLayout(root, {
      perform: (id) => this.perform(id),
      ask: (command) => host.post({ kind: "command", command }),
      goTo: (place) => this.goTo(place),
      pointPart: (part) => this.#point(part),
      openPart: (part) => this.openPart(part),
      pointFinding: (finding) => this.#point(finding ? partOf(finding, this.parts) : -1),
      setParameter: (name, value) => this.#edits.set(name, value),
      setSection: (section) => this.setSettings({ ...this.settings, section }),
      setSideWidth: (sideWidth) => this.keep({ sideWidth }),
      fold: (name) => {
        const { folded } = this.#kept;
        this.keep({
          folded: folded.includes(name) ? folded.filter((one) => one !== name) : [...folded, name],
        });
      },
      showCautions: () => {
        this.keep({ isSideOpen: true });
        this.layout.cautions.element.scrollIntoView({ block: "nearest" });
        this.layout.cautions.element.focus();
      },
      playWay: () => {
        this.#leavePlate();
        this.#player.playFromStart();
      },
      toggleWay: () => this.#player.toggle(),
      scrubWay: (share) => this.#player.scrub(share),
      closeWay: () => {
        this.#player.close();
        this.layout.picture.focus({ preventScroll: true });
      },
      setPrinted: (printedHeight) => this.setSettings({ ...this.settings, printedHeight }),
      useOrientation: (orientation) => host.post({ kind: "useOrientation", orientation }),
      setComparisonShare: (comparisonShare) => this.setSettings({ ...this.settings, comparisonShare }),
      lookAt: (place) => {
        if (this.isOnPlate) this.setSettings({ ...this.settings, isPlateView: false });
        this.view?.lookAt(place);
      },
    });
    this.#lit = new LitPart(this.layout.hoverCard);
    this.view = this.#makeView(makeView);
    this.view?.setSettings(this.settings);
    this.#feed = this.view && new PictureFeed(this.view, () => this.#player.close());
    listenToKeys(this.layout, (id) => this.perform(id));
    this.layout.picture.addEventListener("pointerleave", () => this.layout.hoverCard.hide());
    this.#paint();
  }

  get parts(): DesignMessage["parts"] {
    return this.#shown.design?.parts ?? [];
  }
  get findings(): readonly Message[] {
    return this.#findings;
  }
  get settings(): ViewSettings {
    return this.#kept.settings;
  }
  get parameters(): ParameterState {
    return this.#edits.state;
  }
  get hasField(): boolean {
    return this.view?.hasField === true;
  }
  get hasBalance(): boolean {
    const { balance, contacts = [] } = this.#wear ?? {};
    return this.view !== undefined && (balance !== undefined || contacts.length > 0);
  }
  get hasWay(): boolean {
    return this.view !== undefined && this.#wear?.wayOff !== undefined;
  }
  get hasPlate(): boolean {
    const { plan, plateVersion } = this.#shown;
    return this.view !== undefined && (plan !== undefined || plateVersion !== undefined);
  }
  get hasPlan(): boolean {
    return this.view !== undefined && this.#shown.plan !== undefined;
  }
  get isOnPlate(): boolean {
    return this.view !== undefined && isOnPlate(this.#shown, this.settings);
  }
  get hasComparison(): boolean {
    return this.view !== undefined && this.#shown.comparison !== undefined;
  }
  get layers(): Layers | undefined {
    const layers = this.#shown.plan?.scene.layers;
    return layers && layersOf(layers);
  }
  get walked(): Walked {
    return this.#lit.walked;
  }

  /** Takes a message that was checked; drops it where it is stale. */
  receive(message: ToPreview): void {
    const before = this.#shown;
    const after = receive(before, message);
    if (after === before) return;
    this.#shown = after;
    this.#feed?.take(before, after, message);
    this.#tellCompared(before, after, message);
    switch (message.kind) {
      case "design":
        this.#takeDesign(before.design, message);
        break;
      case "state":
        this.#takeFindings(inReadingOrder(message.messages));
        break;
      case "comparisonEnded":
        this.#leaveComparison();
        break;
    }
    if (after.design !== undefined) this.#keepDesign();
    this.#feed?.tell(this.#shown, this.settings, this.#findings);
    this.#paint();
  }

  /** The extension learns with which commit the piece is compared, or that it stands alone again. */
  #tellCompared(before: ShownState, after: ShownState, message: ToPreview): void {
    const revision = after.comparison?.scene.revision.hash;
    if (message.kind === "comparison" || revision !== before.comparison?.scene.revision.hash) {
      this.#host.post({ kind: "compared", ...(revision !== undefined && { revision }) });
    }
  }

  /** What is about to be hidden hands the keyboard to the picture. */
  #leaveComparison(): void {
    const { comparisonBar, sections, picture } = this.layout;
    const hidden = [comparisonBar.element, sections.comparison.element];
    if (hidden.some((element) => element.contains(document.activeElement))) {
      picture.focus({ preventScroll: true });
    }
  }

  /** Does what an action stands for. */
  perform(id: ActionId): void {
    performAction(this, id);
  }

  toggleWay(): void {
    if (this.#player.shown.isOpen) this.#player.close();
    else {
      this.#leavePlate();
      this.#player.playFromStart();
    }
  }

  /** The way on leads to the head. */
  #leavePlate(): void {
    if (this.isOnPlate) this.setSettings({ ...this.settings, isPlateView: false, isHeadShown: true });
  }

  toggleDetails(): void {
    this.keep({ isSideOpen: !this.#kept.isSideOpen });
  }

  openHelp(): void {
    this.layout.help.open();
  }

  ask(message: FromPreview): void {
    this.#host.post(message);
  }

  say(text: string): void {
    this.#telling.say(text);
  }

  sayAtRest(text: string): void {
    this.#telling.sayAtRest(text);
  }

  goTo(place: Place): void {
    this.#host.post({ kind: "goTo", place });
  }

  openPart(part: number): void {
    const origin = this.parts[part]?.origin;
    if (origin !== undefined) this.goTo(origin);
  }

  setSettings(settings: ViewSettings): void {
    if (settings.isPlateView && !this.settings.isPlateView) this.#player.close();
    const isTurned =
      settings.isPlateView !== this.settings.isPlateView ||
      settings.areDifferencesShown !== this.settings.areDifferencesShown;
    this.keep({ settings });
    this.view?.setSettings(settings);
    // Each view has its own marks.
    if (isTurned) this.#feed?.tell(this.#shown, this.settings, this.#findings);
  }

  resetParameters(): void {
    this.#edits.reset();
  }

  flushValues(): void {
    this.#edits.flush();
  }

  /** Changes what outlives a reload. */
  keep(change: Partial<KeptState>): void {
    this.#kept = { ...this.#kept, ...change };
    this.#host.keep(this.#kept);
    this.#paint();
  }

  /** Lights what was walked to by keys, with its card. */
  walkTo(walked: Walked): void {
    this.#lit.walkTo(walked, this.parts);
    this.#paint();
  }

  #makeView(makeView: MakePieceView): PieceView | undefined {
    try {
      return makeView(
        this.layout.picture,
        {
          onPoint: (part, x, y, gap) => this.#lit.hover(this.parts[part], x, y, gap),
          onPick: (part) => this.openPart(part),
          onPickMark: (mark) => this.#openMark(mark),
          onCamera: (camera, frame) => {
            this.#kept = { ...this.#kept, [frame === "plate" ? "plateCamera" : "camera"]: camera };
            this.#host.keep(this.#kept);
          },
          onDrawn: (what, version, milliseconds) =>
            this.#host.post({ kind: "drawn", what, version, milliseconds }),
          onContext: (isLost) => {
            const { trouble } = this.layout;
            setText(trouble, isLost ? "The graphics were lost. The picture comes back when they do." : "");
            trouble.hidden = !isLost;
          },
        },
        camerasOf(this.#kept),
      );
    } catch (error) {
      // No WebGL 2: the drawing sheet stands in, and the extension learns it with `ready`; the reason is for its log.
      const reason = error instanceof Error ? error.message : String(error);
      this.#host.post({ kind: "fault", text: `The picture cannot be drawn: ${reason}` });
      return undefined;
    }
  }

  /** What the checks found on the solid that is in the picture; of another one nothing may be drawn on it. */
  get #wear(): WearScene | undefined {
    return wearOfPicture(this.#shown);
  }

  /** Progress brings the same findings: the walk through them stays then. */
  #takeFindings(findings: readonly Message[]): void {
    if (JSON.stringify(findings) === JSON.stringify(this.#findings)) return;
    this.#findings = findings;
    if (this.walked.finding >= 0) this.walkTo({ part: -1, finding: -1 });
  }

  #takeDesign(before: DesignMessage | undefined, design: DesignMessage): void {
    const isOther = before !== undefined && !isSameDesign(before, design);
    this.#edits.take(design, isOther);
    if (isOther) {
      this.#lit.point(-1);
      this.walkTo({ part: -1, finding: -1 });
    }
  }

  #keepDesign(): void {
    const design = keptDesignOf(this.#shown);
    if (JSON.stringify(design) !== JSON.stringify(this.#kept.design)) this.keep({ design });
  }

  #point(part: number): void {
    this.#lit.point(part);
    this.#light();
  }

  #openMark(mark: FindingMark): void {
    const finding = findingOf(mark, this.#findings, this.parts);
    if (finding !== undefined || mark.part >= 0) {
      this.walkTo({ part: mark.part, finding: finding === undefined ? -1 : this.#findings.indexOf(finding) });
    }
    const place = mark.place ?? (finding && wholePlace(finding));
    if (place !== undefined) this.goTo(place);
  }

  #light(): void {
    this.view?.light(this.#lit.among(this.parts, this.#shown.cursor));
  }

  #paint(): void {
    paintLayout(this.layout, {
      shown: this.#shown,
      kept: this.#kept,
      parameters: this.parameters,
      findings: this.#findings,
      walked: this.walked,
      hasView: this.view !== undefined,
      hasField: this.hasField,
      way: this.#player.shown,
      isStill: isMotionReduced(),
    });
    this.view?.setOutdated(isModelOld(this.#shown));
    this.#light();
    this.#telling.tellSoon();
  }

  /** Of each picture of the way only its bar changes. */
  #paintWay(): void {
    const { shown } = this.#player;
    const words = this.#wear?.wayOff?.words ?? "";
    const wasOpen = !this.layout.wayBar.element.hidden;
    if (wasOpen !== shown.isOpen) this.#paint();
    else this.layout.wayBar.update(shown, words, isMotionReduced());
  }
}
