import { alone, join, rootOf } from "../../geometry/disjointSets";
import { meshVolume } from "../../geometry/measure";
import type { PartMesh } from "../../geometry/mesh";
import { addScaled, distance, type Vec3 } from "../../geometry/vector";
import { type BuildVolume, quickRoom } from "./buildRoom";
import { type CutFaceSide, cutFaceSides } from "./cutFaceSides";
import { type Candidate, candidatesFor, type TubePlace } from "./cutPlanes";
import { faceCost, type Surroundings } from "./faceCost";
import { type Lumps, lumpsOf } from "./lumps";
import { outermost } from "./outermost";
import { type Section, type SectionFace, sectionOf } from "./planeSection";
import { splitAtFaces, type Triangulate } from "./splitting";
import { guessedRoom, lumpSupports, regionSupports, type Supports, together } from "./supports";

/** What is to be cut, for what. */
export interface CutTask {
  /** One closed body. */
  readonly mesh: PartMesh;
  /** What a piece must fit, margins taken off. */
  readonly volume: BuildVolume;
  readonly places: readonly TubePlace[];
  readonly surroundings: Surroundings;
  readonly triangulate: Triangulate;
  /** A pin may stick out of a cut face by this much, mm. */
  readonly pinReach: number;
  /** Numbers of cut faces begin here. */
  readonly firstFace: number;
}

/** A cut face, as it was made. */
export interface CutFace {
  readonly number: number;
  readonly section: SectionFace;
  readonly plane: Section["plane"];
  readonly axes: Section["axes"];
  readonly cost: number;
}

export interface CutPieces {
  readonly bodies: readonly PartMesh[];
  readonly faces: readonly CutFace[];
  /** Whether nothing was left too large by the search's own measure. */
  readonly fits: boolean;
}

/** States kept from step to step, cuts tried from each, and candidates looked at closely. */
const beam = 2;
const tried = 3;
const lookedAt = 8;
/** A piece is never cut into more than this. */
const mostPieces = 60;
/** How much the cost of cuts counts against the number of pieces while both are still open. */
const costShare = 0.1;
/** A body smaller than this is no piece worth a joint, mm³. */
const tooSmall = 150;

/**
 * Cuts a body into as few pieces as it can so that each fits, at little cost: a beam search. Each step cuts the piece
 * that is farthest from fitting; planes are judged by the outermost points on either side, the best are cut in earnest.
 */
export function searchCuts(task: CutTask): CutPieces {
  const search = new Search(task);
  const root: State = { pieces: [search.piece(task.mesh)], faces: [], cost: 0 };
  let states: State[] = [root];
  let best: State | undefined;
  let unit = 0;
  for (let step = 0; step < mostPieces && states.length > 0; step++) {
    const next: State[] = [];
    for (const state of states) {
      const worst = worstOf(state);
      if (!worst) {
        if (!best || isBetter(state, best)) best = state;
        continue;
      }
      const cuts = search.cutsOf(worst);
      if (cuts.length === 0) worst.stuck = true;
      if (unit === 0 && cuts.length > 0) unit = Math.max(1, ...cuts.map(({ cost }) => cost));
      if (cuts.length === 0) next.push(state);
      for (const cut of cuts) {
        next.push({
          pieces: [...state.pieces.filter((piece) => piece !== worst), ...cut.pieces],
          faces: [...state.faces, ...cut.faces],
          cost: state.cost + cut.cost,
        });
      }
    }
    const score = (state: State) =>
      state.pieces.reduce((sum, { estimate }) => sum + estimate, 0) + costShare * (state.cost / (unit || 1));
    const open = next.filter((state) => !best || leastPieces(state) <= best.pieces.length);
    states = open
      .map((state) => ({ state, score: score(state) }))
      .sort((a, b) => a.score - b.score)
      .slice(0, beam)
      .map(({ state }) => state);
  }
  const found = best ?? states[0] ?? root;
  return {
    bodies: found.pieces.map(({ mesh }) => mesh),
    faces: found.faces,
    fits: found.pieces.every(({ fits }) => fits),
  };
}

