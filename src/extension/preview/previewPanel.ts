import { randomBytes } from "node:crypto";
import { basename } from "node:path";
import * as vscode from "vscode";
import { previewPage } from "../../preview/previewPage";
import type { FromPreview, PlanOrientation, ToPreview } from "../../preview/protocol";
import { readFromPreview } from "../../preview/protocolChecks";
import type { BuildChange } from "../builds/builds";
import type { DesignRecord } from "../builds/designRecord";
import type { WorkspaceDesigns } from "../builds/workspaceDesigns";
import type { WorkspaceComparisons } from "../versions/workspaceComparisons";
import { CursorParts } from "./cursorPart";
import { PanelMessages } from "./panelMessages";
import { goneNotice, nothingNotice, restrictedNotice } from "./previewNotices";

/** What a panel asks of those around it. */
export interface PanelDeeds {
  command(panel: PreviewPanel, command: Extract<FromPreview, { kind: "command" }>["command"]): void;
  goTo(panel: PreviewPanel, place: Extract<FromPreview, { kind: "goTo" }>["place"]): void;
  writeValues(design: vscode.Uri): void;
  useOrientation(design: vscode.Uri, orientation: PlanOrientation["orientation"]): void;
  savePicture(design: vscode.Uri, png: ArrayBuffer): void;
  sheet(design: vscode.Uri): Promise<string | undefined>;
  log(text: string): void;
}

/** The last that a view said it had drawn. */
export interface Drawn {
  readonly version: number;
  readonly what: "draft" | "solid";
  readonly milliseconds: number;
}

/** The cursor's part is looked for so long after a build, when there is time for it, ms. */
const followingPause = 250;

/** One preview: a webview panel and the design in it. */
export class PreviewPanel implements vscode.Disposable {
  readonly panel: vscode.WebviewPanel;
  readonly #designs: WorkspaceDesigns;
  readonly #comparisons: WorkspaceComparisons;
  readonly #deeds: PanelDeeds;
  readonly #subscriptions: vscode.Disposable[] = [];
  readonly #lockChanged = new vscode.EventEmitter<PreviewPanel>();
  readonly #drew = new vscode.EventEmitter<Drawn>();
  #design: vscode.Uri | undefined;
  #shown: vscode.Disposable | undefined;
  #messages: PanelMessages | undefined;
  #lastVersion = 0;
  #isReady = false;
  #hasWebgl = true;
  #isLocked: boolean;
  #cursor: { readonly parts: CursorParts; readonly key: string } | undefined;
  #litPart: number | undefined;
  #drawn: Drawn | undefined;
  #comparedWith: string | undefined;
  #following: NodeJS.Timeout | undefined;

  readonly onDidChangeLock = this.#lockChanged.event;
  /** The view said that it had drawn something. */
  readonly onDidDraw = this.#drew.event;

