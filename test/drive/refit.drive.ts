import { strict as assert } from "node:assert";
import { existsSync, readdirSync } from "node:fs";
import { describe, it } from "mocha";
import type { EditorWindow } from "./editorWindow";
import { foamBandFile } from "./foamBand";
import { ShownRefitTable } from "./shownRefitTable";

/** A design over all wearers, in a table beside the code. */
export function describeRefit(window: EditorWindow): void {
  const table = new ShownRefitTable(window);
  const tab = () => window.page.locator(".tab").filter({ hasText: /^Refit foam-band/ });

  describe("The refit table", () => {
    it("has a row with a picture for each wearer of the folder", async () => {
      await window.command("View: Close All Editors");
      await window.openFile(foamBandFile);
      await window.command("Anadem: Refit for All Wearers");
      await tab().waitFor();
      const wearers = readdirSync(window.setting.workspace, { recursive: true, encoding: "utf8" }).filter(
        (name) => name.endsWith(".wearer.json"),
      );
      await (await table.at("#progress")).waitFor();
      await window.picture("refit-running");
      await table.made();
      const rows = await table.at("tr.row");
      assert.equal(await rows.count(), wearers.length);
      const widths = await (await table.at("img.picture")).evaluateAll((images) =>
        (images as HTMLImageElement[]).map(({ naturalWidth, alt }) => [naturalWidth > 10, alt]),
      );
      assert.equal(widths.length, wearers.length);
      for (const [isDrawn, alt] of widths)
        assert.ok(isDrawn && /^Foam band on /.test(String(alt)), String(alt));
      await window.picture("refit-table");
    });

    it("is accessible", () => table.checkAccess());

    it("sorts by a column's head, and says so", async () => {
      const head = await table.at("th.cell-mass");
      await head.locator("button").click();
      assert.equal(await head.getAttribute("aria-sort"), "ascending");
      const masses = (await (await table.at("td.cell-mass")).allTextContents()).map(Number.parseFloat);
      assert.deepEqual(
        masses,
        [...masses].sort((a, b) => a - b),
      );
      await head.locator("button").click();
      await head.locator("button").click();
      assert.equal(await head.getAttribute("aria-sort"), "none");
    });

    it("unfolds a row by the arrow key, and walks on", async () => {
      const show = await table.at(".row-show");
      await show.nth(1).focus();
      await window.page.keyboard.press("ArrowRight");
      await (await table.at("tr.detail:not([hidden]) .detail-part")).first().waitFor();
      await window.picture("refit-unfolded");
      await window.page.keyboard.press("ArrowDown");
      assert.ok(await show.nth(2).evaluate((button) => button === document.activeElement));
    });

    it("is accessible when unfolded", () => table.checkAccess());

    it("shows the row that is clicked in the preview", async () => {
      await (await table.row("Minnow")).locator(".cell-mass").click();
      const preview = await table.frameWith("#preview");
      await preview.locator("#piece-wearer").filter({ hasText: "Minnow" }).waitFor();
      await preview.locator('#preview[data-phase="ready"]').waitFor();
      await (await table.at('tr.row[aria-current="true"] .row-show')).filter({ hasText: "Minnow" }).waitFor();
      await window.picture("refit-clicked");
      assert.match(
        window.textOnDisk(foamBandFile),
        /wearer: "pearl-diver\.wearer\.json"/,
        "no edit of the file",
      );
    });

    it("makes a row again when its wearer's file is saved", async () => {
      const file = "minnow.wearer.json";
      const before = await table.mass("Minnow");
      const others = await table.mass("Diver");
      await window.openFile(file);
      await window.replaceLine(file, '"girth"', '  "girth": 57,');
      await window.save();
      await tab().click();
      await window.until(
        "the row has another mass",
        async () => {
          const mass = await table.mass("Minnow");
          return Number.isFinite(mass) && mass > before;
        },
        120,
      );
      await table.made();
      assert.equal(await table.mass("Diver"), others);
    });

    it("exports what passes", async () => {
      await (await table.at("#export")).click();
      await window.until(
        "a row's files are there",
        () =>
          existsSync(window.path("out/foam-band/minnow")) &&
          existsSync(window.path("out/foam-band/pearl-diver")),
        240,
      );
      await window.listNotifications();
      await window.notifications.filter({ hasText: /rows were written to/ }).waitFor();
      const names = readdirSync(window.path("out/foam-band/pearl-diver"));
      assert.ok(
        names.some((name) => name.endsWith(".stl")),
        names.join(),
      );
      await window.picture("refit-exported");
    });

    it("comes back after the window is reloaded, with its rows as they were", async () => {
      await tab().click();
      await window.reload();
      await tab().waitFor();
      await table.made();
      assert.ok((await table.mass("Minnow")) > 3);
      await window.command("View: Close All Editors");
    });
  });
}
