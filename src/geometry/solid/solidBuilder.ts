import type { Manifold } from "manifold-3d";
import type { BodyPiece } from "../bodyPiece";
import type { PartMesh, TriangleMesh } from "../mesh";
import { type Body, solidOfBody, solidOfMesh } from "./body";
import { boxesMeet } from "./boxes";
import { coveringPoints, coverOf } from "./cover";
import { type FinishedMesh, finishMesh } from "./finish";
import { type Kernel, Scope, unionOf } from "./kernel";
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
/** Room round a body where it is taken out, and round what is put back there, mm: enough for both to overlap. */
const roomToTake = 0.1;
const roomToFill = 0.2;
/** Each body taken out leaves some triangles behind: with so many times those of a union made afresh it is made afresh. */
const mostGrowth = 1.4;
/** A body that winds through all others has most of them in its place: beyond this share of the triangles it is not filled. */
const mostFilled = 1 / 8;

/** What is known less the head, of which bodies, and less which head. */
interface Hollowed {
  readonly keys: ReadonlySet<string>;
  readonly head: string | undefined;
  /** United they are the solid. */
  readonly parts: readonly Manifold[];
}

/**
 * Unites bodies, less the head, and remembers: bodies that did not change are not made again, nor united again with
 * neighbours that did not change. One builder serves one design; `dispose` frees its memory.
 */
