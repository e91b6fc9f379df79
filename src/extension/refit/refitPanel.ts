import { randomBytes } from "node:crypto";
import { availableParallelism } from "node:os";
import * as vscode from "vscode";
import { refit } from "../../build/refit/refitting";
import { refitTablePage } from "../../pages/refitTable/page";
import type { FromRefitTable, RefitTableCommand, Scope, ToRefitTable } from "../../pages/refitTable/protocol";
import { readFromRefitTable } from "../../pages/refitTable/protocolChecks";
import { realClock } from "../builds/clock";
import { commandIds } from "../commandIds";
import type { DesignActions } from "../designActions";
import type { Designs } from "../designState";
import type { Jobs } from "../jobs";
import { goTo } from "../preview/goTo";
import type { WorkspaceFiles } from "../tree/workspaceFiles";
import { ChosenParties } from "./chosenParties";
import { exportRefit } from "./exportRefit";
import { refitNotice } from "./refitNotices";
import { refitAll, requestsOf } from "./refitRequests";
import { RefitRows } from "./refitRows";
import { plansOf, termsOf } from "./refitSubject";
import { RefitWatcher } from "./refitWatcher";
import { rowFigures } from "./rowFigures";
import { showRow } from "./showRow";
import { tableMessage } from "./tableMessage";

/** What a panel is given of the window. */
export interface RefitSetting {
  readonly extension: vscode.Uri;
  /** Where rows are kept, so that they are good in the next window too. */
  readonly storage: vscode.Uri | undefined;
  readonly designs: Designs;
  readonly actions: DesignActions;
  readonly jobs: Jobs;
  readonly files: WorkspaceFiles;
  readonly log: vscode.LogOutputChannel;
}

/** One core is left to the engine, which builds what is being edited. */
const processes = Math.max(1, availableParallelism() - 1);
/** Progress is told together, ms. */
const tellingPause = 30;

const commandsOfPage: Readonly<Record<RefitTableCommand, string>> = {
  manageTrust: "workbench.trust.manage",
  newWearer: commandIds.newWearer,
  newDesign: commandIds.newDesign,
};

/** The table in its webview: of one design or of all, on all wearers of the workspace. */
export class RefitPanel implements vscode.Disposable {
  readonly panel: vscode.WebviewPanel;
  readonly rows: RefitRows;
  readonly #setting: RefitSetting;
  readonly #watcher: RefitWatcher;
  readonly #subscriptions: vscode.Disposable[];
  readonly #changed = new vscode.EventEmitter<void>();
  #scope: Scope;
  #design: vscode.Uri | undefined;
  #isReady = false;
  #planning: Promise<void> = Promise.resolve();
  readonly #chosen: ChosenParties;
  #telling: NodeJS.Timeout | undefined;
  #isDisposed = false;

  /** Rows, or how far they are, are other than before. */
  readonly onDidChange = this.#changed.event;

