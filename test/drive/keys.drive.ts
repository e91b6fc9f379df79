import { strict as assert } from "node:assert";
import { describe, it } from "mocha";
import type { EditorWindow } from "./editorWindow";
import { foamBandFile } from "./foamBand";
import { ShownPreview } from "./shownPreview";

/** The preview by the keyboard alone. */
export function describeKeys(window: EditorWindow): void {
  const preview = new ShownPreview(window);
  const focused = () => preview.at("body").evaluate(() => document.activeElement?.id ?? "");
  const press = (key: string) => window.page.keyboard.press(key);

  describe("The keyboard alone", () => {
    it("walks into the preview and on to the picture", async () => {
      await window.openFile(foamBandFile);
      await press("Control+2");
      const walked: string[] = [];
      while ((await focused()) !== "picture") {
        walked.push(await focused());
        assert.ok(walked.length < 12, `Tab came past ${walked.join(", ")}`);
        await press("Tab");
      }
    });

    it("turns to each view", async () => {
      await press("1");
      let last = await preview.photo();
      for (const key of ["3", "2", "5", "6", "4"]) {
        await press(key);
        const next = await preview.photo();
        assert.ok(last.likeness(next) < 0.97, `after ${key} the outline is another`);
        last = next;
      }
    });

    it("opens the keys by ?, and leaves them by Escape", async () => {
      await press("Shift+?");
      await preview.at("#help[open]").waitFor();
      await window.picture("keys");
      await press("Escape");
      await preview.at("#help[open]").waitFor({ state: "hidden" });
      assert.equal(await focused(), "picture");
    });

    it("walks the toolbar by arrows", async () => {
      await press("Shift+Tab");
      const walked = new Set<string>();
      for (let i = 0; i < 20; i++) {
        walked.add(await focused());
        await press("ArrowRight");
      }
      assert.ok(walked.size > 8, `walked ${[...walked].join(", ")}`);
      assert.ok(
        [...walked].every((id) => /^(tool-|views-menu|show-menu)/.test(id)),
        [...walked].join(", "),
      );
      while ((await focused()) !== "tool-projection") await press("ArrowRight");
      await press("Enter");
      await preview.at('#tool-projection[aria-pressed="true"]').waitFor();
    });
  });
}
