import type { FrameLocator, Locator } from "playwright-core";
import { themeOf } from "../../src/preview/scene/theme";
import type { EditorWindow } from "./editorWindow";
import { Photo } from "./photo";
import { checkAccessOf } from "./webviewAccess";

/** Longest time of the smooth frame after the last drawing, ms. */
const smoothing = 900;

/** The preview as a person sees it. */
export class ShownPreview {
  constructor(readonly window: EditorWindow) {}

  /** The inside of the webview. */
  get inside(): FrameLocator {
    return this.window.webviewOf("anadem.anadem");
  }

  /** Its tab. */
  get tab(): Locator {
    return this.window.page.locator(".tab").filter({ hasText: /^Preview / });
  }

  at(selector: string): Locator {
    return this.inside.locator(selector);
  }

  /** Waits until a build of the design with that name ended well; `part` is in it where given. */
  async built(name: string, part?: string): Promise<void> {
    await this.at("#piece-name").filter({ hasText: name }).waitFor({ state: "attached" });
    if (part) await this.at("#parts").filter({ hasText: part }).waitFor({ state: "attached" });
    await this.phase("ready");
  }

  async phase(phase: "ready" | "failed" | "building"): Promise<void> {
    await this.at(`#preview[data-phase="${phase}"]`).waitFor();
  }

  /** The piece's printed mass, g. */
  async mass(): Promise<number> {
    const row = this.at("#facts .fact").filter({ has: this.inside.locator("dt", { hasText: /^Mass$/ }) });
    return Number.parseFloat((await row.locator("dd").textContent()) ?? "");
  }

  /** Waits until the mass is another one than before; the mass then. */
  async massOtherThan(before: number): Promise<number> {
    for (let tries = 0; tries < 300; tries++) {
      await this.window.page.waitForTimeout(200);
      const row = this.at("#facts .fact").filter({ hasText: "Mass" });
      if ((await row.count()) === 0) continue;
      const mass = await this.mass();
      if (mass !== before) return mass;
    }
    throw new Error(`the mass is still ${before} g`);
  }

  /** Presses a key while the picture has the focus. */
  async press(key: string): Promise<void> {
    await this.at("#picture").press(key);
  }

  /** Moves the pointer over the picture; px from its upper left corner. */
  async pointAt({ x, y }: { readonly x: number; readonly y: number }): Promise<void> {
    const box = await this.at("#picture canvas").boundingBox();
    if (!box) throw new Error("there is no picture to point at");
    await this.window.page.mouse.move(box.x + x, box.y + y);
  }

  /** Waits until the page has the colours of a kind of theme. */
  async themed(kind: "vscode-light" | "vscode-dark" | "vscode-high-contrast"): Promise<void> {
    await this.at(`body.${kind}`).waitFor();
  }

  /** A photograph of the picture at rest. */
  async photo(): Promise<Photo> {
    await this.window.page.waitForTimeout(smoothing);
    return Photo.of(this.at("#picture canvas"), this.window.setting.browser, await this.colours());
  }

  /** A picture in a file, read by the colours that the preview has now. */
  async photoIn(png: Buffer): Promise<Photo> {
    return Photo.ofPng(png, this.window.setting.browser, await this.colours());
  }

  /** The colours that the theme gives. */
  private async colours() {
    const names = ["--vscode-editor-background", "--vscode-foreground", "--vscode-charts-orange"];
    const values = await this.at("body").evaluate(
      (body, names) => names.map((name) => getComputedStyle(body).getPropertyValue(name)),
      names,
    );
    const theme = themeOf((name) => values[names.indexOf(name)] ?? "", {
      isHighContrast: (await this.at("body.vscode-high-contrast").count()) > 0,
      isDark: (await this.at("body.vscode-light").count()) === 0,
    });
    return theme;
  }

  /** Throws when axe-core finds something serious in the page as it stands: WCAG 2.2, levels A and AA. */
  async checkAccess(): Promise<void> {
    await checkAccessOf(await this.window.frameOf("anadem.anadem"));
  }
}