export class SolidBuilder {
  readonly #kernel: Kernel;
  /** Solids of bodies and of groups, by key. */
  readonly #known = new Map<string, Manifold>();
  #tree: TreeNode | undefined;
  /** All bodies of the last build, in one part. */
  #whole: Hollowed | undefined;
  /** All bodies but those that are being edited. */
  #rest: Hollowed | undefined;
  /** Triangles of the last whole that was made afresh. */
  #freshTriangles = 0;
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
      free(this.#whole);
      this.#whole = { keys: keysOf(input), head: input.head?.key, parts: [scope.release(hollowed)] };
      this.#forget(input);
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
    free(this.#whole);
    free(this.#rest);
    this.#head?.solid.delete();
    this.#whole = undefined;
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
    const tree = spatialTree(input.bodies.map(({ key }) => ({ key, box: this.#solid(key).boundingBox() })));
    const union = await this.#unite(tree, step, { done: 0, whole: tree.members.length });
    this.#tree = tree;
    free(this.#rest);
    this.#rest = undefined;
    const hollowed = this.#lessHead(union, input, scope);
    this.#freshTriangles = hollowed.numTri();
    await step(0.9);
    return hollowed;
  }

  /**
   * What did not change, less the head, united with what came; undefined where too much changed. The bodies that are
   * being edited change again and again: all the others are kept as one.
   */
  async #quickly(input: SolidInput, scope: Scope, step: Step): Promise<Manifold | undefined> {
    const rest = this.#restFor(input, scope);
    if (!rest) return undefined;
    await step(0.6);
    const changed = input.bodies
      .filter(({ key }) => !rest.keys.has(key))
      .map(({ key }) => this.#lessHead(this.#solid(key), input, scope));
    const [large, ...small] = rest.parts;
    const added = scope.hold(unionOf(this.#kernel, [...small, ...changed]));
    const whole = scope.hold(unionOf(this.#kernel, [large, added]));
    await step(0.9);
    return whole;
  }

  /** What can stay as it is; undefined where that is not known or too little. */
  #restFor(input: SolidInput, scope: Scope): Hollowed | undefined {
    const present = keysOf(input);
    const stays = ({ keys, head }: Hollowed) =>
      head === input.head?.key &&
      [...keys].every((key) => present.has(key)) &&
      present.size - keys.size <= quickChanges;
    if (this.#rest && stays(this.#rest)) {
      // It serves again: united once, it is quicker each time.
      if (this.#rest.parts.length > 1)
        this.#keepRest({ ...this.#rest, parts: [unionOf(this.#kernel, this.#rest.parts)] });
      return this.#rest;
    }
    const whole = this.#whole;
    if (!whole || whole.head !== input.head?.key) return undefined;
    const gone = [...whole.keys].filter((key) => !present.has(key));
    const come = [...present].filter((key) => !whole.keys.has(key));
    const isQuick =
      gone.length <= quickChanges &&
      come.length <= quickChanges &&
      gone.length < whole.keys.size &&
      whole.parts[0].numTri() <= mostGrowth * this.#freshTriangles;
    if (!isQuick) return undefined;
    const keys = new Set([...whole.keys].filter((key) => present.has(key)));
    const parts =
      gone.length === 0
        ? [copyOf(whole.parts[0])]
        : (this.#without(whole.parts[0], keys, gone, input, scope) ?? [this.#united(keys, input, scope)]);
    this.#keepRest({ keys, head: whole.head, parts });
    return this.#rest;
  }

  #keepRest(rest: Hollowed): void {
    free(this.#rest);
    this.#rest = rest;
  }

  /**
   * A whole without some of its bodies, in parts: it with their place taken out, and what others have in that place.
   * Both reach a little into each other, so that no face lies on another where they are united. Undefined where too much
   * lies in that place.
   */
  #without(
    whole: Manifold,
    others: ReadonlySet<string>,
    gone: readonly string[],
    input: SolidInput,
    scope: Scope,
  ): Manifold[] | undefined {
    const groups = gone.flatMap((key) => {
      const { vertProperties, triVerts } = this.#solid(key).getMesh();
      return coveringPoints({ positions: vertProperties, triangles: triVerts });
    });
    const taken = scope.hold(coverOf(this.#kernel, groups, roomToTake));
    const filled = scope.hold(coverOf(this.#kernel, groups, roomToFill));
    const place = filled.boundingBox();
    const within: Manifold[] = [];
    let triangles = 0;
    for (const key of others) {
      const solid = this.#solid(key);
      if (!boxesMeet(solid.boundingBox(), place)) continue;
      const part = scope.hold(solid.intersect(filled));
      triangles += part.numTri();
      if (triangles > mostFilled * this.#freshTriangles) return undefined;
      within.push(part);
    }
    const left = scope.hold(whole.subtract(taken));
    left.numTri();
    if (within.length === 0) return [scope.release(left)];
    const inPlace = scope.hold(this.#kernel.Manifold.union(within));
    return [left, this.#lessHead(inPlace, input, scope)].map((part) => scope.release(part));
  }

  /** Bodies united from the largest groups that are known of them, less the head. */
  #united(keys: ReadonlySet<string>, input: SolidInput, scope: Scope): Manifold {
    const solids: Manifold[] = [];
    const single = new Set(keys);
    const visit = ({ key, members, children }: TreeNode) => {
      if (members.every((member) => keys.has(member))) {
        solids.push(this.#solid(key));
        for (const member of members) single.delete(member);
      } else for (const child of children) visit(child);
    };
    if (this.#tree) visit(this.#tree);
    for (const key of single) solids.push(this.#solid(key));
    const union = scope.hold(unionOf(this.#kernel, solids));
    return scope.release(this.#lessHead(union, input, scope));
  }

  /** The union of a group, made from the unions of the groups in it. */
  async #unite(node: TreeNode, step: Step, progress: { done: number; whole: number }): Promise<Manifold> {
    const known = this.#known.get(node.key);
    if (known) return known;
    const inner: Manifold[] = [];
    for (const child of node.children) inner.push(await this.#unite(child, step, progress));
    const solids = inner.length > 0 ? inner : node.members.map((key) => this.#solid(key));
    const union = unionOf(this.#kernel, solids);
    this.#known.set(node.key, union);
    if (inner.length === 0) progress.done += solids.length;
    await step(0.2 + 0.6 * (progress.done / progress.whole));
    return union;
  }

  #lessHead(solid: Manifold, { head }: SolidInput, scope: Scope): Manifold {
    if (!head) return scope.hold(copyOf(solid));
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
  #forget(input: SolidInput): void {
    const wanted = new Set([...keysOf(input), ...(this.#tree ? nodeKeys(this.#tree) : [])]);
    for (const [key, solid] of this.#known) {
      if (wanted.has(key)) continue;
      solid.delete();
      this.#known.delete(key);
    }
  }
}

const keysOf = ({ bodies }: SolidInput): ReadonlySet<string> => new Set(bodies.map(({ key }) => key));

function free(hollowed: Hollowed | undefined): void {
  for (const part of hollowed?.parts ?? []) part.delete();
}

/** An object of its own; what it holds is shared. */
const copyOf = (solid: Manifold): Manifold => solid.translate([0, 0, 0]);

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
