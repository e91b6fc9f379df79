import { expect, test } from "vitest";
import { reportJson } from "../../../src/export/report";
import { reportMarkdown } from "../../../src/export/reportMarkdown";
import type { DesignState } from "../../../src/extension/designState";
import { type CommittedReport, reportPage } from "../../../src/extension/report/reportPage";
import { plainTexts } from "../plainTexts";
import { builtState, reportWith, unbuiltState } from "../states";

const kept: CommittedReport = { text: reportJson(reportWith({ massPrintedG: 77.7 })) };
const none: CommittedReport = { missing: true };
const page = (state: DesignState, committed: CommittedReport, isTrusted = true) =>
  reportPage("coral-crown", state, committed, isTrusted, plainTexts);

test("the report of the last build is shown as it would be exported", () => {
  expect(page(builtState(), kept)).toBe(reportMarkdown(builtState().report!));
});

test("a report older than the text says so first", () => {
  expect(page(builtState({ isOutdated: true }), none)).toMatch(/^> Out of date: .*\n\n# Coral crown/);
  expect(page(builtState({ status: "failed" }), none)).toMatch(/^> Out of date: /);
});

test("in Restricted Mode the kept report is shown, and why, whatever was built before", () => {
  const text = page(builtState(), kept, false);
  expect(text).toMatch(
    /^> Restricted Mode: nothing is built until you trust this folder\. This is the report kept beside it\./,
  );
  expect(text).toContain("77.7 g");
  expect(text).not.toContain("129.6 g");
  expect(text).toContain("not protective equipment");
});

test("a design that was never built shows the kept report, or how to get one", () => {
  expect(page(unbuiltState(), kept)).toMatch(/^> The design has not been built yet\./);
  expect(page(unbuiltState(), none)).toContain("Build it, and its report stands here.");
  expect(page(unbuiltState(), none, false)).toContain("No report is kept beside it either.");
});

test.each([
  ["no JSON", "{"],
  ["nothing", "null"],
  ["another file", '{ "format": "other" }'],
  ["a newer report", '{ "format": "anadem-report", "formatVersion": 3 }'],
  ["half a report", '{ "format": "anadem-report", "formatVersion": 2 }'],
])("a kept report that is %s is told as unreadable", (_, text) => {
  expect(page(unbuiltState(), { text })).toContain("coral-crown.report.json, cannot be read as a report");
});
