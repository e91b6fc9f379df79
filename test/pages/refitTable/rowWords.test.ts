import { describe, expect, test } from "vitest";
import {
  chanceText,
  firstReason,
  girthText,
  hoursText,
  massText,
  resultText,
  runText,
  stateWord,
  verdicts,
} from "../../../src/pages/refitTable/rowWords";
import { figures, place, table } from "./rows";

describe("figures in words", () => {
  test("a chance is never told as certain", () => {
    expect([1, 0.996, 0.994, 0.5, 0.004, 0].map(chanceText)).toEqual([
      "over 99 %",
      "over 99 %",
      "99 %",
      "50 %",
      "under 1 %",
      "under 1 %",
    ]);
    expect(chanceText(undefined)).toBeUndefined();
  });

  test("girth that lacks has a true minus sign; grams and hours are as fine as they are known", () => {
    expect([girthText(-3.26), girthText(0), girthText(-0.04)]).toEqual(["−3.3 mm", "0 mm", "0 mm"]);
    expect([massText(8.26), massText(212.4)]).toEqual(["8.3 g", "212 g"]);
    expect([0.5, 2, 9.99, 10.2, 31.6].map(hoursText)).toEqual([
      "30 min",
      "2 h",
      "9 h 59 min",
      "10 h",
      "32 h",
    ]);
  });

  test("what failed is told by its first error, all else by its first reason", () => {
    const error = { id: "band-narrow", severity: "error", text: "the band is 2 mm wide" } as const;
    const note = { id: "tall", severity: "note", text: "it is tall" } as const;
    expect(firstReason(figures({ verdict: "failed", messages: [note, error] }))).toBe(
      "the band is 2 mm wide",
    );
    expect(firstReason(figures({ verdict: "dont", reasons: ["too narrow", "too heavy"] }))).toBe(
      "too narrow",
    );
    expect(firstReason(figures())).toBeUndefined();
  });

  test("each verdict has a word and a sign of its own: colour says nothing alone", () => {
    const all = Object.values(verdicts);
    expect(new Set(all.map(({ word }) => word)).size).toBe(4);
    expect(new Set(all.map(({ sign }) => sign)).size).toBe(4);
  });
});

describe("how it stands", () => {
  test("rows say whether they are made, and made again", () => {
    expect(stateWord("current", "running")).toBe("");
    expect(stateWord("waiting", "running")).toBe("being made");
    expect(stateWord("outdated", "running")).toBe("being made again");
    expect(stateWord("outdated", "cancelled")).toBe("out of date");
    expect(stateWord("waiting", "paused")).toBe("not made yet");
  });

  test("a run is told in a few words", () => {
    const rows = [place("a"), place("b", { state: "outdated" }), place("c", { state: "waiting" })];
    const told = (phase: "idle" | "running" | "paused" | "cancelled" | "failed", trouble?: string) =>
      runText(table(rows, { run: { phase, done: 1, all: 3, ...(trouble && { trouble }) } }));
    expect(told("running")).toBe("1 of 3 made");
    expect(told("cancelled")).toBe("Cancelled; 2 rows not made");
    expect(told("paused")).toBe("2 rows to be made");
    expect(told("failed", "the disk is full")).toBe("Stopped: the disk is full");
    expect(told("idle")).toBe("3 rows");
  });

  test("results are counted by verdict, from wear to failed", () => {
    const verdicts = ["adjust", "wear", "failed", "wear"] as const;
    expect(resultText(verdicts.map((verdict) => ({ verdict })))).toBe(
      "4 rows: 2 wear, 1 adjust first, 1 failed",
    );
    expect(resultText([])).toBe("0 rows");
  });
});
