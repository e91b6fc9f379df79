import { plateFit } from "../../checks/plateFit";
import type { Printer } from "../../checks/printer";
import type { Part } from "../../design/part";
import { meshVolume } from "../../geometry/measure";
import type { PartMesh } from "../../geometry/mesh";
import { keyed, triangulated } from "../../geometry/solid/cutting";
import { separateCoincidentVertices } from "../../geometry/solid/distinctVertices";
import type { Kernel } from "../../geometry/solid/kernel";
import { dot, scale, type Vec3 } from "../../geometry/vector";
import type { PrintSettings } from "../../printSettings";
import { assemblyOrder } from "./assemblyOrder";
import type { BuildVolume } from "./buildRoom";
import { type CutFaceSide, cutFaceSides } from "./cutFaceSides";
import { tubePlaces } from "./cutPlanes";
import { type CutFace, searchCuts } from "./cutSearch";
import type { Surroundings } from "./faceCost";
import { type Laying, layingOf, turned } from "./laying";
import { packFootprints, plateCount } from "./packing";
import { pieceFindings } from "./pieceFindings";
import { letterOf, placeInWords } from "./pieceNames";
import type { AssemblyStep, PackedPlate, PieceJoint, PiecePlan, PlannedPiece } from "./piecePlan";
import { type FaceToJoin, type Pin, pinsFor } from "./pins";
import { bodiesOf } from "./splitting";

/** What is to be printed, on what. */
export interface PieceJob {
  /** The finished solid, head frame. */
  readonly mesh: PartMesh;
  /** The design's parts: `partOfTriangle` of the mesh counts these. */
  readonly parts: readonly Part[];
  readonly printer: Pick<Printer, "name" | "plate" | "height">;
  readonly settings: Pick<PrintSettings, "brimWidth">;
}

export interface PieceOptions {
  /** Room round a peg on each side, mm. Default 0.2 (common practice, no source). */
  readonly clearance?: number;
  /** Room between pieces on a plate, mm. Default 5 (common practice, no source). */
  readonly gap?: number;
}

/** A piece keeps so far from the edge of the build volume, mm. */
const margin = 0.5;
/** A pin may stick out by so much where a piece is tried for room, mm. */
const pinReach = 8;

/**
 * In how many pieces a headpiece is printed: one, where it fits at any orientation; else cut into as few as can be found,
 * joined by pins that go in one way only, with an order of assembly, and laid on as few plates as will do.
 * @throws RangeError when the mesh is empty or not closed, a coordinate is not finite, or an option is out of range.
 */
export function planPieces(kernel: Kernel, job: PieceJob, options: PieceOptions = {}): PiecePlan {
  const { clearance = 0.2, gap = 5 } = options;
  check(job, clearance, gap);
  const { mesh, parts, printer, settings } = job;
  const volume = lessMargin(printer, settings.brimWidth);
  const surroundings = surroundingsOf(mesh);
  const whole = meshVolume(mesh);
  const { bodies, faces } = plateFit(mesh.positions, volume).fits
    ? { bodies: [mesh], faces: [] }
    : cutBodies(kernel, job, volume, surroundings);
  const sides = bodies.map(cutFaceSides);
  const { joins, glued } = meetingsOf(faces, sides);
  const assembly = assemblyOrder(
    bodies.length,
    [...joins, ...glued].map(({ face, below, above }) => ({
      pieces: [below, above],
      normal: face.plane.normal,
    })),
  );
  const { pins, meshes, pegVolumes, socketVolumes } = withPins(
    kernel,
    bodies,
    joins.map((join, i) => ({ ...join, along: wayOf(i, assembly) ?? join.along })),
    clearance,
  );
  const joints = [...joins, ...glued].map((join, i) =>
    jointOf(join, pins[i], pegVolumes[i] ?? 0, socketVolumes[i] ?? 0, clearance),
  );
  const layings = meshes.map((own, i) =>
    layingOf(own, faceDown(sides[i], i, joints, [...joins, ...glued]), volume),
  );
  const { plates, plateOf } = packed(meshes, layings, printer, settings.brimWidth, gap);
  const pieces = namedPieces(meshes, layings, plateOf, surroundings);
  const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
  const plan = {
    pieces,
    joints,
    assembly,
    plates,
    volumes: {
      whole,
      pieces: sum(pieces.map((piece) => piece.volume)),
      pegs: sum(joints.map(({ pegVolume }) => pegVolume)),
      sockets: sum(joints.map(({ socketVolume }) => socketVolume)),
    },
  };
  return { ...plan, findings: pieceFindings(plan, parts, printer) };
}

