import { strict as assert } from "node:assert";
import { readFileSync } from "node:fs";
import type { Frame, Page } from "playwright-core";

/** The inside of the webview of a page that has an element in it; undefined where there is none. */
export async function frameWith(page: Page, selector: string): Promise<Frame | undefined> {
  for (const frame of page.frames()) {
    // A frame may go while it is asked.
    if (await frame.$(selector).catch(() => null)) return frame;
  }
  return undefined;
}

/** Throws when axe-core finds something serious in a page as it stands: WCAG 2.2, levels A and AA. */
export async function checkAccessOf(frame: Frame): Promise<void> {
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