interface SearchPiece {
  readonly mesh: PartMesh;
  readonly lumps: Lumps;
  /** Its outermost points, and those of pins on its cut faces. */
  readonly outer: Float64Array;
  /** The reach of its lumps, once it is asked for. */
  supports?: Float64Array;
  readonly fits: boolean;
  /** About how many pieces it makes. */
  readonly estimate: number;
  stuck: boolean;
  cuts?: readonly Cut[];
}

interface State {
  readonly pieces: readonly SearchPiece[];
  readonly faces: readonly CutFace[];
  readonly cost: number;
}

interface Cut {
  readonly pieces: readonly SearchPiece[];
  readonly faces: readonly CutFace[];
  readonly cost: number;
}

/** A way to cut, judged but not done. */
interface Proposal {
  readonly section: Section;
  readonly faces: readonly SectionFace[];
  /** The regions that stay together, of each body. */
  readonly groups: readonly (readonly number[])[];
  readonly estimate: number;
  /** Of the body that makes most. */
  readonly worst: number;
  readonly cost: number;
}

/** Regions that stay one body. */
interface Group {
  readonly regions: readonly number[];
  readonly supports: Supports;
  readonly estimate: number;
}

/** Faces with different bodies on their two sides. */
const cutFacesOf = (section: Section, parent: Int32Array): SectionFace[] =>
  section.faces.filter(({ below, above }) => rootOf(parent, below) !== rootOf(parent, above));

/** The regions that faces bound, by the set that they are in. Hollows that the plane does not meet are in none. */
function groupsOf({ faces }: Section, parent: Int32Array): Map<number, number[]> {
  const groups = new Map<number, number[]>();
  for (const region of new Set(faces.flatMap(({ below, above }) => [below, above]))) {
    const root = rootOf(parent, region);
    groups.set(root, [...(groups.get(root) ?? []), region]);
  }
  return groups;
}

const worstOf = ({ pieces }: State) =>
  pieces
    .filter(({ fits, stuck }) => !fits && !stuck)
    .reduce<SearchPiece | undefined>((a, b) => (!a || b.estimate > a.estimate ? b : a), undefined);

const leastPieces = ({ pieces }: State) =>
  pieces.reduce((sum, { fits, stuck }) => sum + (fits || stuck ? 1 : 2), 0);

const unfit = ({ pieces }: State) => pieces.filter(({ fits }) => !fits).length;

const isBetter = (a: State, b: State) =>
  (unfit(a) - unfit(b) || a.pieces.length - b.pieces.length || a.cost - b.cost) < 0;

/** About how many pieces something makes that is too large by so many build volumes. */
const estimateOf = (room: { room: number; excess: number }): number =>
  room.room >= 0 ? 1 : 1.12 + room.excess;

class Search {
  readonly #task: CutTask;
  #nextFace: number;

  constructor(task: CutTask) {
    this.#task = task;
    this.#nextFace = task.firstFace;
  }

