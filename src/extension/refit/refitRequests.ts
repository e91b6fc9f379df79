import type { RefitEvents, RefitRequest, RefitTable } from "../../build/refit/refitting";
import type { DesignPlan } from "./knownRows";

/** What holds for one design beside its files. */
export type DesignTerms = Pick<
  RefitRequest,
  "folder" | "printer" | "material" | "print" | "timeLimitSeconds" | "memoryLimitMB"
>;

/** As few requests as serve: designs with the same wearers and the same terms are one. */
export function requestsOf(
  plans: readonly DesignPlan[],
  termsOf: (design: string) => DesignTerms,
): readonly RefitRequest[] {
  const requests = new Map<string, RefitRequest & { designs: string[] }>();
  for (const { design, wearers } of plans) {
    const terms = termsOf(design);
    // The wearer that a design names comes first by itself: which is first is no difference.
    const key = JSON.stringify([terms, [...wearers].sort()]);
    const request = requests.get(key);
    if (request) request.designs.push(design);
    else requests.set(key, { ...terms, designs: [design], wearers: [...wearers].sort() });
  }
  return [...requests.values()];
}

/** Does requests one after the other, and tells of them as of one. */
export async function refitAll(
  requests: readonly RefitRequest[],
  refit: (request: RefitRequest, events: RefitEvents) => Promise<RefitTable>,
  { signal, onProgress, onRow }: RefitEvents,
): Promise<RefitTable> {
  const sizes = requests.map(({ designs, wearers }) => designs.length * wearers.length);
  const tables: RefitTable[] = [];
  for (const [index, request] of requests.entries()) {
    signal?.throwIfAborted();
    const before = sum(sizes.slice(0, index));
    const table = await refit(request, {
      ...(signal && { signal }),
      ...(onRow && { onRow }),
      onProgress: (done, all) => {
        sizes[index] = all;
        onProgress?.(before + done, sum(sizes));
      },
    });
    sizes[index] = table.rows.length;
    tables.push(table);
  }
  return {
    rows: tables.flatMap(({ rows }) => rows),
    messages: tables.flatMap(({ messages }) => messages),
  };
}

const sum = (values: readonly number[]): number => values.reduce((all, value) => all + value, 0);
