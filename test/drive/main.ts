import { writeFileSync } from "node:fs";
import { afterEach } from "mocha";
import type { Browser } from "playwright-core";
import { runTests } from "../host/mochaRun";
import { EditorWindow } from "./editorWindow";
import { foamBand, foamBandFile } from "./foamBand";

/** What the drive is given by the program that starts it. */
export interface DriveSetting {
  /** Of the server host. */
  readonly address: string;
  readonly serverPid: number;
  /** Starts the command line. */
  readonly commandLine: string;
  /** A copy of the samples; not trusted yet. */
  readonly workspace: string;
  readonly browser: Browser;
  /** Folder for pictures. */
  readonly screenshots: string;
  /** File for the results. */
  readonly results: string;
  readonly grep?: string;
  say(line: string): void;
}

/** Drives the packaged extension through one window, test after test; throws when one failed. */
export async function run(setting: DriveSetting): Promise<void> {
  const { browser, results, grep, say } = setting;
  const host = `server host shown by Chromium ${browser.version()}`;
  const window = new EditorWindow(setting);
  const { passed, failed } = await runTests({ host, file: results, grep, bail: true, say }, async () => {
    writeFileSync(window.path(foamBandFile), foamBand);
    const { describeRestricted } = await import("./restricted.drive");
    const { describePicture } = await import("./picture.drive");
    const { describeWear } = await import("./wear.drive");
    const { describePlan } = await import("./plan.drive");
    const { describeEditing } = await import("./editing.drive");
    const { describeParameters } = await import("./parameters.drive");
    const { describeAround } = await import("./around.drive");
    const { describeBeginning } = await import("./beginning.drive");
    const { describeMeasuring } = await import("./measuring.drive");
    const { describeKeys } = await import("./keys.drive");
    const { describeVersions } = await import("./versions.drive");
    const { describeRefit } = await import("./refit.drive");
    const { describeWithoutWebgl } = await import("./withoutWebgl.drive");
    const { describeEnding } = await import("./ending.drive");
    afterEach(async function () {
      if (this.currentTest?.state === "failed" && window.isOpen) await window.picture("failed");
    });
    describeRestricted(window);
    describePicture(window);
    describeWear(window);
    describePlan(window);
    describeEditing(window);
    describeParameters(window);
    describeAround(window);
    describeBeginning(window);
    describeMeasuring(window);
    describeKeys(window);
    describeVersions(window);
    describeRefit(window);
    describeWithoutWebgl(window);
    describeEnding(window);
  });
  if (failed > 0 || passed === 0) throw new Error(`${passed} passed, ${failed} failed`);
}
