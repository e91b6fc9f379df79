import * as vscode from "vscode";
import type { ServiceRequest } from "../../build/service/protocol";
import { type DesignState, type Designs, fileEndings, type PartyKind } from "../designState";
import type { EngineHost } from "../engine/engineHost";
import { setting } from "../settings/settings";
import { type BuildChange, Builds } from "./builds";
import { realClock } from "./clock";
import { type DesignRecord, isOutdated, type Values } from "./designRecord";
import { textsFor } from "./openTexts";
import { Rebuilding } from "./rebuilding";
import { Throttle } from "./throttle";
import { Watching } from "./watching";

/** Listeners hear of progress at most so often, ms. */
const progressInterval = 100;
/** Most builds are over so soon that nobody need be told that they began, ms. */
const quietStart = 300;
/** What lists and lines of text show only when the build has ended. */
const shownByPicture: ReadonlySet<BuildChange> = new Set([
  "head",
  "draft",
  "solid",
  "facts",
  "plate",
  "gaps",
  "check",
  "plan",
  "planBody",
]);
/** A design is built so long after it was opened, so that opening costs nothing, ms. */
const openingPause = 400;

/** A file of ours on disk: nothing else can be built. */
export const isDesign = ({ scheme, path }: vscode.Uri): boolean =>
  scheme === "file" && path.endsWith(fileEndings.design);

/** The designs of a window, their builds, and what the person chose for each. */
export class WorkspaceDesigns implements Designs, vscode.Disposable {
  readonly #memento: vscode.Memento;
  readonly #builds: Builds;
  readonly #rebuilding: Rebuilding;
  readonly #watching: Watching;
  readonly #changed = new vscode.EventEmitter<vscode.Uri>();
  readonly #activeChanged = new vscode.EventEmitter<vscode.Uri | undefined>();
  readonly #buildChanged = new vscode.EventEmitter<{ record: DesignRecord; change: BuildChange }>();
  readonly #progress: Throttle<DesignRecord>;
  readonly #subscriptions: vscode.Disposable[];
  /** Designs that previews show. */
  readonly #shown = new Map<string, number>();
  /** Designs that just changed, or whose build has just begun: not told of yet. */
  readonly #quiet = new Map<DesignRecord, NodeJS.Timeout>();
  #active: vscode.Uri | undefined;
  #opening: NodeJS.Timeout | undefined;

  readonly onDidChange = this.#changed.event;
  readonly onDidChangeActive = this.#activeChanged.event;
  /** All that happens to a design, at once and with the meshes: for previews and problems. */
  readonly onDidBuildChange = this.#buildChanged.event;