  constructor(
    panel: vscode.WebviewPanel,
    setting: RefitSetting,
    scope: Scope,
    design: vscode.Uri | undefined,
  ) {
    this.panel = panel;
    this.#setting = setting;
    this.#scope = scope;
    this.#design = design;
    this.#chosen = new ChosenParties(setting.designs, setting.files);
    this.rows = new RefitRows({
      refit: (plans, events) =>
        refitAll(
          requestsOf(plans, (path) => termsOf(path, setting.designs, setting.storage)),
          (request, told) => refit({ ...request, pictures: true, processes }, setting.jobs.script, told),
          events,
        ),
      processes,
      changed: (key) => this.#onRows(key),
      failed: (error) => this.#log(error),
      clock: realClock,
    });
    this.#watcher = new RefitWatcher(
      (path, isOther) => this.rows.fileChanged(path, isOther),
      () => this.rows.rows.flatMap(({ row }) => row?.inputs ?? []),
    );
    const { webview } = panel;
    this.#subscriptions = [
      this.#watcher,
      this.#changed,
      webview.onDidReceiveMessage((message) => this.#receive(message)),
      panel.onDidChangeViewState(() => this.#onViewState()),
      setting.files.onDidChange((kind) => {
        if (kind === "wearer" || kind === "design") this.#plan();
      }),
      setting.designs.onDidChange((uri) => this.#onDesign(uri)),
      vscode.workspace.onDidGrantWorkspaceTrust(() => this.#plan()),
      vscode.workspace.onDidChangeConfiguration((event) => {
        if (!event.affectsConfiguration("anadem")) return;
        for (const path of this.#chosen.paths) {
          if (this.#chosen.areTermsOther(path)) this.rows.designChanged(path);
        }
      }),
    ];
    const dist = vscode.Uri.joinPath(setting.extension, "dist");
    const address = (name: string) => webview.asWebviewUri(vscode.Uri.joinPath(dist, name)).toString();
    webview.options = { enableScripts: true, localResourceRoots: [dist] };
    panel.iconPath = vscode.Uri.joinPath(setting.extension, "media", "icon.png");
    webview.html = refitTablePage({
      nonce: randomBytes(16).toString("base64url"),
      cspSource: webview.cspSource,
      script: address("refitTable.js"),
      style: address("refitTable.css"),
      language: vscode.env.language,
    });
    this.#onViewState();
    this.#plan();
  }

  get design(): vscode.Uri | undefined {
    return this.#design;
  }

  /** Makes the table one of this design, or of all. */
  show(scope: Scope, design = this.#design): void {
    this.#scope = scope;
    this.#design = design;
    this.#plan();
  }

  dispose(): void {
    this.#isDisposed = true;
    clearTimeout(this.#telling);
    void this.rows.dispose();
    for (const each of this.#subscriptions) each.dispose();
  }

  /** Finds out which rows there are to be; one look after the other, so that the last one counts. */
  #plan(): void {
    this.#planning = this.#planning.then(async () => {
      if (this.#isDisposed) return;
      const plans = vscode.workspace.isTrusted
        ? await plansOf(this.#scope, this.#design, this.#setting.files)
        : [];
      if (this.#isDisposed) return;
      await this.#chosen.of(plans.map(({ design }) => design));
      this.rows.want(plans);
      this.#retitle();
      this.#tell();
    });
    this.#planning = this.#planning.catch((error) => this.#log(error));
  }

  #onViewState(): void {
    // A hidden page is thrown away by the editor; it says that it is ready when it has been made anew.
    if (!this.panel.visible) this.#isReady = false;
    this.rows.setLookedAt(this.panel.visible);
  }

  #onRows(key: string | undefined): void {
    if (this.#isDisposed) return;
    this.#watcher.follow();
    if (key !== undefined) this.#sendRow(key);
    this.#tell();
    this.#changed.fire();
  }

  #onDesign({ fsPath }: vscode.Uri): void {
    if (!this.#chosen.paths.includes(fsPath)) return;
    if (this.#chosen.areTermsOther(fsPath)) this.rows.designChanged(fsPath);
    void this.#chosen.lookAtWearer(fsPath).then((isOther) => isOther && this.#tell());
  }

  /** Tells the page how all stands, soon. */
  #tell(): void {
    this.#telling ??= setTimeout(() => {
      this.#telling = undefined;
      this.#post(refitNotice(this.rows) ?? this.#table());
    }, tellingPause);
  }

  #table(): ToRefitTable {
    const design = this.#design;
    return tableMessage(this.rows, {
      scope: this.#scope,
      ...(design && { design: { uri: design.toString(), path: design.fsPath } }),
      chosen: this.#chosen.wearers,
    });
  }

  #sendRow(key: string): void {
    const row = this.rows.rows.find((each) => each.key === key)?.row;
    if (row) this.#post({ kind: "row", key, figures: rowFigures(row) });
  }

  #receive(raw: unknown): void {
    const message = readFromRefitTable(raw);
    if (message) void this.#answer(message).catch((error) => this.#tellTrouble(error));
    else this.#setting.log.warn("the refit table sent something that is no message of ours");
  }

  async #answer(message: FromRefitTable): Promise<void> {
    switch (message.kind) {
      case "ready":
        this.#isReady = true;
        await this.#planning;
        this.#post(refitNotice(this.rows) ?? this.#table());
        for (const { key, row } of this.rows.rows) if (row) this.#sendRow(key);
        break;
      case "show":
        await this.#showRow(message.key);
        break;
      case "goTo":
        await goTo(message.place, this.#design);
        break;
      case "scope":
        this.show(message.scope, this.#design ?? this.#setting.designs.active);
        break;
      case "cancel":
        this.rows.cancel();
        break;
      case "again":
        this.rows.again();
        break;
      case "export":
        await this.#export();
        break;
      case "command":
        await vscode.commands.executeCommand(commandsOfPage[message.command]);
        break;
      case "fault":
        this.#setting.log.warn(`refit table: ${message.text}`);
        break;
    }
  }

  async #showRow(key: string): Promise<void> {
    const row = this.rows.rows.find((each) => each.key === key);
    const { designs, actions, files } = this.#setting;
    if (row && vscode.workspace.isTrusted) await showRow(row, designs, actions, files);
  }

  async #export(): Promise<void> {
    if (!vscode.workspace.isTrusted) return;
    const plans = this.rows.groups.map(({ design, rows }) => ({
      design,
      wearers: rows.map(({ wearer }) => wearer).filter((wearer) => wearer !== ""),
    }));
    await exportRefit(plans, this.#setting.designs, this.#setting.jobs.script, processes);
  }

  #tellTrouble(error: unknown): void {
    this.#log(error);
    const said = error instanceof Error ? error.message : String(error);
    void vscode.window.showWarningMessage(vscode.l10n.t("Refit: {0}", said));
  }

  #log(error: unknown): void {
    this.#setting.log.error(error instanceof Error ? error : String(error));
  }

  #post(message: ToRefitTable): void {
    if (this.#isReady) void this.panel.webview.postMessage(message);
  }

  #retitle(): void {
    const { l10n } = vscode;
    const name = this.#design?.path
      .split("/")
      .at(-1)
      ?.replace(/\.headpiece\.ts$/, "");
    this.panel.title =
      this.#scope === "all" || name === undefined ? l10n.t("Refit All Designs") : l10n.t("Refit {0}", name);
  }
}
