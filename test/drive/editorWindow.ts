import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Frame, FrameLocator, Locator, Page } from "playwright-core";
import type { DriveSetting } from "./main";
import { type Process, processesBelow } from "./processes";

/** A window of the editor, used by what a person sees of it: keys, clicks, words. */
export class EditorWindow {
  #page: Page | undefined;
  #pictures = 0;

  constructor(readonly setting: DriveSetting) {}

  get page(): Page {
    if (!this.#page) throw new Error("the window is not open");
    return this.#page;
  }

  get isOpen(): boolean {
    return this.#page !== undefined;
  }

  /** Opens the workspace in a window. */
  async open(): Promise<void> {
    this.#page = await this.setting.browser.newPage({ viewport: { width: 1500, height: 950 } });
    this.page.setDefaultTimeout(90_000);
    await this.page.goto(`${this.setting.address}/?folder=${encodeURIComponent(this.setting.workspace)}`, {
      timeout: 120_000,
    });
    await this.waitUntilUp();
  }

  async reload(): Promise<void> {
    // A window in a browser writes down every five seconds what stands in it; nothing can be written while it goes.
    await this.page.waitForTimeout(6000);
    await this.page.reload();
    await this.waitUntilUp();
  }

  private async waitUntilUp(): Promise<void> {
    // Among the last things that a window shows.
    await this.page.locator("#status\\.problems").waitFor({ timeout: 90_000 });
  }

  /** Closes the window as a person does; the editor is told beforehand. */
  async close(): Promise<void> {
    await this.page.close({ runBeforeUnload: true });
    this.#page = undefined;
  }

  /** Runs a command of the palette by its whole title. */
  async command(title: string): Promise<void> {
    await this.askByKeys("F1");
    await this.pick(`>${title}`, title);
  }

  /** Presses keys until there is something to pick: the focus takes a moment to come out of a webview. */
  private async askByKeys(...keys: readonly string[]): Promise<void> {
    const input = this.page.locator(".quick-input-widget input");
    await this.until(`${keys.join(", ")} asks`, async () => {
      for (const key of keys) {
        await this.page.keyboard.press(key);
        await this.page.waitForTimeout(200);
      }
      return input.waitFor({ timeout: 3000 }).then(
        () => true,
        () => false,
      );
    });
  }

  /** Types into the open quick pick and takes the row of that label; a list that is still being filled is asked again. */
  async pick(text: string, label = text): Promise<void> {
    const input = this.page.locator(".quick-input-widget input");
    for (let tries = 0; tries < 10; tries++) {
      await input.fill(text, { timeout: 10_000 });
      const focused = this.page.locator(".quick-input-list .monaco-list-row.focused", { hasText: label });
      const isThere = await focused.waitFor({ timeout: 5000 }).then(
        () => true,
        () => false,
      );
      if (isThere) return this.page.keyboard.press("Enter");
      await input.fill("", { timeout: 10_000 });
    }
    throw new Error(`nothing to pick is called ${label}`);
  }

  /** Answers the question that asks for a text; `title` is part of what stands above it. Without a text: as it stands. */
  async answer(title: string, text?: string): Promise<void> {
    await this.asked(title);
    const input = this.page.locator(".quick-input-widget input");
    if (text !== undefined) await input.fill(text);
    await this.until("the question has the keyboard", () =>
      input.evaluate((box) => box === box.ownerDocument.activeElement),
    );
    await this.page.keyboard.press("Enter");
  }

  /** Waits until a question stands there. */
  async asked(title: string): Promise<void> {
    await this.page.locator(".quick-input-title").filter({ hasText: title }).waitFor();
  }

  /** What the open question says of the text that is typed. */
  get refusal(): Locator {
    return this.page.locator(".quick-input-message");
  }

  /** A row of the open quick pick. */
  row(label: string): Locator {
    return this.page.locator(".quick-input-list .monaco-list-row").filter({ hasText: label });
  }

  /** Opens a file of the workspace by its name. */
  async openFile(name: string): Promise<void> {
    const tab = this.page.locator(".editor-group-container.active .tab.active").filter({ hasText: name });
    const isOpen = (timeout: number) =>
      tab.waitFor({ timeout }).then(
        () => true,
        () => false,
      );
    await this.until(
      `${name} is opened`,
      async () => {
        // Nothing under the pointer is to be taken for what is picked.
        await this.page.mouse.move(600, 800);
        // Beside the preview, not over it.
        await this.askByKeys("Control+1", "Control+P");
        // A list that something else closes meanwhile is opened again.
        const isPicked = await this.pick(name).then(
          () => true,
          () => false,
        );
        if (isPicked && (await isOpen(8000))) return true;
        // What was picked while the list was still being filled opens nothing: the folder's list has it too.
        await this.page.keyboard.press("Escape");
        await this.page.keyboard.press("Control+1");
        const row = this.page.locator(".explorer-folders-view .monaco-list-row").filter({ hasText: name });
        await row
          .first()
          .dblclick({ timeout: 5000 })
          .catch(() => {});
        return isOpen(8000);
      },
      120,
    );
    await this.page.locator(".editor-instance .view-lines").first().waitFor();
  }

  /** Puts these settings of the workspace in place of those before. */
  set(settings: Readonly<Record<string, unknown>>): void {
    mkdirSync(this.path(".vscode"), { recursive: true });
    writeFileSync(this.path(".vscode/settings.json"), JSON.stringify(settings));
  }

  path(name: string): string {
    return join(this.setting.workspace, name);
  }

  textOnDisk(name: string): string {
    return readFileSync(this.path(name), "utf8");
  }

  /** Puts the cursor of the active editor; line and column count from 1. */
  async goTo(line: number, column: number): Promise<void> {
    await this.page.keyboard.press("Control+G");
    await this.page.locator(".quick-input-widget input").fill(`:${line}:${column}`);
    await this.page.keyboard.press("Enter");
    await this.page.locator(".quick-input-widget").waitFor({ state: "hidden" });
  }

  /** Replaces the first place of a text within a line of the file, which is open and saved, by typing. */
  async replace(name: string, before: string, after: string): Promise<void> {
    const lines = this.textOnDisk(name).split("\n");
    const index = lines.findIndex((line) => line.includes(before));
    if (index < 0) throw new Error(`${name} has no ${before}`);
    await this.goTo(index + 1, lines[index].indexOf(before) + 1);
    for (let i = 0; i < before.length; i++) await this.page.keyboard.press("Shift+ArrowRight");
    // As one input, so that no bracket is closed and no suggestion taken.
    await this.page.keyboard.insertText(after);
    await this.page.keyboard.press("Escape");
  }

  /** Replaces the whole line of the open and saved file that begins with a text. */
  async replaceLine(name: string, beginning: string, after: string): Promise<void> {
    const index = this.textOnDisk(name)
      .split("\n")
      .findIndex((line) => line.trimStart().startsWith(beginning));
    if (index < 0) throw new Error(`${name} has no line ${beginning}`);
    await this.goTo(index + 1, 1);
    await this.page.keyboard.press("Shift+End");
    await this.page.keyboard.insertText(after);
    await this.page.keyboard.press("Escape");
  }

  async save(): Promise<void> {
    await this.page.keyboard.press("Control+S");
    await this.page.locator(".editor-group-container.active .tab.active:not(.dirty)").waitFor();
  }

  /** The inside of the webview that an extension shows. */
  webviewOf(extension: string): FrameLocator {
    return this.page.frameLocator(webviewSelector(extension)).frameLocator("#active-frame");
  }

  /** The same as a frame, in which programs can run. */
  async frameOf(extension: string): Promise<Frame> {
    const outer = await (await this.page.waitForSelector(webviewSelector(extension))).contentFrame();
    const inner = await (await outer?.waitForSelector("#active-frame"))?.contentFrame();
    if (!inner) throw new Error(`${extension} shows no webview`);
    return inner;
  }

  /** Opens the list of notifications: they leave the window after a while, and stay in the list. */
  async listNotifications(): Promise<void> {
    await this.command("Notifications: Show Notifications");
  }

  /** Notifications that stand there, also those that the window hides while it is busy. */
  get notifications(): Locator {
    return this.page.locator(".notification-list-item");
  }

  /** Waits until something holds. @throws with `what` when it does not come */
  async until(what: string, holds: () => boolean | Promise<boolean>, seconds = 60): Promise<void> {
    const end = performance.now() + 1000 * seconds;
    while (!(await holds())) {
      if (performance.now() > end) throw new Error(`waited ${seconds} s until ${what}`);
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
  }

  /** All processes of the host: the extension host, what extensions started, and what those did. */
  children(): Process[] {
    return processesBelow(this.setting.serverPid);
  }

  /** Keeps a picture of the window. */
  async picture(name: string): Promise<void> {
    const number = String(++this.#pictures).padStart(2, "0");
    await this.page.screenshot({ path: join(this.setting.screenshots, `${number}-${name}.png`) });
  }
}

const webviewSelector = (extension: string) => `iframe.webview.ready[src*="extensionId=${extension}"]`;