  constructor(memento: vscode.Memento, engine: EngineHost, log: vscode.LogOutputChannel) {
    this.#memento = memento;
    this.#progress = new Throttle((record) => this.#tell(record, "progress"), realClock, progressInterval);
    this.#builds = new Builds({
      engine: () => engine.client,
      mayBuild: () => vscode.workspace.isTrusted,
      requestFor: (design) => this.#requestFor(design),
      changed: (record, change) => this.#onChange(record, change),
      failed: (error) => log.error(error instanceof Error ? error : String(error)),
      clock: realClock,
    });
    this.#rebuilding = new Rebuilding(
      this.#builds,
      {
        mode: (design) => setting("rebuild", vscode.Uri.file(design)),
        typingPause: (design) => setting("typingPause", vscode.Uri.file(design)),
        isLookedAt: (design) => this.#isLookedAt(design),
      },
      realClock,
    );
    this.#watching = new Watching(this.#builds, this.#rebuilding);
    this.#subscriptions = [
      vscode.window.onDidChangeActiveTextEditor((editor) => this.#follow(editor)),
      vscode.window.onDidChangeVisibleTextEditors(() => this.#buildVisible()),
      vscode.workspace.onDidGrantWorkspaceTrust(() => this.#buildLookedAt()),
      vscode.workspace.onDidCloseTextDocument(({ uri }) => {
        if (isDesign(uri) && !this.#isLookedAt(uri.fsPath)) engine.forget(uri.fsPath);
      }),
    ];
    this.#follow(vscode.window.activeTextEditor);
    this.#buildVisible();
  }

  get active(): vscode.Uri | undefined {
    return this.#active;
  }

  get known(): readonly DesignState[] {
    return this.#builds.records.map((record) => this.#stateOf(record));
  }

  state(design: vscode.Uri): DesignState {
    return this.#stateOf(this.record(design));
  }

  /** All that is known of a design, with its meshes where a preview shows it. */
  record(design: vscode.Uri): DesignRecord {
    const known = this.#builds.known(design.fsPath);
    if (known) return known;
    const record = this.#builds.record(design.fsPath);
    record.chosen = this.#memento.get(chosenKey(design), {});
    return record;
  }

  async build(design: vscode.Uri): Promise<DesignState> {
    this.record(design);
    if (!isDesign(design)) return this.state(design);
    return this.#stateOf(await this.#builds.build(design.fsPath));
  }

  async planned(design: vscode.Uri): Promise<DesignState> {
    return this.#stateOf(await this.#builds.planned(design.fsPath));
  }

  cancel(design: vscode.Uri): void {
    this.#builds.cancel(design.fsPath);
  }

  async choose(design: vscode.Uri, kind: PartyKind, file: vscode.Uri | undefined): Promise<void> {
    const { [kind]: _, ...others } = this.record(design).chosen;
    const chosen = file ? { ...others, [kind]: file.fsPath } : others;
    this.#builds.setChosen(design.fsPath, chosen);
    const isAny = Object.keys(chosen).length > 0;
    await this.#memento.update(chosenKey(design), isAny ? chosen : undefined);
    await this.#builds.build(design.fsPath);
  }

  async setValues(design: vscode.Uri, values: Values): Promise<void> {
    this.record(design);
    this.#builds.setValues(design.fsPath, values);
    await this.#builds.build(design.fsPath, "afterPicture");
  }

  /** What the engine is asked for this design: with what was chosen and moved. */
  requestOf(design: vscode.Uri): ServiceRequest {
    const record = this.record(design);
    return this.#builds.requestOf(record);
  }

  /** A preview shows a design until the result is disposed: its meshes are kept, and it builds by itself. */
  show(design: vscode.Uri): vscode.Disposable {
    const path = design.fsPath;
    const record = this.record(design);
    const giveUp = this.#builds.view(path);
    this.#shown.set(path, (this.#shown.get(path) ?? 0) + 1);
    // A first look asks for a build, whatever the setting says of later ones.
    if (record.picture?.isEmpty && !this.#builds.isBusy(path)) void this.build(design);
    return new vscode.Disposable(() => {
      giveUp();
      const left = (this.#shown.get(path) ?? 1) - 1;
      if (left > 0) this.#shown.set(path, left);
      else this.#shown.delete(path);
    });
  }

  dispose(): void {
    clearTimeout(this.#opening);
    for (const timer of this.#quiet.values()) clearTimeout(timer);
    this.#rebuilding.dispose();
    this.#watching.dispose();
    this.#builds.dispose();
    this.#progress.dispose();
    for (const each of this.#subscriptions) each.dispose();
    for (const emitter of [this.#changed, this.#activeChanged, this.#buildChanged]) emitter.dispose();
  }

  #requestFor(design: string) {
    const uri = vscode.Uri.file(design);
    const open = vscode.workspace.textDocuments.map((document) => ({
      path: document.uri.scheme === "file" ? document.uri.fsPath : "",
      isDirty: document.isDirty,
      text: () => document.getText(),
    }));
    const { inputs } = this.#builds.record(design);
    const texts = textsFor(inputs, setting("rebuild", uri) === "whileTyping", open);
    return {
      ...(texts && { texts }),
      timeLimitSeconds: setting("timeLimit", uri),
      memoryLimitMB: setting("memoryLimit", uri),
    };
  }

  #onChange(record: DesignRecord, change: BuildChange): void {
    if (change === "progress") {
      if (!this.#quiet.has(record)) this.#progress.call(record);
      return;
    }
    // What changed is mostly built at once: that it was outdated would only flash up.
    if (change === "started" || change === "stale") {
      clearTimeout(this.#quiet.get(record));
      this.#quiet.set(
        record,
        setTimeout(() => {
          this.#quiet.delete(record);
          this.#tell(record, change);
        }, quietStart),
      );
      return;
    }
    if (change === "ended") {
      clearTimeout(this.#quiet.get(record));
      this.#quiet.delete(record);
      this.#watching.follow(record.inputs);
    }
    this.#tell(record, change);
  }

  #tell(record: DesignRecord, change: BuildChange): void {
    this.#buildChanged.fire({ record, change });
    // What only a picture shows is nothing that a list or a line of text would.
    if (!shownByPicture.has(change)) this.#changed.fire(vscode.Uri.file(record.path));
  }

  #follow(editor: vscode.TextEditor | undefined): void {
    const uri = editor?.document.uri;
    if (!uri || !isDesign(uri) || uri.toString() === this.#active?.toString()) return;
    this.#active = uri;
    this.record(uri);
    this.#activeChanged.fire(uri);
  }

  #isLookedAt(design: string): boolean {
    if (this.#shown.has(design)) return true;
    return vscode.window.visibleTextEditors.some(
      ({ document }) => document.uri.scheme === "file" && document.uri.fsPath === design,
    );
  }

  #buildVisible(): void {
    clearTimeout(this.#opening);
    this.#opening = setTimeout(() => this.#buildLookedAt(), openingPause);
  }

  #buildLookedAt(): void {
    if (!vscode.workspace.isTrusted) return;
    const visible = vscode.window.visibleTextEditors.map(({ document }) => document.uri).filter(isDesign);
    for (const uri of visible) this.record(uri);
    for (const path of new Set([...visible.map(({ fsPath }) => fsPath), ...this.#shown.keys()])) {
      this.#rebuilding.lookedAt(path);
    }
  }

  #stateOf(record: DesignRecord): DesignState {
    const { path, status, stage, share, messages, facts, plate, report, chosen, values } = record;
    return {
      uri: vscode.Uri.file(path),
      status,
      isOutdated: isOutdated(record),
      ...(stage !== undefined && { stage }),
      ...(share !== undefined && { share }),
      messages,
      ...(facts && { facts, header: facts.header }),
      ...(plate && { plate }),
      ...(report && { report }),
      chosen: Object.fromEntries(
        Object.entries(chosen).map(([kind, file]) => [kind, vscode.Uri.file(file as string)]),
      ),
      values,
    };
  }
}

/** Choices are kept for the workspace. */
const chosenKey = (design: vscode.Uri): string => `anadem.chosen:${design.toString()}`;
