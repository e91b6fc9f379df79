import { strict as assert } from "node:assert";
import { readFileSync } from "node:fs";
import type { Frame, Locator } from "playwright-core";
import type { EditorWindow } from "./editorWindow";

/** The measuring guide as a person sees it. */
export class ShownGuide {
  constructor(readonly window: EditorWindow) {}

  /** The inside of its webview: the one that has a guide in it. */
  async frame(): Promise<Frame> {
    let found: Frame | undefined;
    await this.window.until("the guide is there", async () => {
      for (const frame of this.window.page.frames()) {
        // A frame may go while it is asked.
        const element = await frame.$("#guide h1").catch(() => null);
        if (element) {
          found = frame;
          return true;
        }
      }
      return false;
    });
    return found!;
  }

  async at(selector: string): Promise<Locator> {
    return (await this.frame()).locator(selector);
  }

  /** Throws when axe-core finds something serious in the page as it stands: WCAG 2.2, levels A and AA. */
  async checkAccess(): Promise<void> {
    const frame = await this.frame();
    if (!(await frame.evaluate("'axe' in globalThis"))) {
      await frame.evaluate(readFileSync(require.resolve("axe-core/axe.min.js"), "utf8"));
    }
    const run = `axe.run(document, {
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"],
      resultTypes: ["violations"],
    }).then(({ violations, passes }) => ({
      passes: passes.length,
      found: violations.filter(({ impact }) => impact === "serious" || impact === "critical")
        .map(({ id, help, nodes }) => id + ": " + help + " " + nodes.map(({ html }) => html.slice(0, 160)).join(" | ")),
    }))`;
    const { passes, found } = await frame.evaluate<{ passes: number; found: string[] }>(run);
    assert.ok(passes > 5, `axe-core looked at ${passes} rules`);
    assert.deepEqual(found, []);
  }
}
