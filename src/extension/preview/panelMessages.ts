import { basename } from "node:path";
import { pathToFileURL } from "node:url";
import type { PlanFacts } from "../../build/service/protocol";
import type {
  BuildPhase,
  BuildStateMessage,
  DesignMessage,
  DraftMessage,
  MeshBuffers,
  PlanBody,
  ToPreview,
} from "../../preview/protocol";
import { type DesignRecord, fileValuesOf, isOutdated } from "../builds/designRecord";
import { meshBuffers } from "../builds/meshBuffers";
import type { Localiser } from "../localiser";
import { comparisonScene } from "../versions/comparisonScene";
import type { ComparisonRecord, ComparisonResult } from "../versions/comparisons";
import { factsOf, partFactsOf } from "./facts";
import { planScene } from "./planScene";
import { wearScene } from "./wearScene";

const phases: Readonly<Record<DesignRecord["status"], BuildPhase>> = {
  unbuilt: "idle",
  building: "building",
  built: "ready",
  failed: "failed",
  cancelled: "cancelled",
};

/**
 * Turns what is known of a design into messages for one view, and remembers what that view has. Versions grow over all
 * designs that the view shows, one after the other, so that it never takes one design's message for an older one of
 * another.
 */
export class PanelMessages {
  readonly #record: DesignRecord;
  readonly #l10n: Localiser;
  readonly #uri: string;
  /** Added to the versions of the builds. */
  readonly #shift: number;
  #lastSent: number;
  #sentKeys: ReadonlySet<string> = new Set();
  #sentPlan: PlanFacts | undefined;
  #sentComparison: ComparisonResult | undefined;
  /** What stands on the plate, as it was sent, with the version that it was sent for. */
  readonly #sentBodies = new Map<PlanBody, { readonly version: number; readonly mesh?: MeshBuffers }>();

  /** @param above versions are greater than this: the last of the design that the view showed before */
  constructor(record: DesignRecord, above: number, l10n: Localiser, uri = pathToFileURL(record.path).href) {
    this.#record = record;
    this.#l10n = l10n;
    this.#uri = uri;
    const { picture, head, version } = record;
    const oldest = Math.min(
      version,
      ...[picture?.draft, picture?.solid, head].flatMap((one) => one?.version ?? []),
    );
    this.#shift = Math.max(0, above + 1 - oldest);
    this.#lastSent = above;
  }

  /** The greatest version that was sent. */
  get lastSent(): number {
    return this.#lastSent;
  }

  /** The version of a build that the view speaks of. */
  buildVersion(sent: number): number {
    return sent - this.#shift;
  }

