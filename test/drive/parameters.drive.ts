import { strict as assert } from "node:assert";
import { describe, it } from "mocha";
import type { EditorWindow } from "./editorWindow";
import { foamBandFile } from "./foamBand";
import { ShownPreview } from "./shownPreview";

/** Parameters moved beside the picture, taken back, and written into the file. */
export function describeParameters(window: EditorWindow): void {
  const preview = new ShownPreview(window);
  const slider = () => preview.at("#parameter-reach-slider");
  let usual: number;
  let text: string;

  describe("Parameters", () => {
    it("change the piece and leave the file alone", async () => {
      await window.openFile(foamBandFile);
      await preview.built("Foam band");
      text = window.textOnDisk(foamBandFile);
      usual = await preview.mass();
      await preview.press("1");
      const low = await preview.photo();
      await slider().focus();
      await window.page.keyboard.press("End");
      const moved = await preview.massOtherThan(usual);
      assert.ok(moved > usual, `${moved} g after ${usual} g`);
      await preview.phase("ready");
      const high = await preview.photo();
      assert.ok(high.top("piece") < low.top("piece") - 0.02, "the fin stands higher");
      assert.equal(window.textOnDisk(foamBandFile), text);
      await window.picture("side-panel");
    });

    it("go back with Reset", async () => {
      const moved = await preview.mass();
      await preview.at("#button-resetValues").click();
      assert.equal(await preview.massOtherThan(moved), usual);
      assert.equal(await preview.at("#parameter-reach").inputValue(), "60");
    });

    it("are written into the file, as an edit that can be undone", async () => {
      await slider().focus();
      await window.page.keyboard.press("End");
      await preview.massOtherThan(usual);
      await preview.phase("ready");
      await preview.at("#button-writeValues").click();
      const written = text.replace("length(60,", "length(120,");
      await window.until("the file is written", () => window.textOnDisk(foamBandFile) === written);
      await preview.at("#button-writeValues:disabled").waitFor();
      await window.openFile(foamBandFile);
      await window.page.keyboard.press("Control+Z");
      await window.save();
      await window.until("it is undone", () => window.textOnDisk(foamBandFile) === text);
      await window.until("the mass is as it was", async () => (await preview.mass()) === usual);
    });
  });
}
