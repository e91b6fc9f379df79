import { strict as assert } from "node:assert";
import { describe, it } from "mocha";
import type { EditorWindow } from "./editorWindow";
import type { Photo } from "./photo";
import { ShownPreview } from "./shownPreview";

const file = "coral-crown.headpiece.ts";

/** How it is printed: what that takes, the piece on its plate layer by layer, which way up. */
export function describePlan(window: EditorWindow): void {
  const preview = new ShownPreview(window);
  const layer = () => preview.at("#layer");
  const shownLayer = async () => Number(await layer().evaluate((input) => (input as HTMLInputElement).value));
  const isOn = async (tool: string) =>
    (await preview.at(`#tool-${tool}`).getAttribute("aria-pressed")) === "true";
  const turn = async (tool: string, key: string, wanted: boolean) => {
    if ((await isOn(tool)) !== wanted) await preview.press(key);
    await preview.at(`#tool-${tool}[aria-pressed="${wanted}"]`).waitFor();
  };
  const planned = () => preview.at("#plan-status").waitFor({ state: "hidden" });
  let wasPlateShown: boolean;
  let whole: Photo;

  describe("The print plan", () => {
    it("tells hours, filament, spools, way up and supports beside the picture", async () => {
      await window.openFile(file);
      await preview.built("Coral crown");
      await preview.at("#plan .orientation").first().waitFor();
      await planned();
      const rows = await preview.at("#plan .plan-rows .wear-label").allTextContents();
      for (const label of ["Hours", "Filament", "Spools", "Way up", "Supports"]) {
        assert.ok(rows.includes(label), `${label} is among ${rows}`);
      }
      const hours = await preview.at("#plan .plan-rows .wear-row").first().textContent();
      const [, told] = /((?:\d+ h )?\d+ min|\d+ h); likely \d+ to \d+ h/.exec(hours ?? "") ?? [];
      assert.ok(told, `${hours} names hours and a band`);
      await window.page.locator("#anadem\\.anadem\\.design").filter({ hasText: told }).waitFor();
      await preview.at("#plan .plan-rows").scrollIntoViewIfNeeded();
      await window.picture("print-plan");
    });

    it("shows the piece on the plate by a key, without the head, and what holds it up", async () => {
      wasPlateShown = await isOn("plate");
      await turn("plate", "b", true);
      await preview.press("u");
      await preview.at('#preview[data-stage="plate"]').waitFor();
      await layer().waitFor();
      // The colours of what leans out have a test of their own.
      await turn("overhang", "Shift+U", false);
      await preview.press("f");
      whole = await preview.photo();
      await window.picture("on-the-plate");
      assert.ok(whole.share("piece") > 0.02, told(whole));
      // The plate's lines and the supports are left when the piece and the background are counted off.
      await turn("plate", "b", false);
      const alone = await preview.photo();
      assert.ok(alone.share("piece") > 0.02, told(alone));
      const veil = alone.share("head") + alone.share("other");
      assert.ok(veil > 0.05, `supports are seen under it: ${told(alone)}`);
      await turn("plate", "b", true);
    });

    it("is accessible on the plate", () => preview.checkAccess());

    it("walks through the layers by keys: the picture is cut there, and hours and metres are read", async () => {
      const all = await shownLayer();
      assert.equal(all, Number(await layer().getAttribute("max")), "all of it at first");
      assert.ok(all > 300, `${all} layers`);
      const words = () => preview.at("#layer-words").textContent();
      const full = (await words()) ?? "";
      assert.match(
        full,
        new RegExp(`^layer ${all} of ${all} · [\\d.]+ mm · (\\d+ h )?\\d+ (min|h) · [\\d.,]+ m so far$`),
      );
      await preview.press("PageDown");
      await preview.press("Shift+PageDown");
      assert.equal(await shownLayer(), all - 11);
      await layer().focus();
      await window.page.keyboard.press("PageDown");
      assert.equal(await shownLayer(), all - 21);
      const told21 = (await layer().getAttribute("aria-valuetext")) ?? "";
      assert.ok(told21.startsWith(`layer ${all - 21} of ${all}, `), told21);
      assert.match(told21, / h .*min.* m so far/);

      await layer().fill(String(Math.round(all / 2)));
      const half = await preview.photo();
      await window.picture("half-printed");
      assert.ok(half.share("piece") < 0.9 * whole.share("piece"), `${told(half)}; all of it: ${told(whole)}`);
      assert.ok(half.likeness(whole) < 0.95, `the outline is another: alike to ${half.likeness(whole)}`);
      assert.ok(half.top("piece") > whole.top("piece") + 0.03, "the upper half is not there");
      assert.ok(hoursIn(await words()) < hoursIn(full), `${await words()} of ${full}`);
      await preview.checkAccess();

      await layer().fill("1");
      const first = await preview.photo();
      await window.picture("first-layer");
      assert.ok(first.share("piece") < 0.25 * half.share("piece"), told(first));
      await layer().focus();
      await window.page.keyboard.press("End");
      const again = await preview.photo();
      assert.ok(again.likeness(whole) > 0.97, `it stands whole again: alike to ${again.likeness(whole)}`);
    });

    it("colours what leans out, with a legend in degrees", async () => {
      const seen = await preview.photo();
      await turn("overhang", "Shift+U", true);
      const legend = preview.at("#overhang-legend");
      await legend.filter({ hasText: "45" }).waitFor();
      const coloured = await preview.photo();
      await window.picture("overhang-colours");
      assert.ok(
        coloured.share("piece") < 0.6 * seen.share("piece"),
        `${told(coloured)}; before: ${told(seen)}`,
      );
      await preview.checkAccess();
      await turn("overhang", "Shift+U", false);
      await legend.waitFor({ state: "hidden" });
    });

    it("sets the ways up side by side, each with its picture and figures", async () => {
      const cards = preview.at("#plan .orientation");
      const count = await cards.count();
      assert.ok(count >= 2, `${count} ways up`);
      for (let i = 0; i < count; i++) {
        const card = cards.nth(i);
        await card.scrollIntoViewIfNeeded();
        const picture = card.locator("img");
        await window.until("its picture is drawn", () =>
          picture.evaluate((img) => (img as HTMLImageElement).naturalWidth > 50),
        );
        const said = (await card.getAttribute("aria-label")) ?? "";
        assert.match(said, /Hours about .*Supports .* cm³.*Height .* mm/);
      }
      assert.equal(await preview.at('#plan .orientation[aria-pressed="true"]').count(), 1, "one is chosen");
      await cards.first().scrollIntoViewIfNeeded();
      await window.picture("ways-up");
    });

    it("writes the way up that is clicked into the design; one undo takes it back", async () => {
      const text = window.textOnDisk(file);
      const other = preview.at('#plan .orientation[aria-pressed="false"]').first();
      const name = (await other.locator(".orientation-name").textContent()) ?? "";
      await other.click();
      await window.until("the design says so", () => window.textOnDisk(file) !== text);
      const written = window.textOnDisk(file);
      const [line, ...more] = written.split("\n").filter((each) => !text.split("\n").includes(each));
      assert.deepEqual(more, [], "one line is new");
      assert.match(line, /print: \{ orientation: ("as designed"|\{ tilt: [\d.]+(, \w+: -?[\d.]+)* \}) \}/);
      await preview.at('#plan .orientation[aria-pressed="true"]').filter({ hasText: name }).waitFor();
      await planned();
      const lying = await preview.photo();
      await window.picture("other-way-up");
      assert.ok(lying.share("piece") > 0.02, told(lying));
      assert.ok(lying.likeness(whole) < 0.96, `it lies otherwise: alike to ${lying.likeness(whole)}`);
      await window.openFile(file);
      await window.page.keyboard.press("Control+Z");
      await window.save();
      await window.until("it is undone", () => window.textOnDisk(file) === text);
      await preview.at("#plan .is-old").first().waitFor({ state: "detached" });
      await planned();
    });

    it("goes back to the head by the key", async () => {
      await turn("overhang", "Shift+U", true);
      await preview.press("u");
      await preview.at('#preview[data-stage="head"]').waitFor();
      await turn("plate", "b", wasPlateShown);
      await preview.press("1");
      await preview.press("f");
      const back = await preview.photo();
      assert.ok(back.share("head") > 0.04, told(back));
      assert.ok(back.middle("piece").y < back.middle("head").y, told(back));
    });
  });
}

/** Hours in a line such as `layer 3 of 9 · 0.6 mm · 1 h 5 min · 3 m so far`. */
function hoursIn(words: string | null): number {
  const [, hours = "0", minutes = "0"] = / mm · (?:(\d+) h)? ?(?:(\d+) min)?/.exec(words ?? "") ?? [];
  return Number(hours) + Number(minutes) / 60;
}

const told = (photo: Photo): string =>
  (["background", "piece", "head", "other"] as const)
    .map((what) => {
      const { x, y } = photo.middle(what);
      return `${what} ${(100 * photo.share(what)).toFixed(1)} % about ${x.toFixed(3)}, ${y.toFixed(3)}`;
    })
    .join("; ");
