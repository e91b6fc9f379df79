import { strict as assert } from "node:assert";
import { describe, it } from "mocha";
import type { EditorWindow } from "./editorWindow";
import { foamBandFile } from "./foamBand";
import { ShownPreview } from "./shownPreview";

/** A view that gets no WebGL 2: the drawing sheet stands in, and all else goes on. Stays so for the whole window. */
export function describeWithoutWebgl(window: EditorWindow): void {
  const preview = new ShownPreview(window);
  const width = () => preview.at("#sheet-image").evaluate((image: HTMLImageElement) => image.naturalWidth);

  describe("Without WebGL", () => {
    it("shows the drawing sheet, and says why", async () => {
      await window.page.addInitScript(() => {
        const { getContext } = HTMLCanvasElement.prototype;
        HTMLCanvasElement.prototype.getContext = function (this: HTMLCanvasElement, ...args: unknown[]) {
          return args[0] === "webgl2" ? null : Reflect.apply(getContext, this, args);
        } as typeof getContext;
      });
      await window.command("View: Close All Editors");
      await window.openFile(foamBandFile);
      await window.command("Anadem: Show Preview");
      await preview.built("Foam band");
      await preview.at(".sheet-told").filter({ hasText: "no WebGL 2" }).waitFor();
      await window.until("the sheet is shown", async () => (await width()) > 100);
      await window.picture("sheet");
      assert.match((await preview.at("#sheet-image").getAttribute("alt")) ?? "", /Foam band/);
      assert.ok((await preview.mass()) > 5);
    });

    it("is accessible so", () => preview.checkAccess());
  });
}
