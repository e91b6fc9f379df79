import { strict as assert } from "node:assert";
import { describe, it } from "mocha";
import type { EditorWindow } from "./editorWindow";
import { finLine, foamBandFile } from "./foamBand";
import type { Photo } from "./photo";
import { ShownPreview } from "./shownPreview";

/** Save, see, know: what a save changes and what it must leave alone. */
export function describeEditing(window: EditorWindow): void {
  const preview = new ShownPreview(window);
  const saveFin = async (name: string, middle: number) => {
    await window.replaceLine(foamBandFile, "const fin", finLine(name, middle));
    await window.save();
    // The part that the cursor is in has another colour.
    await window.goTo(1, 1);
  };

  describe("Editing", () => {
    let before: Photo;

    it("draws a tube anew that was edited and saved", async () => {
      await window.openFile(foamBandFile);
      await preview.built("Foam band");
      await preview.press("1");
      await preview.press("f");
      const thin = await preview.photo();
      const mass = await preview.mass();
      await window.openFile(foamBandFile);
      await saveFin("fat fin", 11);
      await preview.built("Foam band", "fat fin");
      assert.ok((await preview.massOtherThan(mass)) > mass);
      const fat = await preview.photo();
      assert.ok(fat.share("piece") > 1.05 * thin.share("piece"), "more of the piece is seen");
      await window.picture("edited");
    });

    it("keeps the camera over ten saves", async () => {
      await preview.press("2");
      for (let i = 0; i < 3; i++) await preview.press("ArrowLeft");
      await window.openFile(foamBandFile);
      await saveFin("fin 0", 5);
      await preview.built("Foam band", "fin 0");
      before = await preview.photo();
      for (let i = 1; i <= 10; i++) {
        await saveFin(`fin ${i}.`, 5 + 0.01 * i);
        await preview.built("Foam band", `fin ${i}.`);
      }
      const after = await preview.photo();
      assert.ok(before.likeness(after) > 0.985, `the outline is the same to ${before.likeness(after)}`);
      // That a turn would have been seen.
      await preview.press("ArrowLeft");
      const turned = await preview.photo();
      assert.ok(before.likeness(turned) < 0.97, `a turn by 10° leaves ${before.likeness(turned)}`);
      await preview.press("ArrowRight");
    });

    it("shows an error at its line, over the last good model", async () => {
      await window.openFile(foamBandFile);
      await saveFin("fin 11", -5);
      await preview.phase("failed");
      await preview.at("#failure").waitFor();
      await preview.at("#failure").filter({ hasText: "foam-band.headpiece.ts:18" }).waitFor();
      await preview.at("#outdated").waitFor();
      const failed = await preview.photo();
      assert.ok(failed.share("piece") + failed.share("head") > 0.05, "the last good model is there");
      await window.page.locator("#status\\.problems").click();
      const row = window.page.locator(".markers-panel .monaco-list-row").filter({ hasText: "[Ln 18" });
      await row.first().waitFor();
      await window.picture("failed-build");
    });

    it("is accessible when failed", () => preview.checkAccess());

    it("takes the error away when it is mended", async () => {
      await window.openFile(foamBandFile);
      await saveFin("fin", 5.6);
      await preview.phase("ready");
      await preview.at("#failure").waitFor({ state: "hidden" });
      await preview.at("#outdated").waitFor({ state: "hidden" });
      await window.page
        .locator(".markers-panel .monaco-list-row")
        .filter({ hasText: "[Ln 18" })
        .waitFor({ state: "hidden" });
      await window.page.locator("#status\\.problems").click();
    });
  });
}
