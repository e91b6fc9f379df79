import type { Message, Place } from "../../message";
import type { FindingMark, MakePieceView, PieceView, ViewSettings } from "../pieceView";
import type { DesignMessage, FromPreview, PlanScene, ToPreview, WearScene } from "../protocol";
import type { ActionId } from "./actions";
import { actionIds, actionOf, ariaKey } from "./actions";
import { comparisonMark, comparisonState, comparisonText } from "./comparisonState";
import { setAttribute, setText } from "./dom";
import { inReadingOrder } from "./findingsList";
import { oncePerFrame } from "./frameThrottle";
import type { PreviewHost } from "./host";
import type { KeptState } from "./keptState";
import { camerasOf, keptDesignOf, readKeptState } from "./keptState";
import type { Layers } from "./layers";
import { layersOf } from "./layers";
import type { Layout } from "./layout";
import { makeLayout } from "./layout";
import { isModelOld } from "./modelAge";
import { paintLayout } from "./paintLayout";
import type { ParameterState } from "./parameterValues";
import { differences, noParameters, reset, set, told } from "./parameterValues";
import type { Performer, Walked } from "./performAction";
import { performAction } from "./performAction";
import { isOnPlate, planOfPicture, planState } from "./planState";
import { isMotionReduced } from "./reducedMotion";
import type { ShownState } from "./shownState";
import { isSameDesign, nothingShown, receive } from "./shownState";
import type { Speech } from "./speech";
import { makeBuildTeller, makeVerdictTeller } from "./speech";
import { planText, sentences, textEquivalent, wholePlace } from "./textEquivalent";
import { findingOf, marksOf, partOf, withoutMarked } from "./walk";
import { WayPlayer } from "./wayPlayer";
import { wearOfPicture, wearState } from "./wearState";
import { verdictText } from "./wearWords";

/** Rows of the plan that are spoken when it is done. */
const spokenRows = 4;