function check({ mesh, settings }: PieceJob, clearance: number, gap: number): void {
  if (mesh.triangles.length === 0)
    throw new RangeError("The mesh has no triangles: there is nothing to cut.");
  for (const value of mesh.positions) {
    if (!Number.isFinite(value)) throw new RangeError(`A coordinate is ${value}: it must be finite.`);
  }
  const within = (name: string, value: number, least: number, most: number) => {
    if (!(value >= least && value <= most)) {
      throw new RangeError(`The ${name} is ${value} mm: it must be from ${least} to ${most} mm.`);
    }
  };
  within("clearance of pins", clearance, 0, 1);
  within("gap between pieces", gap, 0, 100);
  within("brim", settings.brimWidth, 0, 50);
}

function lessMargin({ plate, height }: BuildVolume, brim: number): BuildVolume {
  return {
    height,
    plate:
      plate.shape === "round"
        ? { shape: "round", diameter: plate.diameter - 2 * brim }
        : { shape: "rectangular", width: plate.width - 2 * brim, depth: plate.depth - 2 * brim },
  };
}

const smaller = ({ plate, height }: BuildVolume): BuildVolume => ({
  ...lessMargin({ plate, height }, margin),
  height: height - margin,
});

function surroundingsOf({ positions }: PartMesh): Surroundings {
  const least = [Infinity, Infinity, Infinity];
  const most = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < positions.length; i++) {
    least[i % 3] = Math.min(least[i % 3], positions[i]);
    most[i % 3] = Math.max(most[i % 3], positions[i]);
  }
  const of = (f: (axis: number) => number) => [0, 1, 2].map(f) as unknown as Vec3;
  return {
    middle: of((axis) => (least[axis] + most[axis]) / 2),
    half: of((axis) => (most[axis] - least[axis]) / 2),
  };
}

/** Bodies that come apart of themselves, each cut as far as it must be; the largest first. */
function cutBodies(
  kernel: Kernel,
  { mesh, parts }: PieceJob,
  volume: BuildVolume,
  surroundings: Surroundings,
): { bodies: PartMesh[]; faces: CutFace[] } {
  const bodies: PartMesh[] = [];
  const faces: CutFace[] = [];
  let firstFace = 0;
  const places = tubePlaces(parts);
  for (const body of bodiesOf(mesh)) {
    const found = searchCuts({
      mesh: body,
      volume: smaller(volume),
      places,
      surroundings,
      triangulate: (loops) => triangulated(kernel, loops),
      pinReach,
      firstFace,
    });
    bodies.push(...found.bodies);
    faces.push(...found.faces);
    firstFace = faces.reduce((most, { number }) => Math.max(most, number + 1), firstFace);
  }
  const volumes = new Map(bodies.map((body) => [body, meshVolume(body)]));
  bodies.sort((a, b) => volumes.get(b)! - volumes.get(a)!);
  return { bodies, faces };
}

/** Cut faces by the pieces on both sides: whole faces, which take a pin, and those that a later cut has parted. */
function meetingsOf(
  faces: readonly CutFace[],
  sides: readonly (readonly CutFaceSide[])[],
): { joins: FaceToJoin[]; glued: FaceToJoin[] } {
  const joins: FaceToJoin[] = [];
  const glued: FaceToJoin[] = [];
  const greatest = sides.map((own) => own.reduce((most, { area }) => Math.max(most, area), 0));
  for (const face of faces) {
    const { normal } = face.plane;
    const at = sides.flatMap((own, piece) =>
      own.filter((side) => side.face === face.number).map((side) => ({ piece, side })),
    );
    const lower = at.filter(({ side }) => dot(side.outward, normal) > 0);
    const upper = at.filter(({ side }) => dot(side.outward, normal) < 0);
    const isWhole = lower.length === 1 && upper.length === 1;
    const pairs = isWhole
      ? [[lower[0], upper[0]]]
      : upper.flatMap((high) => (lower.length > 0 ? [[nearestTo(high.side, lower), high]] : []));
    for (const [low, high] of pairs) {
      // A piece stands best on its broadest face: there the socket.
      const share = (one: typeof low) => one.side.area / greatest[one.piece];
      const peg =
        Math.abs(share(low) - share(high)) > 0.01
          ? share(low) < share(high)
            ? low.piece
            : high.piece
          : Math.min(low.piece, high.piece);
      (isWhole ? joins : glued).push({ face, below: low.piece, above: high.piece, along: normal, peg });
    }
  }
  return { joins, glued };
}

