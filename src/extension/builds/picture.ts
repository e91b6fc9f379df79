import type { BuildEvent } from "../../build/service/protocol";
import type { DraftPart, MeshBuffers } from "../../preview/protocol";
import { compact, meshBuffers } from "./meshBuffers";

/** The last draft: every part has its mesh here, unlike in what travels. */
export interface KeptDraft {
  readonly version: number;
  readonly change: number;
  readonly parts: readonly (DraftPart & { readonly mesh: MeshBuffers })[];
}

export interface KeptSolid {
  readonly version: number;
  readonly change: number;
  readonly packed: Uint8Array;
}

/** What a preview of a design needs to be drawn anew, kept by the content of each part. */
export class Picture {
  #draft: KeptDraft | undefined;
  #solid: KeptSolid | undefined;

  get draft(): KeptDraft | undefined {
    return this.#draft;
  }

  get solid(): KeptSolid | undefined {
    return this.#solid;
  }

  /** The change of the design that is seen: 0 when nothing is. */
  get change(): number {
    return Math.max(this.#draft?.change ?? 0, this.#solid?.change ?? 0);
  }

  get isEmpty(): boolean {
    return !this.#draft && !this.#solid;
  }

  /** Takes a draft; false when it leaves out a mesh that is not at hand, so that all must be sent again. */
  takeDraft(
    { parts }: Extract<BuildEvent, { kind: "draft" }>,
    { version, change }: { readonly version: number; readonly change: number },
  ): boolean {
    const known = new Map(this.#draft?.parts.map(({ key, mesh }) => [key, mesh]));
    const kept: KeptDraft["parts"][number][] = [];
    for (const { part, key, mesh } of parts) {
      const own = mesh ? meshBuffers(mesh) : known.get(key);
      if (!own) return false;
      known.set(key, own);
      kept.push({ part, key, mesh: own });
    }
    this.#draft = { version, change, parts: kept };
    return true;
  }

  takeSolid(
    { packed }: Extract<BuildEvent, { kind: "solid" }>,
    { version, change }: { readonly version: number; readonly change: number },
  ): void {
    this.#solid = { version, change, packed: compact(packed) };
  }
}
