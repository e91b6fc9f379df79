import type { Frame, Locator } from "playwright-core";
import type { EditorWindow } from "./editorWindow";
import { checkAccessOf, frameWith } from "./webviewAccess";

/** The refit table as a person sees it. It may stand beside a preview: webviews are told apart by what is in them. */
export class ShownRefitTable {
  constructor(readonly window: EditorWindow) {}

  /** The inside of its webview. */
  async frame(): Promise<Frame> {
    return this.frameWith("#refit");
  }

  /** The inside of the webview that has an element in it. */
  async frameWith(selector: string): Promise<Frame> {
    let found: Frame | undefined;
    await this.window.until(`a view with ${selector} is there`, async () => {
      found = await frameWith(this.window.page, selector);
      return found !== undefined;
    });
    return found!;
  }

  async at(selector: string): Promise<Locator> {
    return (await this.frame()).locator(selector);
  }

  /** The row of a wearer. */
  async row(wearer: string): Promise<Locator> {
    const frame = await this.frame();
    return frame.locator("tr.row").filter({ has: frame.locator(".row-show", { hasText: wearer }) });
  }

  /** Waits until all rows are as their files say. */
  async made(seconds = 240): Promise<void> {
    await this.window.until(
      "all rows are made",
      async () => {
        const frame = await this.frame();
        const rows = await frame.locator("tr.row").count();
        const current = await frame.locator('tr.row[data-state="current"]').count();
        return rows > 0 && rows === current && (await frame.locator("#again").isVisible());
      },
      seconds,
    );
  }

  /** The mass in a row, g. */
  async mass(wearer: string): Promise<number> {
    return Number.parseFloat((await (await this.row(wearer)).locator(".cell-mass").textContent()) ?? "");
  }

  /** Throws when axe-core finds something serious in the page as it stands: WCAG 2.2, levels A and AA. */
  async checkAccess(): Promise<void> {
    await checkAccessOf(await this.frame());
  }
}