function nearestTo<T extends { readonly side: CutFaceSide }>(
  { centre }: CutFaceSide,
  others: readonly T[],
): T {
  const away = ({ side }: T) => Math.hypot(...side.centre.map((x, axis) => x - centre[axis]));
  return others.reduce((a, b) => (away(b) < away(a) ? b : a));
}

/** The way along which the pieces of a joint come together; none where they must be flexed. */
function wayOf(joint: number, assembly: readonly AssemblyStep[]): Vec3 | undefined {
  const step = assembly.find(({ joints }) => joints.includes(joint));
  return step && !step.isFlexed ? step.direction : undefined;
}

/** A pin that changes a piece's volume by so much more or less than its own did not sit in it as it should, mm³. */
const mostAmiss = 2;

/** Pieces with pegs and sockets. A pin that does not sit as it should is left out of both its pieces: its joint is glued. */
function withPins(
  kernel: Kernel,
  bodies: readonly PartMesh[],
  joins: readonly FaceToJoin[],
  clearance: number,
) {
  const pins: (Pin | undefined)[] = pinsFor(joins, bodies, clearance);
  const pegVolumes = joins.map(() => 0);
  const socketVolumes = joins.map(() => 0);
  const meshes = [...bodies];
  const waiting = new Set(bodies.keys());
  for (const piece of waiting) {
    waiting.delete(piece);
    const body = bodies[piece];
    const own = (end: 0 | 1) => pins.flatMap((pin, i) => (pin?.pieces[end] === piece ? [i] : []));
    const [pegs, sockets] = [own(0), own(1)];
    meshes[piece] = body;
    if (pegs.length + sockets.length === 0) continue;
    const made = keyed(kernel, {
      mesh: body,
      pegs: pegs.map((i) => pins[i]!.peg),
      sockets: sockets.map((i) => pins[i]!.socket),
    });
    const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
    const expected = meshVolume(body) + sum(made.pegVolumes) - sum(made.socketVolumes);
    if (Math.abs(meshVolume(made.mesh) - expected) > mostAmiss || bodiesOf(made.mesh).length !== 1) {
      const weakest = [...pegs, ...sockets].reduce((a, b) => (pins[b]!.key.a < pins[a]!.key.a ? b : a));
      for (const again of pins[weakest]!.pieces) waiting.add(again);
      pins[weakest] = undefined;
      pegVolumes[weakest] = 0;
      socketVolumes[weakest] = 0;
      continue;
    }
    meshes[piece] = made.mesh;
    for (const [k, i] of pegs.entries()) pegVolumes[i] = made.pegVolumes[k];
    for (const [k, i] of sockets.entries()) socketVolumes[i] = made.socketVolumes[k];
  }
  return { pins, meshes, pegVolumes, socketVolumes };
}

function jointOf(
  { face, below, above }: FaceToJoin,
  pin: Pin | undefined,
  pegVolume: number,
  socketVolume: number,
  clearance: number,
): PieceJoint {
  const base = { area: face.section.area, clearance, parts: face.section.parts };
  if (pin) {
    return {
      ...base,
      pieces: pin.pieces,
      kind: "pin",
      key: pin.key,
      isUnique: pin.isUnique,
      at: pin.frame.origin,
      direction: pin.frame.z,
      pegVolume,
      socketVolume,
    };
  }
  const isBelowFirst = below < above;
  return {
    ...base,
    pieces: isBelowFirst ? [below, above] : [above, below],
    kind: "glue",
    isUnique: false,
    at: face.section.centre,
    direction: isBelowFirst ? face.plane.normal : scale(face.plane.normal, -1),
    pegVolume: 0,
    socketVolume: 0,
  };
}

