import { describe, it } from "mocha";
import type { EditorWindow } from "./editorWindow";

/** The window is closed: nothing of ours is left. */
export function describeEnding(window: EditorWindow): void {
  describe("Closing", () => {
    it("leaves no engine and no design running 5 s after the window is closed", async () => {
      const ours = () => window.children().filter(({ command }) => /(engine|evaluator)\.cjs/.test(command));
      await window.close();
      await window.until("no process of ours is left", () => ours().length === 0, 5);
    });
  });
}
