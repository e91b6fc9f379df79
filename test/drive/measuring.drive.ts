import { strict as assert } from "node:assert";
import { writeFileSync } from "node:fs";
import { describe, it } from "mocha";
import type { EditorWindow } from "./editorWindow";
import { ShownGuide } from "./shownGuide";

const file = "minnow.wearer.json";

/** A wearer is measured with the guide: by the keyboard, with drawings, and the file is written. */
export function describeMeasuring(window: EditorWindow): void {
  const guide = new ShownGuide(window);
  let before: string;

  describe("Measuring", () => {
    it("begins at the first measure that is not taken, with its drawing", async () => {
      before = window.textOnDisk(file);
      await window.openFile(file);
      await window.command("Anadem: Measure Wearer…");
      await (await guide.at("h2")).filter({ hasText: "Head length" }).waitFor();
      assert.match((await (await guide.at("h1")).textContent()) ?? "", /Pip, the Minnow/);
      const drawing = await guide.at(".drawing svg[role=img]");
      const box = await drawing.boundingBox();
      assert.ok(box && box.width > 150 && box.height > 150, JSON.stringify(box));
      await window.picture("measuring-guide");
    });

    it("tells mean and difference while one types, and asks for a third where two differ too much", async () => {
      const first = await guide.at("#reading-0");
      await first.focus();
      await window.page.keyboard.type("18.1");
      await window.page.keyboard.press("Enter");
      await window.page.keyboard.type("18.6");
      await (await guide.at(".result")).filter({ hasText: "Mean 18.35 cm, difference 0.5 cm" }).waitFor();
      await (await guide.at(".remark.warning")).filter({ hasText: "a third time" }).waitFor();
      await (await guide.at("#reading-2")).waitFor();
      await window.picture("measuring-differ");
    });

    it("is accessible", () => guide.checkAccess());

    it("keeps what was typed when the window is loaded anew", async () => {
      await window.reload();
      await (await guide.at("h2")).filter({ hasText: "Head length" }).waitFor();
      assert.equal(await (await guide.at("#reading-1")).inputValue(), "18.6");
    });

    it("writes the file, with all else as it was", async () => {
      await (await guide.at("#reading-1")).fill("18.3");
      await (await guide.at(".result")).filter({ hasText: "Mean 18.2 cm" }).waitFor();
      await (await guide.at("button.primary:enabled")).click();
      await window.until("the file is written", async () => /18\.3.*\n\}\s*$/s.test(window.textOnDisk(file)));
      const lines = new Set(before.split("\n"));
      const added = window.textOnDisk(file).split("\n");
      assert.deepEqual(
        added.filter((line) => !lines.has(line)),
        ['  "length": { "readings": [18.1, 18.3] },'],
      );
      writeFileSync(window.path(file), before);
    });
  });
}