/** The cut faces of a piece that have no peg. */
const faceDown = (
  sides: readonly CutFaceSide[],
  piece: number,
  joints: readonly PieceJoint[],
  joins: readonly FaceToJoin[],
): CutFaceSide[] =>
  sides.filter(
    ({ face }) =>
      !joins.some(
        (join, i) => join.face.number === face && joints[i].kind === "pin" && joints[i].pieces[0] === piece,
      ),
  );

function packed(
  meshes: readonly PartMesh[],
  layings: readonly Laying[],
  { plate }: BuildVolume,
  brim: number,
  gap: number,
): { plates: PackedPlate[]; plateOf: number[] } {
  const rotations = layings.map(({ rotation }) => rotation);
  const points = meshes.map((mesh, i) => turned(mesh.positions, rotations[i]));
  const footprints = meshes.map(({ triangles }, i) => {
    const shadow = new Float64Array(2 * triangles.length);
    for (let corner = 0; corner < triangles.length; corner++) {
      shadow[2 * corner] = points[i][3 * triangles[corner]];
      shadow[2 * corner + 1] = points[i][3 * triangles[corner] + 1];
    }
    return { triangles: shadow };
  });
  const room = lessMargin({ plate, height: 1 }, brim).plate;
  const spots = packFootprints(footprints, room, gap + 2 * brim);
  const plates = Array.from({ length: plateCount(spots) }, (_, index) => ({
    pieces: spots.flatMap(({ plate: on, shift: [x, y] }, piece) => {
      if (on !== index) return [];
      let bottom = Infinity;
      for (let i = 2; i < points[piece].length; i += 3) bottom = Math.min(bottom, points[piece][i]);
      const shift: Vec3 = [x, y, -bottom];
      return [{ piece, orientation: layings[piece].orientation, rotation: rotations[piece], shift }];
    }),
  }));
  return { plates, plateOf: spots.map((spot) => spot.plate) };
}

function namedPieces(
  meshes: readonly PartMesh[],
  layings: readonly Laying[],
  plateOf: readonly number[],
  surroundings: Surroundings,
): PlannedPiece[] {
  return meshes.map((raw, i) => {
    const mesh = finished(raw);
    const letter = letterOf(i);
    const { parts, centre } = surfaceOf(mesh);
    return {
      letter,
      name: meshes.length === 1 ? "the whole" : `${letter}, ${placeInWords(centre, surroundings)}`,
      mesh,
      parts,
      volume: meshVolume(mesh),
      size: layings[i].size,
      orientation: layings[i].orientation,
      fits: layings[i].fits,
      plate: plateOf[i],
    };
  });
}

/** Cut faces have no part, and vertices stay apart in 32-bit numbers. */
function finished({ positions, triangles, partOfTriangle }: PartMesh): PartMesh {
  const own = Float32Array.from(positions);
  separateCoincidentVertices(own);
  return { positions: own, triangles, partOfTriangle: partOfTriangle.map((part) => Math.max(-1, part)) };
}

/** The parts that a mesh has surface of, the one with most first, and the middle of its surface. */
function surfaceOf({ positions: p, triangles, partOfTriangle }: PartMesh): { parts: number[]; centre: Vec3 } {
  const areas = new Map<number, number>();
  const sum = [0, 0, 0];
  let all = 0;
  for (let t = 0; t < partOfTriangle.length; t++) {
    const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const area = Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 2;
    all += area;
    for (let axis = 0; axis < 3; axis++) sum[axis] += (area * (p[a + axis] + p[b + axis] + p[c + axis])) / 3;
    const part = partOfTriangle[t];
    if (part >= 0) areas.set(part, (areas.get(part) ?? 0) + area);
  }
  return {
    parts: [...areas].sort((a, b) => b[1] - a[1] || a[0] - b[0]).map(([part]) => part),
    centre: sum.map((value) => value / all) as unknown as Vec3,
  };
}
