import type { DesignHeader } from "../design/part";
import type { TriangleMesh } from "../geometry/mesh";
import type { GrownHead } from "../head/grownHead";
import { buildHeadForm, type HeadForm } from "../head/headForm";
import { FINE } from "../head/headMesh";
import type { Wearer } from "../head/wearer";

/** A wearer's head, bare and grown for a piece. */
export interface WearerHead {
  /** Stands for measurements, ease and hair together. */
  readonly key: string;
  readonly form: HeadForm;
  readonly grown: GrownHead;
  /** The grown head as the mesh that pieces are hollowed with: as fine as the one that is exported. */
  readonly hollow: TriangleMesh;
  /** mm all round. */
  readonly easeOffset: number;
}

/** Heads that are kept: a few wearers are tried in turn. */
const headsKept = 8;

/** Builds head forms, and keeps the latest. */
export class Heads {
  readonly #known = new Map<string, WearerHead>();

  /** The head of a wearer, grown by the design's ease where it gives one, else by the wearer's own. */
  of(wearer: Wearer, header: Pick<DesignHeader, "easeOffset">): WearerHead {
    const offset = header.easeOffset ?? wearer.easeOffset;
    const { measurements, hairThickness } = wearer;
    const key = JSON.stringify([measurements, offset, hairThickness]);
    let head = this.#known.get(key);
    if (!head) {
      const form = buildHeadForm(measurements);
      const grown = form.grown({ offset, hairThickness });
      head = { key, form, grown, hollow: grown.mesh(FINE), easeOffset: offset };
    }
    this.#known.delete(key);
    this.#known.set(key, head);
    for (const old of this.#known.keys()) {
      if (this.#known.size <= headsKept) break;
      this.#known.delete(old);
    }
    return head;
  }
}
