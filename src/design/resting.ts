import { number, oneOf, options, shown } from "./check";
import { designError } from "./error";
import { Tube } from "./tube";

/**
 * Lays tubes on the head and over one another, as ropes would lie: they are pushed out of the head and of each
 * other in the order in which they are listed, the later over the earlier, and keep their character.
 * @example return [ring, ...resting(stems, { over: ring, sink: 0.15 })]
 */
export function resting(
  tubes: readonly Tube[],
  how: {
    /** Share of the radius by which they sink into one another and into the head, to grow together; 0.12. */
    sink?: number;
    /** Ends that stay where they are; none unless given. */
    pinned?: "none" | "start" | "end" | "both";
    /** Tubes that do not rest themselves, such as a band, and that these lie over. */
    over?: Tube | readonly Tube[];
    /** Tubes of one heap push each other; a name of your own keeps heaps apart. */
    heap?: string;
  } = {},
): Tube[] {
  options(how, "resting", ["sink", "pinned", "over", "heap"]);
  const sink = number(how.sink ?? 0.12, "sink of resting", { least: 0, most: 0.6 });
  const pinned = oneOf(how.pinned ?? "none", "pinned of resting", ["none", "start", "end", "both"]);
  const heap = how.heap ?? "heap";
  const over = how.over === undefined ? [] : tubesOf(Array.isArray(how.over) ? how.over : [how.over]);
  const data = { heap, sink, pinned, ...(over.length > 0 && { over: over.map(({ name }) => name) }) };
  return tubesOf(tubes).map((tube) => tube.changed({ resting: data }));
}

function tubesOf(tubes: readonly Tube[]): readonly Tube[] {
  if (!Array.isArray(tubes)) {
    throw designError({
      id: "not-tubes",
      text: `resting takes a list of tubes, not ${shown(tubes)}`,
      suggestion: "write resting([first, second])",
    });
  }
  const other = tubes.find((tube) => !(tube instanceof Tube));
  if (other === undefined) return tubes;
  throw designError({
    id: "not-tubes",
    text: `resting can lay tubes only, and over tubes only, not ${shown(other)}`,
    suggestion: "leave solids and cuts out of the list",
  });
}
