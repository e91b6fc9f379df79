import { strict as assert } from "node:assert";
import { readFileSync } from "node:fs";
import type { Frame, Locator } from "playwright-core";
import type { EditorWindow } from "./editorWindow";

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
      for (const frame of this.window.page.frames()) {
        // A frame may go while it is asked.
        const element = await frame.$(selector).catch(() => null);
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
