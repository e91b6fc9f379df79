import { strict as assert } from "node:assert";
import { execFileSync } from "node:child_process";
import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { describe, it } from "mocha";
import type { EditorWindow } from "./editorWindow";
import { foamBand } from "./foamBand";
import type { Photo } from "./photo";
import { ShownPreview } from "./shownPreview";

const name = "tide-band.headpiece.ts";
const file = `versions/${name}`;

/** A piece beside its version in a commit: chosen from a list, seen in colours, moved between, ended. */
export function describeVersions(window: EditorWindow): void {
  const preview = new ShownPreview(window);
  const slider = () => preview.at("#comparison-share");
  const shownShare = async () =>
    Number(await slider().evaluate((input) => (input as HTMLInputElement).value));
  const git = (...words: string[]) =>
    execFileSync("git", words, {
      cwd: window.path("versions"),
      env: {
        ...process.env,
        GIT_CONFIG_GLOBAL: "/dev/null",
        GIT_CONFIG_NOSYSTEM: "1",
        GIT_AUTHOR_NAME: "The Tide Court",
        GIT_AUTHOR_EMAIL: "court@tide.invalid",
        GIT_COMMITTER_NAME: "The Tide Court",
        GIT_COMMITTER_EMAIL: "court@tide.invalid",
      },
    });
  let alone: Photo;
  let both: Photo;

  describe("Versions", () => {
    it("lists the commits of a design, and compares it with the one that is chosen", async () => {
      mkdirSync(window.path("versions"), { recursive: true });
      for (const used of ["pearl-diver.wearer.json", "hall-220.printer.json", "pla.material.json"]) {
        writeFileSync(window.path(`versions/${used}`), window.textOnDisk(used));
      }
      writeFileSync(window.path(file), foamBand.replace("Foam band", "Tide band"));
      git("init", "--quiet", "--initial-branch=main");
      git("add", "--all");
      git("commit", "--quiet", "-m", "Tide band: a fin over the brow");
      await window.openFile(name);
      await window.command("Anadem: Show Preview");
      await preview.built("Tide band", "fin");
      const crest =
        'tube("crest", [ring.atAzimuth(-50), onHead({ azimuth: -50, elevation: 40, lift: 45 })], { radius: [6, 5] })';
      const written = window.textOnDisk(file);
      writeFileSync(window.path(file), written.replace("[ring, fin]", `[ring, ${crest}]`));
      await preview.built("Tide band", "crest");
      await preview.press("1");
      await preview.press("f");
      alone = await preview.photo();
      await window.command("Anadem: Compare With Commit…");
      await window.asked("Compare With Commit");
      await window.row("Tide band: a fin over the brow").first().waitFor();
      await window.row("Another revision…").waitFor();
      await window.row("main").first().waitFor();
      await window.picture("commits");
      await window.pick("a fin over", "Tide band: a fin over the brow");
      await preview.at("#comparison-sentence").waitFor();
      await slider().waitFor();
    });

    it("shows what was added and removed in two colours, with measurements side by side", async () => {
      await preview.press("f");
      both = await preview.photo();
      await window.picture("compared");
      assert.ok(both.likeness(alone) < 0.98, `the picture is another: alike to ${both.likeness(alone)}`);
      const parts = await preview.at("#comparison-parts li").allTextContents();
      assert.ok(
        parts.some((text) => /crest\s+added/.test(text)),
        `crest was added: ${parts}`,
      );
      assert.ok(
        parts.some((text) => /fin\s+removed/.test(text)),
        `the fin was removed: ${parts}`,
      );
      const rows = await preview.at("#comparison-table tbody tr").count();
      assert.ok(rows > 0, `${rows} measurements differ`);
      assert.match((await preview.at("#added-volume").textContent()) ?? "", /added [\d.]+ c?m/);
      assert.match((await preview.at("#removed-volume").textContent()) ?? "", /removed [\d.]+ c?m/);
      await preview.at("#picture-words").filter({ hasText: "Compared with" }).waitFor({ state: "attached" });
    });

    it("is accessible while comparing", () => preview.checkAccess());

    it("moves between the old piece and that of now by keys", async () => {
      for (let i = 0; i < 4; i++) await preview.press("q");
      assert.equal(await shownShare(), 0);
      const old = await preview.photo();
      await window.picture("old-piece");
      await slider().focus();
      await window.page.keyboard.press("End");
      assert.equal(await shownShare(), 100);
      const now = await preview.photo();
      await window.picture("piece-of-now");
      assert.ok(old.likeness(now) < 0.99, `two pieces: alike to ${old.likeness(now)}`);
      assert.equal(await slider().getAttribute("aria-valuetext"), "The piece of now");
      await slider().fill("50");
      const again = await preview.photo();
      assert.ok(again.likeness(both) > 0.97, `as before: alike to ${again.likeness(both)}`);
      await preview.press("Shift+C");
      await slider().waitFor({ state: "hidden" });
      await preview.press("Shift+C");
      await slider().waitFor();
    });

    it("comes near to where the surfaces lie farthest apart", async () => {
      await preview.at("#comparison-greatest").click();
      const near = await preview.photo();
      await window.picture("greatest-distance");
      assert.ok(near.likeness(both) < 0.9, `the camera is elsewhere: alike to ${near.likeness(both)}`);
    });

    it("is compared again after a save", async () => {
      const before = await preview.at("#added-volume").textContent();
      await window.openFile(name);
      await window.replace(file, "lift: 45", "lift: 70");
      await window.save();
      await window.until(
        "the crest has grown",
        async () => (await preview.at("#added-volume").textContent()) !== before,
        180,
      );
      await preview.at("#comparison-status").waitFor({ state: "hidden" });
    });

    it("is compared again after the window is reloaded, and its button leaves the keyboard to the picture", async () => {
      const sentence = await preview.at("#comparison-sentence").textContent();
      await window.reload();
      await preview.at("#comparison-sentence").filter({ hasText: sentence! }).waitFor({ timeout: 120_000 });
      await slider().waitFor();
      const end = preview.at("#comparison-deed-endComparison");
      await end.focus();
      await end.press("Enter");
      await preview.at("#comparison-bar").waitFor({ state: "hidden" });
      await preview.at("#comparison").waitFor({ state: "hidden" });
      const focused = await preview.at("#picture").evaluate((it) => it.ownerDocument.activeElement === it);
      assert.ok(focused, "the picture has the keyboard");
      // Its wearer would be in the folder twice.
      rmSync(window.path("versions"), { recursive: true, force: true });
    });
  });
}
