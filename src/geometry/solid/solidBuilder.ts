import type { Manifold } from "manifold-3d";
import type { BodyPiece } from "../bodyPiece";
import type { PartMesh, TriangleMesh } from "../mesh";
import { type Body, solidOfBody, solidOfMesh } from "./body";
import { type FinishedMesh, finishMesh } from "./finish";
import { type Kernel, Scope } from "./kernel";
import { spatialTree, type TreeNode } from "./spatialTree";

/** What a solid is made of. */
export interface SolidInput {
  readonly bodies: readonly Body[];
  /** Taken away from the whole. */
  readonly cuts: readonly BodyPiece[];
  /** The grown head, taken away from the whole. */
  readonly head?: { readonly key: string; readonly mesh: TriangleMesh };
  /** Shells below this volume are specks of rounding: dropped, or filled where they are voids, mm³. */
  readonly crumbVolume: number;
}

/** How a build may be answered. */
export interface BuildOptions {
  readonly signal?: AbortSignal;
  /**
   * `true`: one changed body may be added to what is known of the others, which is fastest. `false`: the bodies are
   * united in the order that depends on them alone, so that the same input gives the same bytes whatever came before.
   */
  readonly incremental?: boolean;
  /** Told after each step, share 0 to 1. */
  readonly progress?: (share: number) => void;
}

/** The finished solid: see `FinishedMesh`. `mesh.partOfTriangle` counts the bodies as they were given. */
export type SolidResult = FinishedMesh & { readonly mesh: PartMesh };

/** Bodies that may change at once for the quick way to be worth it. */
const quickChanges = 3;

/**
 * Unites bodies, less the head, and remembers: bodies that did not change are not made again, nor united again with
 * neighbours that did not change. One builder serves one design; `dispose` frees its memory.
 */
export class SolidBuilder {
  readonly #kernel: Kernel;
  /** Solids of bodies and of groups, by key. */
  readonly #known = new Map<string, Manifold>();
  #tree: TreeNode | undefined;
  /** The union of all bodies but those that are being edited. */
  #rest: { key: string; solid: Manifold } | undefined;
  #head: { key: string; solid: Manifold } | undefined;

  constructor(kernel: Kernel) {
    this.#kernel = kernel;
  }

