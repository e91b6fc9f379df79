import { strict as assert } from "node:assert";
import { describe, it } from "mocha";
import type { EditorWindow } from "./editorWindow";
import { foamBandFile } from "./foamBand";
import { ShownPreview } from "./shownPreview";

/** Fit and wear: the verdict, the gap as colours, the way on, what the wearer sees. */
export function describeWear(window: EditorWindow): void {
  const preview = new ShownPreview(window);

  describe("Fit and wear", () => {
    it("gives a verdict and an answer to every question", async () => {
      await window.openFile(foamBandFile);
      await preview.built("Foam band");
      await preview
        .at("#verdict .verdict-word")
        .filter({ hasText: /^(Wear|Adjust first)$/ })
        .waitFor();
      const rows = await preview.at("#wear .wear-label").allTextContents();
      assert.deepEqual(rows, [
        "Fit",
        "Way on",
        "Hold",
        "How sure",
        "Weight",
        "Sight and ears",
        "Sharp and small",
        "Strength",
        "Heat",
      ]);
      await preview.at("#wear .wear-row").first().scrollIntoViewIfNeeded();
      await window.picture("fit-and-wear");
    });

    it("paints the gap to the head, with a legend in mm, and gives the piece its colour back", async () => {
      await preview.press("1");
      const plain = await preview.photo();
      await preview.press("Shift+G");
      await preview.at("#field-legend").filter({ hasText: "mm" }).waitFor();
      const painted = await preview.photo();
      assert.ok(painted.share("piece") < 0.25 * plain.share("piece"), "the piece has other colours");
      await window.picture("gap-colours");
      await preview.checkAccess();
      await preview.press("Shift+G");
      const again = await preview.photo();
      assert.ok(again.likeness(plain) > 0.97, "the piece looks as it did");
    });

    it("shows the way on: the piece stands off the head, and comes to its seat", async () => {
      const seated = await preview.photo();
      await preview.press("Shift+W");
      await preview.at("#way-bar").waitFor();
      await preview.at("#way-words").filter({ hasText: "straight down" }).waitFor();
      await preview.at("#way-share").fill("0");
      const off = await preview.photo();
      await window.picture("way-on");
      assert.ok(off.middle("piece").y < off.middle("head").y, "it stands over the head");
      // Off the head it hides less of it: the two are farther apart than on it.
      const apart = (photo: typeof off) => photo.middle("head").y - photo.middle("piece").y;
      assert.ok(apart(off) > apart(seated) + 0.05, `${apart(off)} off the head, ${apart(seated)} on it`);
      await preview.at("#way-share").fill("100");
      const on = await preview.photo();
      assert.ok(apart(on) < apart(off) - 0.05, "it has come down");
      await preview.checkAccess();
      await preview.at("#way-close").click();
    });

    it("shows what the wearer sees as a plot with its words", async () => {
      await preview.at("#wear .wear-button").filter({ hasText: "Sight and ears" }).click();
      const image = preview.at("#sight-image");
      await image.waitFor();
      assert.match((await image.getAttribute("alt")) ?? "", /^Polar plot as the wearer sees it/);
      const isDrawn = await image.evaluate(
        (img) => (img as unknown as { naturalWidth: number }).naturalWidth > 100,
      );
      assert.ok(isDrawn, "the plot is drawn");
      await image.scrollIntoViewIfNeeded();
      await window.picture("sight-plot");
      await preview.at("#wear .wear-button").filter({ hasText: "Sight and ears" }).click();
    });
  });
}
