import type { Frame, Locator } from "playwright-core";
import type { EditorWindow } from "./editorWindow";
import { checkAccessOf, frameWith } from "./webviewAccess";

/** The measuring guide as a person sees it. */
export class ShownGuide {
  constructor(readonly window: EditorWindow) {}

  /** The inside of its webview: the one that has a guide in it. */
  async frame(): Promise<Frame> {
    let found: Frame | undefined;
    await this.window.until("the guide is there", async () => {
      found = await frameWith(this.window.page, "#guide h1");
      return found !== undefined;
    });
    return found!;
  }

  async at(selector: string): Promise<Locator> {
    return (await this.frame()).locator(selector);
  }

  /** Throws when axe-core finds something serious in the page as it stands: WCAG 2.2, levels A and AA. */
  async checkAccess(): Promise<void> {
    await checkAccessOf(await this.frame());
  }
}
