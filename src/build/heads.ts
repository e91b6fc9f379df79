import type { DesignHeader } from "../design/part";
import type { TriangleMesh } from "../geometry/mesh";
import type { GrownHead } from "../head/grownHead";
import type { HeadForm } from "../head/headForm";
import { FINE } from "../head/headMesh";
import type { Wearer } from "../head/wearer";
import { headFormOf } from "../head/wearerHead";
import { LatestKept } from "./latestKept";

/** A wearer's head, bare and grown for a piece. */
export interface WearerHead {
  /** Stands for measurements, scan, ease and hair together. */
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
  readonly #known = new LatestKept<WearerHead>(headsKept);

  /** The head of a wearer, grown by the design's ease where it gives one, else by the wearer's own. */
  of(wearer: Wearer, header: Pick<DesignHeader, "easeOffset">): WearerHead {
    const offset = header.easeOffset ?? wearer.easeOffset;
    const { measurements, hairThickness } = wearer;
    const scan = wearer.scanned?.key;
    const key = JSON.stringify([measurements, offset, hairThickness, ...(scan ? [scan] : [])]);
    return this.#known.get(key, () => {
      const form = headFormOf(wearer);
      const grown = form.grown({ offset, hairThickness });
      return { key, form, grown, hollow: grown.mesh(FINE), easeOffset: offset };
    });
  }
}
