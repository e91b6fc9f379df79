import type { Vec3 } from "../geometry/vector";
import type { Message } from "../message";

/** What the plan of a print found, at the line of the part that causes it. It never stops a build. */
export interface PlanFinding extends Message {
  readonly topic: "support" | "props" | "orientation" | "plate" | "time" | "filament" | "pieces";
  /** The number that was found, in `unit`. */
  readonly value: number;
  readonly unit: string;
  /** What it was held against. */
  readonly limit?: { readonly name: string; readonly value: number; readonly source: string };
  /** Where on the piece, mm, head frame. */
  readonly at?: Vec3;
}
