import { randomBytes } from "node:crypto";
import { basename } from "node:path";
import * as vscode from "vscode";
import { newWearerText, takeReadings } from "../../build/takeReadings";
import { editBetween } from "../../build/wearerEdit";
import { UNITS, type Unit } from "../../head/units";
import { MessageError } from "../../message";
import { guidePage } from "../../pages/measuringGuide/page";
import type { Entries, FromGuide, ToGuide } from "../../pages/measuringGuide/protocol";
import { readFromGuide } from "../../pages/measuringGuide/protocolChecks";
import { applyChanges } from "../applyChanges";
import { showCode } from "../showCode";
import { HAIR, typedReadings } from "./guideEntries";
import { guideMessage } from "./guideMessage";
import { guideVerdicts } from "./guideVerdicts";

/** Whose measures are taken: a file that is there, or one that is to be made. */
export type GuideSubject =
  | { readonly file: vscode.Uri }
  | { readonly name: string; readonly folders: readonly vscode.Uri[] };

/** What a guide asks of those around it. */
export interface GuideDeeds {
  /** Makes the file of a new wearer; undefined where the person gave up. */
  makeFile(name: string, text: string, folders: readonly vscode.Uri[]): Promise<vscode.Uri | undefined>;
  sheet(file: vscode.Uri | undefined): void;
}

/** One guide: a webview panel and the wearer who is measured in it. */
export class GuidePanel {
  readonly panel: vscode.WebviewPanel;
  readonly #deeds: GuideDeeds;
  #subject: GuideSubject;
  #isReady = false;

  constructor(panel: vscode.WebviewPanel, extension: vscode.Uri, subject: GuideSubject, deeds: GuideDeeds) {
    this.panel = panel;
    this.#deeds = deeds;
    this.#subject = subject;
    const { webview } = panel;
    const dist = vscode.Uri.joinPath(extension, "dist");
    webview.options = { enableScripts: true, localResourceRoots: [dist] };
    webview.onDidReceiveMessage((message) => this.#receive(readFromGuide(message)));
    panel.iconPath = vscode.Uri.joinPath(extension, "media", "icon.png");
    webview.html = guidePage({
      nonce: randomBytes(16).toString("base64url"),
      cspSource: webview.cspSource,
      script: webview.asWebviewUri(vscode.Uri.joinPath(dist, "measuringGuide.js")).toString(),
      style: webview.asWebviewUri(vscode.Uri.joinPath(dist, "measuringGuide.css")).toString(),
      language: vscode.env.language,
    });
    this.#retitle();
  }

  /** Stands for the wearer: two guides of one are never open. */
  get key(): string {
    return keyOf(this.#subject);
  }

  /** The page has been made and takes messages. */
  get isReady(): boolean {
    return this.#isReady;
  }

  #retitle(): void {
    const subject = this.#subject;
    const name = "file" in subject ? basename(subject.file.path) : subject.name;
    this.panel.title = vscode.l10n.t("Measure {0}", name);
  }

  async #receive(message: FromGuide | undefined): Promise<void> {
    switch (message?.kind) {
      case "ready":
        this.#isReady = true;
        this.#post(guideMessage(this.key, await this.#text("mm"), !("file" in this.#subject)));
        break;
      case "check": {
        const unit = unitOf(message.unit);
        const found = guideVerdicts(await this.#text(unit), message.entries, unit, vscode.l10n);
        this.#post({ kind: "verdict", request: message.request, ...found });
        break;
      }
      case "finish":
        await this.#finish(unitOf(message.unit), message.entries);
        break;
      case "sheet":
        this.#deeds.sheet("file" in this.#subject ? this.#subject.file : undefined);
        break;
    }
  }

  /** The wearer's file as it stands in the editor, or as it would begin. */
  async #text(unit: Unit): Promise<string> {
    const subject = this.#subject;
    if (!("file" in subject)) return newWearerText(subject.name, unit);
    const document = await vscode.workspace.openTextDocument(subject.file);
    return document.getText();
  }

  async #finish(unit: Unit, entries: Entries): Promise<void> {
    const before = await this.#text(unit);
    const { changed, hair } = typedReadings(before, entries, unit);
    const others = new Map<string, unknown>(hair ? [[HAIR, hair.value]] : []);
    let after: string;
    try {
      after = takeReadings(before, this.key, changed, "set", others).text;
    } catch (error) {
      if (!(error instanceof MessageError)) throw error;
      this.#post({ kind: "finished", isWritten: false, text: error.messages[0].text });
      return;
    }
    const file = await this.#write(before, after);
    if (!file) {
      this.#post({ kind: "finished", isWritten: false, text: vscode.l10n.t("Nothing was written.") });
      return;
    }
    this.#subject = { file };
    this.#retitle();
    // What was typed is in the file now: nothing is left to write.
    this.#post(guideMessage(this.key, await this.#text(unit), false));
    this.#post({
      kind: "finished",
      isWritten: true,
      text: vscode.l10n.t("{0} is written. Undo in its editor takes it back.", basename(file.path)),
    });
    await showCode(file, { isKept: true });
  }

  /** As an edit that can be undone; a file that was saved before is saved after. */
  async #write(before: string, after: string): Promise<vscode.Uri | undefined> {
    const subject = this.#subject;
    if (!("file" in subject)) return this.#deeds.makeFile(subject.name, after, subject.folders);
    const document = await vscode.workspace.openTextDocument(subject.file);
    const wasDirty = document.isDirty;
    const change = editBetween(before, after);
    if (!change) return subject.file;
    // Somebody may have typed in the meantime.
    if (document.getText() !== before || !(await applyChanges(document, [change]))) return undefined;
    if (!wasDirty) await document.save();
    return subject.file;
  }

  #post(message: ToGuide): void {
    void this.panel.webview.postMessage(message);
  }
}

export const keyOf = (subject: GuideSubject): string =>
  "file" in subject ? subject.file.toString() : `new:${subject.name}`;

const unitOf = (text: string): Unit => UNITS.find((unit) => unit === text) ?? "mm";
