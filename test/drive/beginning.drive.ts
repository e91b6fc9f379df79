import { strict as assert } from "node:assert";
import { existsSync } from "node:fs";
import { describe, it } from "mocha";
import type { EditorWindow } from "./editorWindow";
import { ShownPreview } from "./shownPreview";

/** A new wearer and a new design, by the questions that a person is asked. */
export function describeBeginning(window: EditorWindow): void {
  const preview = new ShownPreview(window);
  const wearerFile = "eel-singer.wearer.json";
  const designFile = "eel-ring.headpiece.ts";

  describe("Beginning", () => {
    it("takes a wearer's measures, refuses what no head has, and goes back a step", async () => {
      await window.command("Anadem: New Wearer…");
      await window.answer("New wearer", "Eel singer");
      await window.page.locator(".quick-input-widget input[placeholder*='unit']").waitFor();
      await window.pick("cm");
      await window.answer("Girth", "5600");
      await window.refusal.filter({ hasText: /5,?600/ }).waitFor();
      await window.picture("girth-refused");
      await window.answer("Girth", "56");
      await window.answer("Length", "19.4");
      await window.asked("Breadth");
      await window.page.locator(".quick-input-widget").getByRole("button", { name: "Back" }).click();
      await window.answer("Length", "19.1");
      await window.picture("new-wearer");
      for (const left of ["Breadth", "Crown height", "Hair", "Ease"]) await window.answer(left, "");
      await window.answer("File");
      await window.page
        .locator(".editor-group-container .tab.active")
        .filter({ hasText: wearerFile })
        .waitFor();
      const { name, units, girth, length, breadth } = JSON.parse(window.textOnDisk(wearerFile));
      assert.deepEqual([name, units, girth, length, breadth], ["Eel singer", "cm", 56, 19.1, undefined]);
    });

    it("begins a design for her, which stands on her head at once", async () => {
      await window.command("Anadem: New Design…");
      await window.answer("New design", "reed wreath");
      await window.refusal.filter({ hasText: "write reed-wreath" }).waitFor();
      await window.answer("New design", "eel-ring");
      await window.page.locator(".quick-input-widget input[placeholder*='wears']").waitFor();
      await window.pick("Eel singer");
      await window.until("the design is made", () => existsSync(window.path(designFile)));
      assert.match(window.textOnDisk(designFile), /wearer: "eel-singer\.wearer\.json"/);
      await preview.at("#piece-wearer").filter({ hasText: "Eel singer" }).waitFor();
      await preview.phase("ready");
      await window.picture("new-design");
      assert.ok((await preview.mass()) > 5);
      const withPreview = window.page.locator(".editor-group-container").filter({ has: preview.tab });
      assert.equal(await withPreview.locator(".tab").count(), 1, "the code stands beside the preview");
    });
  });
}
