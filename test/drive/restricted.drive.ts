import { strict as assert } from "node:assert";
import { execFileSync } from "node:child_process";
import { describe, it } from "mocha";
import type { EditorWindow } from "./editorWindow";
import { foamBandFile } from "./foamBand";
import { ShownPreview } from "./shownPreview";

/** A workspace that is not trusted: nothing runs, the kept report can be read, and the person is told why. */
export function describeRestricted(window: EditorWindow): void {
  const preview = new ShownPreview(window);
  const report = window.webviewOf.bind(window, "vscode.markdown-language-features");

  describe("Restricted Mode", () => {
    it("opens the workspace untrusted", async () => {
      // The report that is kept beside the design is the command line's.
      const { commandLine } = window.setting;
      execFileSync(process.execPath, [commandLine, "build", window.path(foamBandFile), "--report"], {
        stdio: "pipe",
      });
      await window.open();
      await window.page.locator("#status\\.workspaceTrust").waitFor();
    });

    it("shows why nothing is built", async () => {
      await window.openFile(foamBandFile);
      await window.command("Anadem: Show Preview");
      await preview.at("#notice-title").filter({ hasText: "Restricted Mode" }).waitFor();
      await window.picture("restricted");
    });

    it("is accessible when restricted", () => preview.checkAccess());

    it("reads the report that is kept beside the design", async () => {
      await window.page.keyboard.press("Control+1");
      await window.command("Anadem: Show Report");
      const page = report().locator("body");
      await page.filter({ hasText: "Restricted Mode" }).waitFor();
      const kept = JSON.parse(window.textOnDisk("foam-band.report.json"));
      await page.filter({ hasText: String(kept.massPrintedG) }).waitFor();
      await window.picture("restricted-report");
    });

    it("has started no engine", () => {
      assert.deepEqual(
        window.children().filter(({ command }) => command.includes("engine.cjs")),
        [],
      );
    });

    it("trusts the workspace from the preview", async () => {
      await window.command("View: Close All Editors");
      await window.openFile(foamBandFile);
      await window.command("Anadem: Show Preview");
      await preview.at("#notice-action").click();
      const editor = window.page.locator(".workspace-trust-editor");
      await editor.getByRole("button", { name: "Trust", exact: true }).first().click();
      await window.page.locator("#status\\.workspaceTrust").waitFor({ state: "hidden" });
      await window.command("View: Close All Editors");
    });
  });
}