  /** Everything, for a view that has nothing. */
  all(isLocked: boolean): ToPreview[] {
    this.#sentKeys = new Set();
    this.#sentPlan = undefined;
    this.#sentComparison = undefined;
    this.#sentBodies.clear();
    return [
      this.design(isLocked),
      ...this.head(),
      ...this.plate(),
      // Older than the draft, the solid would only flash up.
      ...(this.#isSolidNewest ? [...this.solid(), ...this.gaps()] : this.draft()),
      ...this.wear(),
      ...this.plan(),
      ...this.planBodies(),
      this.state(),
    ];
  }

  design(isLocked: boolean): DesignMessage {
    const record = this.#record;
    const { facts, path, values, report } = record;
    const fileValues = fileValuesOf(record);
    return {
      kind: "design",
      version: this.#sent(record.version),
      uri: this.#uri,
      file: basename(path),
      headpiece: facts?.header.name ?? basename(path),
      wearer: facts?.wearer ?? "",
      parameters: facts?.header.parameters ?? [],
      values: { ...fileValues, ...known(values, fileValues) },
      fileValues,
      parts: partFactsOf(record),
      facts: factsOf(record, this.#l10n),
      cautions: report?.cautions ?? [],
      isLocked,
    };
  }

  state(): BuildStateMessage {
    const { version, status, stage, share, messages, picture, change, isGone } = this.#record;
    const isOlder = picture && !picture.isEmpty ? picture.change < change : isOutdated(this.#record);
    return {
      kind: "state",
      version: this.#sent(version),
      phase: phases[status],
      ...(stage !== undefined && { stage }),
      ...(share !== undefined && { share }),
      isOutdated: isOlder || isGone,
      messages,
    };
  }

  head(): ToPreview[] {
    const { head } = this.#record;
    return head ? [{ kind: "head", version: this.#sent(head.version), mesh: head.mesh }] : [];
  }

  plate(): ToPreview[] {
    const { plate, version } = this.#record;
    return plate ? [{ kind: "plate", version: this.#sent(version), plate }] : [];
  }

  /** What is known of fit and wear. */
  wear(): ToPreview[] {
    const { wear } = this.#record;
    return wear ? [{ kind: "wear", version: this.#sent(wear.version), scene: wearScene(wear) }] : [];
  }

  /** What is known of how it is printed, where the view does not have it yet. */
  plan(): ToPreview[] {
    const { plan } = this.#record;
    if (!plan || plan.facts === this.#sentPlan) return [];
    this.#sentPlan = plan.facts;
    return [{ kind: "plan", version: this.#sent(plan.version), scene: planScene(plan.facts) }];
  }

  /** What stands on the plate besides the piece, as far as the view does not have it. */
  planBodies(): ToPreview[] {
    const { plan } = this.#record;
    if (!plan) return [];
    const version = this.#sent(plan.version);
    return [...plan.bodies].flatMap(([body, mesh]): ToPreview[] => {
      const sent = this.#sentBodies.get(body);
      if (sent?.version === version && sent.mesh === mesh) return [];
      this.#sentBodies.set(body, { version, ...(mesh && { mesh }) });
      return [{ kind: "planBody", version, body, ...(mesh && { mesh }) }];
    });
  }

  /**
   * The piece beside its version in a commit; its surfaces only where the view does not have them, and nothing of them
   * where it cannot draw.
   */
  comparison(comparison: ComparisonRecord | undefined, canDraw: boolean): ToPreview[] {
    if (!comparison) {
      this.#sentComparison = undefined;
      return [{ kind: "comparisonEnded" }];
    }
    const { asked, stage, isOutdated, messages, result } = comparison;
    const version = this.#sent(this.#record.version);
    const known = this.#record.messages;
    const standing: ToPreview = {
      kind: "comparing",
      version,
      revision: asked,
      ...(stage !== undefined && { stage }),
      isOutdated,
      // What the build says itself is shown with it already.
      messages: messages.filter(({ id, text }) => !known.some((one) => one.id === id && one.text === text)),
    };
    if (!result || result === this.#sentComparison) return [standing];
    this.#sentComparison = result;
    const { old, added, removed } = result.meshes;
    const partNames = (this.#record.facts?.parts ?? []).map(({ name }) => name);
    const buffers = (mesh: typeof old) => (canDraw ? meshBuffers(mesh) : noMesh());
    return [
      standing,
      {
        kind: "comparison",
        version,
        scene: comparisonScene(result, asked, partNames, this.#l10n),
        old: buffers(old),
        added: buffers(added),
        removed: buffers(removed),
      },
    ];
  }

  /** The distance to the head at each vertex of the solid. */
  gaps(): ToPreview[] {
    const { gaps } = this.#record;
    if (!gaps) return [];
    const title = this.#l10n.t("Gap to the head");
    return [{ kind: "field", version: this.#sent(gaps.version), title, unit: "mm", values: gaps.values }];
  }

  /** The draft; meshes that the view has from the draft before are left out. */
  draft(): DraftMessage[] {
    const draft = this.#record.picture?.draft;
    if (!draft) return [];
    const sentKeys = this.#sentKeys;
    this.#sentKeys = new Set(draft.parts.map(({ key }) => key));
    return [
      {
        kind: "draft",
        version: this.#sent(draft.version),
        parts: draft.parts.map(({ part, key, mesh }) =>
          sentKeys.has(key) ? { part, key } : { part, key, mesh },
        ),
      },
    ];
  }

  solid(): ToPreview[] {
    const solid = this.#record.picture?.solid;
    if (!solid) return [];
    return [{ kind: "solid", version: this.#sent(solid.version), packed: solid.packed }];
  }

  sheet(svg: string): ToPreview {
    return { kind: "sheet", version: this.#sent(this.#record.version), svg };
  }

  get #isSolidNewest(): boolean {
    const { draft, solid } = this.#record.picture ?? {};
    return solid !== undefined && solid.version >= (draft?.version ?? 0);
  }

  #sent(version: number): number {
    const sent = version + this.#shift;
    this.#lastSent = Math.max(this.#lastSent, sent);
    return sent;
  }
}

const noMesh = (): MeshBuffers => ({ positions: new ArrayBuffer(0), triangles: new ArrayBuffer(0) });

/** Values of parameters that the file declares. */
const known = (values: DesignRecord["values"], fileValues: DesignRecord["values"]) =>
  Object.fromEntries(Object.entries(values).filter(([name]) => name in fileValues));