  /** Makes the solid. Throws a `BodyError` on a body that is not closed, and the signal's reason when it is aborted. */
  async build(input: SolidInput, options: BuildOptions = {}): Promise<SolidResult> {
    const scope = new Scope();
    const step = stepper(options);
    try {
      const bodyOfOriginal = new Map<number, number>();
      for (const [index, body] of input.bodies.entries()) {
        if (!this.#known.has(body.key)) {
          this.#known.set(body.key, solidOfBody(this.#kernel, body));
          if (index % 8 === 7) await step(0.2 * (index / input.bodies.length));
        }
        bodyOfOriginal.set(this.#solid(body.key).originalID(), index);
      }
      const hollowed =
        (options.incremental && (await this.#quickly(input, scope, step))) ||
        (await this.#afresh(input, scope, step));
      const mesh = this.#lessCuts(hollowed, input, scope).getMesh();
      await step(0.95);
      return finishMesh(mesh, bodyOfOriginal, input.bodies.length, input.crumbVolume);
    } finally {
      scope.dispose();
    }
  }

  /** Frees all that is remembered. */
  dispose(): void {
    for (const solid of this.#known.values()) solid.delete();
    this.#known.clear();
    this.#rest?.solid.delete();
    this.#head?.solid.delete();
    this.#rest = undefined;
    this.#head = undefined;
    this.#tree = undefined;
  }

  #solid(key: string): Manifold {
    const solid = this.#known.get(key);
    if (!solid) throw new Error(`no solid is known for ${key}`);
    return solid;
  }

  /** All bodies united in the order that depends on them alone, less the head. */
  async #afresh(input: SolidInput, scope: Scope, step: Step): Promise<Manifold> {
    const tree = spatialTree(
      input.bodies.map(({ key }) => {
        const { min, max } = this.#solid(key).boundingBox();
        return { key, centre: [min[0] + max[0], min[1] + max[1], min[2] + max[2]] };
      }),
    );
    const union = await this.#unite(tree, step, { done: 0, whole: tree.members.length });
    this.#tree = tree;
    this.#rest?.solid.delete();
    this.#rest = undefined;
    this.#forget(new Set([...input.bodies.map(({ key }) => key), ...nodeKeys(tree)]));
    const hollowed = this.#lessHead(union, input, scope);
    await step(0.9);
    return hollowed;
  }

  /**
   * What did not change, less the head, united with what came; undefined where too much changed. The bodies that are
   * being edited change again and again: all the others are kept as one.
   */
  async #quickly(input: SolidInput, scope: Scope, step: Step): Promise<Manifold | undefined> {
    const before = this.#tree;
    if (!before) return undefined;
    const present = new Set(input.bodies.map(({ key }) => key));
    const known = new Set(before.members);
    const gone = before.members.filter((key) => !present.has(key));
    const come = [...present].filter((key) => !known.has(key));
    const isQuick = gone.length <= quickChanges && come.length <= quickChanges && gone.length < known.size;
    if (!isQuick) return undefined;
    this.#forget(new Set([...present, ...nodeKeys(before), ...before.members]));
    const rest = this.#hollowedWithout(before, new Set(gone), input, scope);
    await step(0.6);
    const changed = come.map((key) => this.#lessHead(this.#solid(key), input, scope));
    const whole = scope.hold(this.#kernel.Manifold.union([rest, ...changed]));
    whole.numTri();
    await step(0.9);
    return whole;
  }

  /** The union of a group, made from the unions of the groups in it. */
  async #unite(node: TreeNode, step: Step, progress: { done: number; whole: number }): Promise<Manifold> {
    const known = this.#known.get(node.key);
    if (known) return known;
    const inner: Manifold[] = [];
    for (const child of node.children) inner.push(await this.#unite(child, step, progress));
    const solids = inner.length > 0 ? inner : node.members.map((key) => this.#solid(key));
    const union = this.#kernel.Manifold.union(solids);
    union.numTri();
    this.#known.set(node.key, union);
    if (inner.length === 0) progress.done += solids.length;
    await step(0.2 + 0.6 * (progress.done / progress.whole));
    return union;
  }

  /** A tree without some of its bodies, less the head: from the largest groups that hold none of them. */
  #hollowedWithout(tree: TreeNode, gone: ReadonlySet<string>, input: SolidInput, scope: Scope): Manifold {
    const key = [tree.key, ...[...gone].sort(), input.head?.key].join(" ");
    if (this.#rest?.key === key) return this.#rest.solid;
    const whole: Manifold[] = [];
    const visit = (node: TreeNode) => {
      if (!node.members.some((member) => gone.has(member))) {
        whole.push(this.#solid(node.key));
      } else if (node.children.length > 0) {
        for (const child of node.children) visit(child);
      } else {
        for (const member of node.members) if (!gone.has(member)) whole.push(this.#solid(member));
      }
    };
    visit(tree);
    const union = scope.hold(this.#kernel.Manifold.union(whole));
    const hollowed = this.#lessHead(union, input, scope);
    this.#rest?.solid.delete();
    this.#rest = { key, solid: scope.release(hollowed) };
    return hollowed;
  }

  #lessHead(solid: Manifold, { head }: SolidInput, scope: Scope): Manifold {
    if (!head) return scope.hold(solid.translate([0, 0, 0]));
    let known = this.#head;
    if (known?.key !== head.key) {
      // Made before the old one goes: an open mesh throws.
      const made = { key: head.key, solid: solidOfMesh(this.#kernel, head.mesh, "the head") };
      known?.solid.delete();
      this.#head = known = made;
    }
    const hollowed = scope.hold(solid.subtract(known.solid));
    // Operations are put off until they are asked for: ask, so that the work is done where it is begun.
    hollowed.numTri();
    return hollowed;
  }

  #lessCuts(solid: Manifold, { cuts }: SolidInput, scope: Scope): Manifold {
    if (cuts.length === 0) return solid;
    const cut = scope.hold(
      solidOfBody(this.#kernel, { name: "the cuts of the whole", add: cuts, remove: [] }),
    );
    return scope.hold(solid.subtract(cut));
  }

  /** Frees what is known of bodies and groups that are not wanted any more. */
  #forget(wanted: ReadonlySet<string>): void {
    for (const [key, solid] of this.#known) {
      if (wanted.has(key)) continue;
      solid.delete();
      this.#known.delete(key);
    }
  }
}

type Step = (share: number) => Promise<void>;

/** Lets others run between two steps, and stops where the work is not wanted any more. */
function stepper({ signal, progress }: BuildOptions): Step {
  return async (share) => {
    progress?.(share);
    await new Promise((resolve) => setImmediate(resolve));
    signal?.throwIfAborted();
  };
}

function nodeKeys(node: TreeNode): string[] {
  return [node.key, ...node.children.flatMap(nodeKeys)];
}