/** The whole preview: takes messages in, keeps the picture and the controls around it in step. */
export class Preview implements Performer {
  readonly layout: Layout;
  readonly view: PieceView | undefined;
  #shown: ShownState = nothingShown;
  #kept: KeptState;
  #parameters: ParameterState = noParameters;
  #findings: readonly Message[] = [];
  /** A part that a control points at, −1 for none. */
  #pointed = -1;
  #walked: Walked = { part: -1, finding: -1 };
  readonly #host: PreviewHost;
  readonly #speech: Speech;
  readonly #tellBuild = makeBuildTeller();
  readonly #tellVerdict = makeVerdictTeller();
  readonly #tellPlan = makeVerdictTeller();
  readonly #tellComparison = makeVerdictTeller();
  readonly #player = new WayPlayer({
    show: (share) => this.view?.setWayShare(share),
    changed: () => this.#paintWay(),
    isStill: isMotionReduced,
    now: () => performance.now(),
    request: (callback) => requestAnimationFrame(callback),
    cancel: (handle) => cancelAnimationFrame(handle),
  });
  /** What the view was told of fit and wear, as text: told again only where it is other. */
  #toldWear = "";
  #toldMarks = "";
  #toldPlan: PlanScene | undefined;
  #resting: ReturnType<typeof setTimeout> | undefined;
  #telling: ReturnType<typeof setTimeout> | undefined;
  readonly #sendValues = oncePerFrame((state: ParameterState) =>
    this.#host.post({ kind: "setValues", values: differences(state) }),
  );

  constructor(root: HTMLElement, host: PreviewHost, speech: Speech, makeView: MakePieceView) {
    this.#host = host;
    this.#speech = speech;
    this.#kept = readKeptState(host.kept);
    this.layout = makeLayout(root, {
      perform: (id) => this.perform(id),
      ask: (command) => host.post({ kind: "command", command }),
      goTo: (place) => this.goTo(place),
      pointPart: (part) => this.#point(part),
      openPart: (part) => this.openPart(part),
      pointFinding: (finding) => this.#point(finding ? partOf(finding, this.parts) : -1),
      setParameter: (name, value) => this.#setParameters(set(this.#parameters, name, value)),
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
    this.view = this.#makeView(makeView);
    this.view?.setSettings(this.settings);
    this.#listenToKeys();
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
    return this.#parameters;
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
    return this.#walked;
  }

  /** Takes a message that was checked; drops it where it is stale. */
  receive(message: ToPreview): void {
    const before = this.#shown;
    const after = receive(before, message);
    if (after === before) return;
    this.#shown = after;
    if (before.picture !== undefined && after.picture === undefined && message.kind === "design") {
      this.view?.showDraft({ kind: "draft", version: message.version, parts: [] });
    }
    this.#takeComparison(before, after, message);
    switch (message.kind) {
      case "design":
        this.#takeDesign(before.design, message);
        break;
      case "state":
        this.#takeFindings(inReadingOrder(message.messages));
        break;
      case "draft":
        this.#player.close();
        this.view?.showDraft(message);
        break;
      case "solid":
        this.#player.close();
        this.view?.showSolid(message);
        break;
      case "head":
        this.view?.showHead(message.mesh);
        break;
      case "plate":
        this.view?.showPlate(message.plate);
        break;
      case "field":
        this.view?.showField(message);
        break;
      case "planBody":
        this.view?.showPlanBody(message);
        break;
      case "comparisonEnded":
        this.#leaveComparison();
        break;
    }
    if (after.design !== undefined) this.#keepDesign();
    this.#tellView();
    this.#paint();
  }

  /** The picture shows the piece beside the old one as long as that is of the design and the commit that are shown. */
  #takeComparison(before: ShownState, after: ShownState, message: ToPreview): void {
    const isNew = message.kind === "comparison";
    if (isNew) this.view?.showComparison(message);
    else if (before.comparison && !after.comparison) this.view?.showComparison(undefined);
    else if (after.comparing === before.comparing) return;
    this.view?.setComparisonOutdated(comparisonState(after)?.isOutdated === true);
    const revision = after.comparison?.scene.revision.hash;
    if (isNew || revision !== before.comparison?.scene.revision.hash) {
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
    this.#speech.say(text);
  }

  sayAtRest(text: string): void {
    clearTimeout(this.#resting);
    this.#resting = setTimeout(() => this.say(text), 450);
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
    if (isTurned) this.#tellView();
  }

  /** The values of the controls; what differs from the file goes out, at most once a frame. */
  #setParameters(state: ParameterState): void {
    this.#parameters = state;
    this.layout.parameters.update(state);
    this.#sendValues.call(state);
  }

  resetParameters(): void {
    this.#sendValues.drop();
    this.#parameters = reset(this.#parameters);
    this.layout.parameters.update(this.#parameters);
  }

  /** Sends at once what waits for the next frame. */
  flushValues(): void {
    this.#sendValues.flush();
  }

  /** Changes what outlives a reload. */
  keep(change: Partial<KeptState>): void {
    this.#kept = { ...this.#kept, ...change };
    this.#host.keep(this.#kept);
    this.#paint();
  }

  /** Lights what was walked to by keys, with its card. */
  walkTo(walked: Walked): void {
    this.#walked = walked;
    const part = this.parts[walked.part];
    if (part === undefined) this.layout.hoverCard.hide();
    else this.layout.hoverCard.show(part);
    this.#paint();
  }

  #makeView(makeView: MakePieceView): PieceView | undefined {
    try {
      return makeView(
        this.layout.picture,
        {
          onPoint: (part, x, y, gap) => this.#hover(part, x, y, gap),
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

  /** Progress is told often and each check tells all again: only what is other goes to the view. */
  #tellView(): void {
    const { view } = this;
    if (view === undefined) return;
    const { wayOff, contacts, balance, marks = [] } = this.#wear ?? {};
    const wear = JSON.stringify([wayOff, contacts, balance]);
    if (wear !== this.#toldWear) {
      const before = JSON.parse(this.#toldWear || "[]");
      this.#toldWear = wear;
      if (JSON.stringify(wayOff) !== JSON.stringify(before[0] ?? undefined)) {
        this.#player.close();
        view.setWay(wayOff);
      }
      view.setBalance({ contacts, balance });
    }
    this.#tellPlanOf(view);
    const shown = this.#marks(marks);
    const told = JSON.stringify(shown);
    if (told === this.#toldMarks) return;
    this.#toldMarks = told;
    view.setMarks(shown);
  }

  #tellPlanOf(view: PieceView): void {
    const plan = this.#shown.plan?.scene;
    if (plan === this.#toldPlan) return;
    this.#toldPlan = plan;
    view.showPlan(plan);
  }

  /** On the plate what the plan found is marked, on the head what the checks of fit and wear found. */
  #marks(ofWear: WearScene["marks"]): FindingMark[] {
    const ofPlan = planOfPicture(this.#shown)?.marks ?? [];
    const [own, others] = this.isOnPlate ? [ofPlan, ofWear] : [ofWear, ofPlan];
    const compared =
      this.isOnPlate || !this.settings.areDifferencesShown ? undefined : this.#shown.comparison;
    return [...marksOf(withoutMarked(this.#findings, others), own, this.parts), ...comparisonMark(compared)];
  }

  /** Progress brings the same findings: the walk through them stays then. */
  #takeFindings(findings: readonly Message[]): void {
    if (JSON.stringify(findings) === JSON.stringify(this.#findings)) return;
    this.#findings = findings;
    if (this.#walked.finding >= 0) this.walkTo({ part: -1, finding: -1 });
  }

  #takeDesign(before: DesignMessage | undefined, design: DesignMessage): void {
    const isOther = before !== undefined && !isSameDesign(before, design);
    this.#parameters = told(this.#parameters, design, isOther);
    this.view?.setParts(design.parts);
    if (isOther) {
      this.#pointed = -1;
      this.walkTo({ part: -1, finding: -1 });
    }
  }

  #keepDesign(): void {
    const design = keptDesignOf(this.#shown);
    if (JSON.stringify(design) !== JSON.stringify(this.#kept.design)) this.keep({ design });
  }

  #point(part: number): void {
    this.#pointed = part;
    this.#light();
  }

  #hover(part: number, x: number, y: number, gap: number | undefined): void {
    const facts = this.parts[part];
    if (facts === undefined && gap === undefined) this.layout.hoverCard.hide();
    else this.layout.hoverCard.show(facts, { x, y }, gap);
  }

  #openMark(mark: FindingMark): void {
    const finding = findingOf(mark, this.#findings, this.parts);
    if (finding !== undefined || mark.part >= 0) {
      this.walkTo({ part: mark.part, finding: finding === undefined ? -1 : this.#findings.indexOf(finding) });
    }
    const place = mark.place ?? (finding && wholePlace(finding));
    if (place !== undefined) this.goTo(place);
  }

  /** The part that is lit: what is pointed at, else what was walked to, else where the editor's cursor is. */
  get #lit(): number {
    if (this.#pointed >= 0) return this.#pointed;
    return this.#walked.part >= 0 ? this.#walked.part : this.#shown.cursor;
  }

  #light(): void {
    this.view?.light(this.#lit < this.parts.length ? this.#lit : -1);
  }

  #paint(): void {
    paintLayout(this.layout, {
      shown: this.#shown,
      kept: this.#kept,
      parameters: this.#parameters,
      findings: this.#findings,
      walked: this.#walked,
      hasView: this.view !== undefined,
      hasField: this.hasField,
      way: this.#player.shown,
      isStill: isMotionReduced(),
    });
    this.view?.setOutdated(isModelOld(this.#shown));
    this.#light();
    this.#tellSoon();
  }

  /** Of each picture of the way only its bar changes. */
  #paintWay(): void {
    const { shown } = this.#player;
    const words = this.#wear?.wayOff?.words ?? "";
    const wasOpen = !this.layout.wayBar.element.hidden;
    if (wasOpen !== shown.isOpen) this.#paint();
    else this.layout.wayBar.update(shown, words, isMotionReduced());
  }

  /** Facts may come just after the build's end: what is said waits for them a moment. */
  #tellSoon(): void {
    const { design, build } = this.#shown;
    clearTimeout(this.#telling);
    this.#telling = setTimeout(() => {
      const wear = wearState(this.#shown);
      const built = this.#tellBuild(build?.phase, build?.version ?? 0, textEquivalent(design, build));
      const judged = wear.isOld ? undefined : this.#tellVerdict(design?.uri, verdictText(wear.verdict));
      const plan = planState(this.#shown);
      const isPlanned = plan.scene?.isWhole === true && !plan.isOld;
      const planned = isPlanned ? this.#tellPlan(design?.uri, planText(plan, spokenRows)) : undefined;
      const compared = this.#tellComparison(design?.uri, comparisonText(comparisonState(this.#shown)));
      const text = sentences(built, judged, planned, compared);
      if (text !== "") this.say(text);
    }, 400);
  }

  #listenToKeys(): void {
    const { picture } = this.layout;
    setAttribute(picture, "aria-keyshortcuts", actionIds.map(ariaKey).join(" "));
    picture.addEventListener("keydown", (event) => {
      const id = actionOf(event);
      if (id === undefined) return;
      // A mark in the picture is a button of its own.
      const isOnMark = event.target !== picture && (event.target as Element).closest("button") !== null;
      if (isOnMark && (event.key === "Enter" || event.key === " ")) return;
      event.preventDefault();
      this.perform(id);
    });
    picture.addEventListener("pointerdown", (event) => {
      if ((event.target as Element).closest("button") === null) picture.focus({ preventScroll: true });
    });
    picture.addEventListener("pointerleave", () => this.layout.hoverCard.hide());
    document.addEventListener("keydown", (event) => {
      const isTyped =
        (event.target as Element).closest("input, select, textarea, [role=menu], #picture") !== null;
      if (!isTyped && !event.defaultPrevented && actionOf(event) === "help") this.perform("help");
    });
  }
}
