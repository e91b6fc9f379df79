import { strict as assert } from "node:assert";
import { describe, it } from "mocha";
import type { EditorWindow } from "./editorWindow";

/** A workspace that is not trusted: nothing runs, and the person is told why. */
export function describeRestricted(window: EditorWindow): void {
  describe("Restricted Mode", () => {
    it("opens the workspace untrusted", async () => {
      await window.open();
      await window.page.locator("#status\\.workspaceTrust").waitFor();
    });

    it("shows why nothing is built", async () => {
      await window.openFile("coral-crown.headpiece.ts");
      await window.command("Anadem: Show Preview");
      await window.webview.getByText("Restricted Mode", { exact: true }).waitFor({ timeout: 90_000 });
      await window.picture("restricted");
    });

    it("has started no engine", () => {
      assert.deepEqual(
        window.children().filter(({ command }) => command.includes("engine.cjs")),
        [],
      );
    });
  });
}
