import { strict as assert } from "node:assert";
import { existsSync, readFileSync, rmSync } from "node:fs";
import { describe, it } from "mocha";
import type { EditorWindow } from "./editorWindow";
import { foamBandFile } from "./foamBand";
import type { Photo } from "./photo";
import { ShownPreview } from "./shownPreview";

/** The piece on its head beside the code: the right colours in the right places. */
export function describePicture(window: EditorWindow): void {
  const preview = new ShownPreview(window);

  const openByTheEye = async (file: string) => {
    await window.openFile(file);
    await window.page
      .locator(".editor-group-container.active .editor-actions")
      .getByRole("button", { name: /^Show Preview/ })
      .click();
  };

  describe("The picture", () => {
    let band: Photo;

    it("opens from the eye in the editor's title", async () => {
      await openByTheEye(foamBandFile);
      await preview.built("Foam band");
      await window.picture("ready");
    });

    it("shows a band around the head and a fin over the brow", async () => {
      // The plate is as grey as the head.
      await preview.press("b");
      await preview.press("1");
      await window.page.mouse.move(0, 0);
      const front = await preview.photo();
      await window.picture("front");
      checkCrowned(front);
      band = front;
      // Seen from the front the fin stands in the middle: the design is the same left and right.
      assert.ok(Math.abs(front.middle("piece").x - front.middle("head").x) < 0.03, told(front));
      await preview.press("3");
      const left = await preview.photo();
      // From her left the face looks to the left, and the fin is over it.
      assert.ok(left.middle("piece").x < left.middle("head").x - 0.01, told(left));
      assert.ok(front.likeness(left) < 0.97, "the view from the left has another outline");
    });

    it("shows the piece alone when the head is hidden", async () => {
      await preview.press("h");
      const without = await preview.photo();
      assert.ok(without.share("head") < 0.01, told(without));
      assert.ok(without.share("piece") > 0.008, told(without));
      await preview.press("h");
    });

    it("is saved as a file by a key", async () => {
      const file = window.path("foam-band.png");
      await preview.press("1");
      const seen = await preview.photo();
      await preview.press("s");
      await window.asked("Save Picture");
      await window.picture("save-picture");
      await window.page.keyboard.press("Enter");
      // It is there before it is whole: a PNG ends with the chunk IEND, 4 bytes of name and 4 of check sum.
      const isWhole = () => readFileSync(file).subarray(-8, -4).toString("latin1") === "IEND";
      await window.until("the picture is written", () => existsSync(file) && isWhole());
      const png = readFileSync(file);
      rmSync(file);
      // PNG (W3C, third edition, 5.2): eight bytes of signature.
      assert.equal(png.subarray(0, 8).toString("hex"), "89504e470d0a1a0a");
      const saved = await preview.photoIn(png);
      checkCrowned(saved);
      for (const what of ["piece", "head", "background"] as const) {
        assert.ok(
          Math.abs(saved.share(what) - seen.share(what)) < 0.02,
          `${told(saved)} in the file; ${told(seen)} on the screen`,
        );
      }
    });

    it("names the tube under the pointer; a click goes to its line", async () => {
      await preview.press("1");
      const front = await preview.photo();
      await preview.pointAt(front.inside("piece", 5));
      const card = preview.at("#hover-card");
      await card.waitFor();
      // The highest place that shows the piece is on the fin.
      assert.match(
        (await card.textContent()) ?? "",
        /^fintube · [\d.]+ mm long.* g.*foam-band\.headpiece\.ts:18/,
      );
      await window.page.mouse.down();
      await window.page.mouse.up();
      await window.page
        .locator("#status\\.editor\\.selection")
        .filter({ hasText: "Ln 18, Col 17" })
        .waitFor();
    });

    it("lights the tube that the editor's cursor is in", async () => {
      await window.page.mouse.move(0, 0);
      await window.openFile(foamBandFile);
      await window.goTo(1, 1);
      const unlit = await preview.photo();
      await window.goTo(18, 20);
      const lit = await preview.photo();
      await window.picture("lit");
      const fin = unlit.share("piece") - lit.share("piece");
      assert.ok(fin > 0.002, `${told(unlit)} with no cursor in it; ${told(lit)} with it`);
      assert.ok(lit.share("piece") > 0.002, "the band is lit with it");
      await window.goTo(1, 1);
    });

    it("takes its colours from a dark and from a high-contrast theme", async () => {
      const themes = [
        ["Default Dark Modern", "vscode-dark", "dark"],
        ["Default High Contrast", "vscode-high-contrast", "high-contrast"],
      ] as const;
      for (const [name, kind, picture] of themes) {
        window.set({ "workbench.colorTheme": name });
        await preview.themed(kind);
        const photo = await preview.photo();
        await window.picture(picture);
        checkCrowned(photo);
        await preview.checkAccess();
      }
      window.set({});
      await preview.themed("vscode-light");
    });

    it("is accessible when ready", () => preview.checkAccess());

    it("follows to another design: the coral crown", async () => {
      await window.openFile("coral-crown.headpiece.ts");
      await preview.built("Coral crown");
      await preview.press("1");
      await preview.press("f");
      const front = await preview.photo();
      await window.picture("coral-front");
      checkCrowned(front);
      assert.ok(
        front.share("piece") > 2 * band.share("piece"),
        `coral covers more than a band: ${told(front)}`,
      );
      await preview.press("f");
    });
  });
}

/** Piece above head, both there, nothing in the corners. */
function checkCrowned(photo: Photo): void {
  assert.ok(photo.share("piece") > 0.01, told(photo));
  assert.ok(photo.share("head") > 0.04, told(photo));
  assert.ok(photo.share("background") > 0.3, told(photo));
  assert.ok(photo.middle("piece").y < photo.middle("head").y - 0.05, told(photo));
  assert.ok(photo.top("piece") < photo.top("head"), told(photo));
  assert.deepEqual(photo.corners(24), ["background", "background", "background", "background"]);
}

const told = (photo: Photo): string =>
  (["background", "piece", "head", "other"] as const)
    .map((what) => {
      const { x, y } = photo.middle(what);
      return `${what} ${(100 * photo.share(what)).toFixed(1)} % about ${x.toFixed(3)}, ${y.toFixed(3)}`;
    })
    .join("; ");