  constructor(
    panel: vscode.WebviewPanel,
    extension: vscode.Uri,
    {
      designs,
      comparisons,
      deeds,
    }: {
      readonly designs: WorkspaceDesigns;
      readonly comparisons: WorkspaceComparisons;
      readonly deeds: PanelDeeds;
    },
    isLocked: boolean,
  ) {
    this.panel = panel;
    this.#designs = designs;
    this.#comparisons = comparisons;
    this.#deeds = deeds;
    this.#isLocked = isLocked;
    const { webview } = panel;
    const dist = vscode.Uri.joinPath(extension, "dist");
    webview.options = { enableScripts: true, localResourceRoots: [dist] };
    this.#subscriptions.push(
      webview.onDidReceiveMessage((message) => this.#receive(message)),
      // A hidden view is thrown away by the editor; it says that it is ready when it has been made anew.
      panel.onDidChangeViewState(() => {
        if (!panel.visible) this.#isReady = false;
      }),
      designs.onDidBuildChange(({ record, change }) => this.#onBuild(record, change)),
      comparisons.onDidChange((path) => {
        if (path === this.#design?.fsPath) this.#sendComparison();
      }),
    );
    panel.iconPath = vscode.Uri.joinPath(extension, "media", "icon.png");
    webview.html = previewPage({
      nonce: randomBytes(16).toString("base64url"),
      cspSource: webview.cspSource,
      script: webview.asWebviewUri(vscode.Uri.joinPath(dist, "preview.js")).toString(),
      style: webview.asWebviewUri(vscode.Uri.joinPath(dist, "preview.css")).toString(),
      language: vscode.env.language,
    });
  }

  get design(): vscode.Uri | undefined {
    return this.#design;
  }

  get isLocked(): boolean {
    return this.#isLocked;
  }

  set isLocked(isLocked: boolean) {
    if (isLocked === this.#isLocked) return;
    this.#isLocked = isLocked;
    if (this.#messages) this.#post(this.#messages.design(isLocked));
    this.#retitle();
    this.#lockChanged.fire(this);
  }

  get isReady(): boolean {
    return this.#isReady;
  }

  /** The last draft or solid that stood on the screen, by the build's version. */
  get drawn(): Drawn | undefined {
    return this.#drawn;
  }

  /** The commit, by its short hash, that the picture shows the piece beside; undefined: none. */
  get comparedWith(): string | undefined {
    return this.#comparedWith;
  }

  /** Shows a design in place of the one before. */
  show(design: vscode.Uri): void {
    if (design.toString() === this.#design?.toString()) return;
    const before = this.#shown;
    this.#lastVersion = Math.max(this.#lastVersion, this.#messages?.lastSent ?? 0);
    this.#design = design;
    this.#cursor = undefined;
    this.#litPart = undefined;
    this.#drawn = undefined;
    this.#comparedWith = undefined;
    this.#messages = new PanelMessages(
      this.#designs.record(design),
      this.#lastVersion,
      vscode.l10n,
      design.toString(),
    );
    this.#shown = this.#designs.show(design);
    before?.dispose();
    this.#retitle();
    this.#sendAll();
  }

  /** Lights the part that the editor's cursor is in. */
  followCursor({ document, selections }: vscode.TextEditor): void {
    const facts = this.#design && this.#designs.record(this.#design).facts;
    if (!facts || document.uri.scheme !== "file" || !this.#isReady) return;
    const key = `${document.uri.fsPath}:${document.version}`;
    if (this.#cursor?.key !== key || !this.#cursor.parts.isOf(facts.parts)) {
      const parts = new CursorParts(document.uri.fsPath, document.getText(), facts.parts);
      this.#cursor = { key, parts };
    }
    const part = this.#cursor.parts.at(document.offsetAt(selections[0].active));
    if (part === this.#litPart) return;
    this.#litPart = part;
    this.#post({ kind: "cursor", part });
  }

  /** Tells a view that knows of no cursor, or of other parts. */
  #followActive(): void {
    this.#litPart = undefined;
    if (vscode.window.activeTextEditor) this.followCursor(vscode.window.activeTextEditor);
  }

  /** Sends all anew, for example when the workspace has become trusted. */
  refresh(): void {
    this.#sendAll();
  }

  dispose(): void {
    clearTimeout(this.#following);
    this.#shown?.dispose();
    this.#lockChanged.dispose();
    this.#drew.dispose();
    for (const each of this.#subscriptions) each.dispose();
  }

  #receive(raw: unknown): void {
    const message = readFromPreview(raw);
    if (!message) {
      this.#deeds.log("the preview sent something that is no message of ours");
      return;
    }
    const design = this.#design;
    switch (message.kind) {
      case "ready":
        this.#isReady = true;
        this.#hasWebgl = message.webgl;
        this.#comparedWith = undefined;
        this.#sendAll();
        break;
      case "command":
        this.#deeds.command(this, message.command);
        break;
      case "goTo":
        this.#deeds.goTo(this, message.place);
        break;
      case "setValues":
        if (design) void this.#designs.setValues(design, message.values);
        break;
      case "resetValues":
        if (design) void this.#designs.setValues(design, {});
        break;
      case "useOrientation":
        if (design) this.#deeds.useOrientation(design, message.orientation);
        break;
      case "writeValues":
        if (design) this.#deeds.writeValues(design);
        break;
      case "picture":
        if (design) this.#deeds.savePicture(design, message.png);
        break;
      case "drawn":
        this.#drawn = {
          what: message.what,
          milliseconds: message.milliseconds,
          version: this.#messages?.buildVersion(message.version) ?? message.version,
        };
        this.#drew.fire(this.#drawn);
        break;
      case "compared":
        this.#comparedWith = message.revision;
        break;
      case "fault":
        this.#deeds.log(`preview: ${message.text}`);
        break;
    }
  }

  #onBuild(record: DesignRecord, change: BuildChange): void {
    const messages = this.#messages;
    if (!messages || record.path !== this.#design?.fsPath || !this.#isReady) return;
    switch (change) {
      case "head":
        this.#post(...messages.head());
        break;
      case "draft":
        this.#post(...(this.#hasWebgl ? messages.draft() : []));
        break;
      case "solid":
        this.#post(...(this.#hasWebgl ? messages.solid() : []));
        break;
      case "plate":
        this.#post(...messages.plate());
        break;
      case "gaps":
        this.#post(...(this.#hasWebgl ? messages.gaps() : []));
        break;
      case "check":
        this.#post(...messages.wear());
        break;
      case "plan":
        this.#post(...messages.plan());
        break;
      case "planBody":
        this.#post(...(this.#hasWebgl ? messages.planBodies() : []));
        break;
      case "planned":
        this.#post(...messages.plan(), messages.design(this.#isLocked), messages.state());
        break;
      case "facts":
        // Where parts are known, the newer ones can wait for the end of the build.
        if (!record.report) this.#post(messages.design(this.#isLocked));
        break;
      case "settings":
        this.#post(messages.design(this.#isLocked));
        break;
      case "gone":
        this.#post(goneNotice(record.path));
        break;
      case "ended":
        this.#post(messages.design(this.#isLocked), messages.state());
        clearTimeout(this.#following);
        this.#following = setTimeout(() => this.#followActive(), followingPause);
        if (!this.#hasWebgl) void this.#sendSheet();
        break;
      default:
        this.#post(messages.state());
    }
  }

  #sendAll(): void {
    if (!this.#isReady) return;
    if (!vscode.workspace.isTrusted) {
      this.#post(restrictedNotice());
      return;
    }
    if (!this.#messages || !this.#design) {
      this.#post(nothingNotice());
      return;
    }
    this.#post(...this.#messages.all(this.#isLocked));
    if (this.#comparisons.of(this.#design)) this.#sendComparison();
    this.#followActive();
    if (this.#designs.record(this.#design).isGone) this.#post(goneNotice(this.#design.fsPath));
    if (!this.#hasWebgl) void this.#sendSheet();
  }

  #sendComparison(): void {
    const [design, messages] = [this.#design, this.#messages];
    if (!design || !messages || !this.#isReady) return;
    this.#post(...messages.comparison(this.#comparisons.of(design), this.#hasWebgl));
  }

  async #sendSheet(): Promise<void> {
    const [design, messages] = [this.#design, this.#messages];
    if (!design || !messages) return;
    const { status, version } = this.#designs.record(design);
    if (status !== "built") return;
    const svg = await this.#deeds.sheet(design);
    if (svg && this.#messages === messages && this.#designs.record(design).version === version) {
      this.#post(messages.sheet(svg));
    }
  }

  #post(...messages: readonly ToPreview[]): void {
    if (!this.#isReady) return;
    for (const message of messages) void this.panel.webview.postMessage(message);
  }

  #retitle(): void {
    const name = this.#design ? basename(this.#design.fsPath).replace(/\.headpiece\.ts$/, "") : undefined;
    this.panel.title = !name
      ? vscode.l10n.t("Headpiece")
      : this.#isLocked
        ? vscode.l10n.t("[Preview] {0}", name)
        : vscode.l10n.t("Preview {0}", name);
  }
}