  piece(mesh: PartMesh): SearchPiece {
    const lumps = lumpsOf(mesh);
    const outer = Float64Array.from([
      ...outermost(mesh.positions, lumps)[0],
      ...cutFaceSides(mesh).flatMap((side) => this.#pinTip(side)),
    ]);
    const room = quickRoom(outer, this.#task.volume);
    return { mesh, lumps, outer, fits: room.room >= 0, estimate: estimateOf(room), stuck: false };
  }

  #pinTip({ centre, outward }: CutFaceSide): Vec3 {
    return addScaled(centre, outward, this.#task.pinReach);
  }

  /** The most promising cuts of a piece, done. */
  cutsOf(piece: SearchPiece): readonly Cut[] {
    if (piece.cuts) return piece.cuts;
    if (meshVolume(piece.mesh) < 4 * tooSmall) {
      piece.cuts = [];
      return piece.cuts;
    }
    const { volume, places } = this.#task;
    const proposals = useful(
      candidatesFor(piece.mesh, piece.outer, volume, places).flatMap((candidate) =>
        this.#proposals(piece, candidate),
      ),
      estimateOf(guessedRoom(together([], triples(piece.outer)), volume)),
    );
    piece.cuts = [];
    if (proposals.length === 0) return piece.cuts;
    const unit = usualCost(proposals);
    const promise = ({ estimate, cost }: Proposal) => estimate + costShare * Math.min(6, cost / unit);
    proposals.sort((a, b) => promise(a) - promise(b));
    const close = apart(proposals, lookedAt)
      .map((proposal) => this.#lookedAt(piece, proposal))
      .sort((a, b) => promise(a) - promise(b));
    const cuts: Cut[] = [];
    for (const proposal of close) {
      if (cuts.length === tried) break;
      const cut = this.#done(piece, proposal);
      if (cut) cuts.push(cut);
    }
    piece.cuts = cuts;
    return cuts;
  }

  #proposals(piece: SearchPiece, { plane, near }: Candidate): Proposal[] {
    const section = sectionOf(piece.mesh, plane, piece.lumps);
    if (section.faces.length === 0) return [];
    const chosen = near && nearest(section.faces, near.at, near.within);
    if (near && !chosen) return [];
    const { surroundings } = this.#task;
    const costs = section.faces.map((face) => faceCost(face, surroundings));
    const parent = alone(section.regionCount);
    if (chosen) {
      // What the plane cuts elsewhere stays whole.
      for (const face of section.faces) if (face !== chosen) join(parent, face.below, face.above);
      if (rootOf(parent, chosen.below) === rootOf(parent, chosen.above)) return [];
    }
    piece.supports ??= lumpSupports(piece.mesh.positions, piece.lumps);
    const reach = regionSupports(piece.mesh.positions, piece.lumps, piece.supports, section);
    const groups = this.#grouped(section, reach, costs, parent, chosen !== undefined);
    const faces = cutFacesOf(section, parent);
    if (faces.length === 0) return [];
    return [
      {
        section,
        faces,
        groups: groups.map((group) => group.regions),
        estimate: groups.reduce((sum, group) => sum + group.estimate, 0),
        worst: groups.reduce((most, group) => Math.max(most, group.estimate), 0),
        cost: section.faces.reduce((sum, face, i) => (faces.includes(face) ? sum + costs[i] : sum), 0),
      },
    ];
  }

  /**
   * The bodies that a cut leaves. Faces that need not be cut are healed, the dearest first, as long as two bodies remain:
   * where what they join takes no more pieces than before.
   */
  #grouped(
    section: Section,
    reach: readonly Supports[],
    costs: readonly number[],
    parent: Int32Array,
    asGiven: boolean,
  ): Group[] {
    const { volume } = this.#task;
    const measured = (regions: readonly number[], supports: Supports): Group => ({
      regions,
      supports,
      estimate: estimateOf(guessedRoom(supports, volume)),
    });
    const groups = new Map<number, Group>();
    for (const [root, regions] of groupsOf(section, parent)) {
      const tips = this.#tips(section, parent, root);
      groups.set(
        root,
        measured(
          regions,
          together(
            regions.map((r) => reach[r]),
            tips,
          ),
        ),
      );
    }
    if (asGiven) return [...groups.values()];
    const order = section.faces.map((_, i) => i).sort((a, b) => costs[b] - costs[a]);
    for (const i of order) {
      if (groups.size <= 2) break;
      const face = section.faces[i];
      const [a, b] = [rootOf(parent, face.below), rootOf(parent, face.above)];
      if (a === b) continue;
      const [one, other] = [groups.get(a)!, groups.get(b)!];
      const both = measured([...one.regions, ...other.regions], together([one.supports, other.supports]));
      if (both.estimate > one.estimate + other.estimate - 0.5) continue;
      join(parent, a, b);
      groups.delete(a);
      groups.delete(b);
      groups.set(rootOf(parent, a), both);
    }
    return [...groups.values()];
  }

  /** Where pins of a body's new faces would end. */
  #tips(section: Section, parent: Int32Array, root: number): Vec3[] {
    const { normal } = section.plane;
    const { pinReach } = this.#task;
    return cutFacesOf(section, parent).flatMap(({ below, above, centre }) => [
      ...(rootOf(parent, below) === root ? [addScaled(centre, normal, pinReach)] : []),
      ...(rootOf(parent, above) === root ? [addScaled(centre, normal, -pinReach)] : []),
    ]);
  }

