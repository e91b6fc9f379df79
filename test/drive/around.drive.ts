import { strict as assert } from "node:assert";
import { existsSync, readFileSync, rmSync } from "node:fs";
import { describe, it } from "mocha";
import type { EditorWindow } from "./editorWindow";
import { finLine, foamBandFile } from "./foamBand";
import type { Photo } from "./photo";
import { ShownPreview } from "./shownPreview";

/** Wearer, files, engine and window: what stands around the picture. */
export function describeAround(window: EditorWindow): void {
  const preview = new ShownPreview(window);
  const status = () => window.page.locator("#anadem\\.anadem\\.design");

  describe("Around the picture", () => {
    it("fits the piece to another wearer from the status bar", async () => {
      await window.openFile(foamBandFile);
      await preview.built("Foam band");
      const mass = await preview.mass();
      await status().click();
      await window.pick("Choose Wearer");
      await window.asked("Who wears");
      await window.pick("Minnow");
      await preview.at("#piece-wearer").filter({ hasText: "Minnow" }).waitFor();
      const fitted = await preview.massOtherThan(mass);
      assert.ok(fitted < mass, `a child's band is lighter: ${fitted} g after ${mass} g`);
      await preview.phase("ready");
      await status()
        .filter({ hasText: `${Math.round(fitted)} g` })
        .waitFor();
      await window.picture("wearer");
    });

    it("exports files, and says where", async () => {
      await window.openFile(foamBandFile);
      rmSync(window.path("out"), { recursive: true, force: true });
      await window.command("Anadem: Export Files");
      await window.until("the files are there", () => existsSync(window.path("out/foam-band.stl")));
      await window.page.waitForTimeout(1000);
      await window.listNotifications();
      const said = window.notifications.filter({ hasText: "files written to" });
      await said.getByRole("button", { name: "Show Files" }).waitFor();
      await window.picture("exported");
      const stl = readFileSync(window.path("out/foam-band.stl"));
      // STL, binary: 80 bytes of header, the number of triangles, 50 bytes for each.
      assert.equal(stl.length, 84 + 50 * stl.readUInt32LE(80));
      const report = JSON.parse(window.textOnDisk("out/foam-band.report.json"));
      assert.match(report.wearer, /Minnow/);
      assert.ok(existsSync(window.path("out/foam-band.drawing.svg")));
      await said.getByRole("button", { name: "Show Files" }).click();
      await window.page.getByRole("treeitem", { name: "foam-band.stl" }).first().waitFor();
    });

    it("builds the next save after its engine was killed", async () => {
      const engines = () => window.children().filter(({ command }) => command.includes("engine.cjs"));
      const killed = engines();
      assert.equal(killed.length, 1, "one engine");
      process.kill(killed[0].pid, "SIGKILL");
      await window.openFile(foamBandFile);
      await window.replaceLine(foamBandFile, "const fin", finLine("second fin", 8));
      await window.save();
      await window.goTo(1, 1);
      await preview.built("Foam band", "second fin");
      assert.equal(engines().length, 1, "one engine");
      assert.notEqual(engines()[0].pid, killed[0].pid);
    });

    it("comes back after the window is reloaded, with its camera and its wearer", async () => {
      await preview.press("2");
      for (let i = 0; i < 3; i++) await preview.press("ArrowUp");
      await preview.built("Foam band", "second fin");
      const before: Photo = await preview.photo();
      await window.picture("before-reload");
      // In a browser the editor keeps the state of its views every five seconds, when it has nothing else to do.
      await window.page.waitForTimeout(8000);
      await window.reload();
      await preview.built("Foam band", "second fin");
      await preview.at("#piece-wearer").filter({ hasText: "Minnow" }).waitFor();
      const after = await preview.photo();
      await window.picture("reloaded");
      assert.ok(before.likeness(after) > 0.97, `the outline is the same to ${before.likeness(after)}`);
    });
  });
}
