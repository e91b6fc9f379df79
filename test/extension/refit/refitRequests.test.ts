import { expect, test } from "vitest";
import type { RefitRequest } from "../../../src/build/refit/refitting";
import { refitAll, requestsOf } from "../../../src/extension/refit/refitRequests";
import { crown, minnow, queen, row, warden, wreath } from "./rows";

test("designs on the same terms are one request; another printer is another", () => {
  const plans = [
    { design: crown, wearers: [queen, minnow] },
    { design: wreath, wearers: [minnow, queen] },
    { design: "/court/stag.headpiece.ts", wearers: [queen, minnow] },
  ];
  const requests = requestsOf(plans, (design) =>
    design.includes("stag") ? { printer: "/court/large.printer.json" } : {},
  );
  expect(requests).toEqual([
    { designs: [crown, wreath], wearers: [queen, minnow].sort() },
    {
      designs: ["/court/stag.headpiece.ts"],
      wearers: [queen, minnow].sort(),
      printer: "/court/large.printer.json",
    },
  ]);
});

test("requests are told of as one, and end where they are told to", async () => {
  const requests: RefitRequest[] = [
    { designs: [crown], wearers: [queen, minnow] },
    { designs: [wreath], wearers: [queen, warden] },
  ];
  const progress: string[] = [];
  const abort = new AbortController();
  const refit = async (
    { designs: [design], wearers }: RefitRequest,
    { onProgress }: { onProgress?: (done: number, all: number) => void },
  ) => {
    // The wearer that the crown itself names is one more.
    const all = design === crown ? wearers.length + 1 : wearers.length;
    for (let done = 0; done <= all; done++) onProgress?.(done, all);
    const rows = [...wearers, ...(all > wearers.length ? [warden] : [])].map((each) => row(design, each));
    return { rows, messages: [] };
  };
  const events = {
    signal: abort.signal,
    onProgress: (done: number, all: number) => progress.push(`${done}/${all}`),
  };
  const table = await refitAll(requests, refit, events);
  expect(table.rows).toHaveLength(5);
  expect(progress).toEqual(["0/5", "1/5", "2/5", "3/5", "3/5", "4/5", "5/5"]);
  abort.abort();
  await expect(refitAll(requests, refit, events)).rejects.toThrow(/abort/i);
});