  /** A proposal judged by its outermost points. */
  #lookedAt(piece: SearchPiece, proposal: Proposal): Proposal {
    const { section, faces, groups } = proposal;
    const points = outermost(piece.mesh.positions, piece.lumps, section);
    const { volume, pinReach } = this.#task;
    const { normal } = section.plane;
    let estimate = 0;
    for (const regions of groups) {
      const tips = faces.flatMap(({ below, above, centre }) => [
        ...(regions.includes(below) ? addScaled(centre, normal, pinReach) : []),
        ...(regions.includes(above) ? addScaled(centre, normal, -pinReach) : []),
      ]);
      const own = Float64Array.from([...regions.flatMap((region) => [...points[region]]), ...tips]);
      estimate += estimateOf(quickRoom(own, volume));
    }
    return { ...proposal, estimate };
  }

  #done(piece: SearchPiece, { section, faces, cost }: Proposal): Cut | undefined {
    const numbered = faces.map((face) => ({ face, number: this.#nextFace++ }));
    const bodies = splitAtFaces(piece.mesh, section, numbered, this.#task.triangulate);
    if (bodies.length < 2) return undefined;
    const pieces = bodies.map((body) => this.piece(body));
    const small = bodies.filter((body) => meshVolume(body) < tooSmall).length;
    const { surroundings } = this.#task;
    return {
      pieces,
      cost: cost * (1 + small),
      faces: numbered.map(({ face, number }) => ({
        number,
        section: face,
        plane: section.plane,
        axes: section.axes,
        cost: faceCost(face, surroundings),
      })),
    };
  }
}

/** A cut brings a piece on that takes so much of what it is too large by off its worst body. */
const leastProgress = 0.22;

/** The proposals that bring a piece on; where none does, those that do most. */
function useful(proposals: readonly Proposal[], whole: number): Proposal[] {
  const goal = whole - leastProgress * (whole - 1);
  const good = proposals.filter(({ worst }) => worst <= goal);
  return good.length > 0 ? good : [...proposals].sort((a, b) => a.worst - b.worst).slice(0, 2 * lookedAt);
}

const triples = (points: Float64Array): Vec3[] =>
  Array.from({ length: points.length / 3 }, (_, i) => [points[3 * i], points[3 * i + 1], points[3 * i + 2]]);

/** What a cut costs that brings a piece on: the middle of those that leave about the fewest pieces to make. */
function usualCost(proposals: readonly Proposal[]): number {
  const least = proposals.reduce((a, { estimate }) => Math.min(a, estimate), Infinity);
  const costs = proposals.filter(({ estimate }) => estimate < least + 0.3).map(({ cost }) => cost);
  return Math.max(1, costs.sort((a, b) => a - b)[costs.length >> 1]);
}

/** The first proposals of a sorted list that are not nearly the same as one before. */
function apart(proposals: readonly Proposal[], most: number): Proposal[] {
  const chosen: Proposal[] = [];
  for (const proposal of proposals) {
    if (chosen.length === most) break;
    const same = chosen.some(
      ({ faces }) =>
        faces.length === proposal.faces.length &&
        faces.every((face, i) => distance(face.centre, proposal.faces[i].centre) < 8),
    );
    if (!same) chosen.push(proposal);
  }
  return chosen;
}

function nearest(faces: readonly SectionFace[], at: Vec3, within: number): SectionFace | undefined {
  const face = faces.reduce((a, b) => (distance(b.centre, at) < distance(a.centre, at) ? b : a));
  return distance(face.centre, at) <= within ? face : undefined;
}
