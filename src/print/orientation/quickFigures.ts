import { extremePoints } from "../../checks/plate/extremePoints";
import type { Printer } from "../../checks/printer";
import type { PartMesh } from "../../geometry/mesh";
import type { Vec3 } from "../../geometry/vector";
import type { PrintSettings } from "../../printSettings";
import { type NormalClusters, normalClusters } from "./normalClusters";
import { outerVertices } from "./outerVertices";
import { type PrintSums, printHours } from "./printHours";
import { StandingFaces } from "./standingFaces";

/** Of a print one way up, what its direction alone decides. */
export interface OrientationFigures {
  /** Hours, roughly: see `printHours`. */
  readonly hours: number;
  /** Envelope of supports, mm³. */
  readonly supportVolume: number;
  /** Surface that supports touch, mm²: what they hold up and what they stand on. */
  readonly contactArea: number;
  /** The same, each place by how much it shows, mm². */
  readonly scars: number;
  /** mm */
  readonly height: number;
  /** Area within a layer of the plate, mm². */
  readonly footprint: number;
  /** Supports that may peel or topple; 0 where they have not been looked for. */
  readonly thinColumns: number;
  /** Strength over stress of the weakest arm; absent where there is none or it is not known. */
  readonly weakest?: number;
}

export interface QuickInput {
  /** The finished solid, head frame. */
  readonly mesh: PartMesh;
  readonly printer: Printer;
  readonly settings: PrintSettings;
  /** Safety factor of the weakest arm when a direction looks up; undefined for a piece without arms. */
  readonly weakest?: (up: Vec3) => number | undefined;
}

/** The figures of a direction, and what they were made from. */
export interface QuickFigures extends OrientationFigures {
  readonly sums: PrintSums;
}

/**
 * Figures of a piece for any direction, in closed form over clusters of normals: some tens of microseconds each. A
 * support counts from what it holds up down to the plate: that it may land on the piece before is known only when a
 * direction is looked at cell by cell.
 */
export class QuickOrientation {
  readonly clusters: NormalClusters;
  readonly standing: StandingFaces;
  /** Vertices among which the corners of the piece's convex hull are, x, y, z in turn, mm. */
  readonly outer: Float64Array;
  /** Of them a few that stand for its extents, x, y, z in turn, mm. */
  readonly extremes: Float64Array;
  readonly #input: QuickInput;
  readonly #sine: number;

  constructor(input: QuickInput) {
    this.#input = input;
    this.clusters = normalClusters(input.mesh);
    this.outer = outerVertices(input.mesh.positions);
    this.extremes = extremePoints(this.outer, extremeDepth);
    this.standing = new StandingFaces(input.mesh, this.extremes);
    const { overhangAngle, supportShare } = input.settings;
    // With no support nothing is held up.
    this.#sine = supportShare > 0 ? Math.sin((overhangAngle * Math.PI) / 180) + normalNoise : Infinity;
  }

  /** The figures when `up`, a unit vector of the head frame, looks up. */
  figures(up: Vec3): QuickFigures {
    const { settings, printer, weakest } = this.#input;
    const { layerHeight, lineWidth, shells, topLayers, bottomLayers, supportGap } = settings;
    const { count, normals: n, middles: m, areas, shown, volume } = this.clusters;
    const [x, y, z] = up;
    const { bottom, height } = this.#extent(up);
    const sine = this.#sine;
    const wall = shells * lineWidth;
    const top = topLayers * layerHeight;
    const base = bottomLayers * layerHeight;
    let [sides, skins, held, heldFlat, heldShown, envelope] = [0, 0, 0, 0, 0, 0];
    for (let k = 0; k < count; k++) {
      const i = 3 * k;
      const area = areas[k];
      const rise = n[i] * x + n[i + 1] * y + n[i + 2] * z;
      const flat = Math.sqrt(Math.max(0, 1 - rise * rise));
      sides += area * flat;
      // Shells cover the filled layers of what is steep.
      const skin = (rise > 0 ? top * rise : -base * rise) - wall * flat;
      if (skin > 0) skins += area * skin;
      if (-rise > sine) {
        held += area;
        heldShown += shown[k];
        heldFlat -= area * rise;
        envelope -= area * rise * (m[i] * x + m[i + 1] * y + m[i + 2] * z - bottom);
      }
    }
    const footprint = this.standing.areaOnPlate(up, bottom, layerHeight);
    const lifted = heldFlat > 0 ? Math.max(0, 1 - footprint / heldFlat) : 0;
    const heldArea = heldFlat * lifted;
    const supportVolume = Math.max(0, envelope - supportGap * heldArea);
    const sums: PrintSums = { volume, sides, skins, height, supportVolume, heldArea };
    const factor = weakest?.(up);
    return {
      hours: printHours(sums, settings, printer),
      supportVolume,
      contactArea: held * lifted,
      scars: heldShown * lifted,
      height,
      footprint,
      thinColumns: 0,
      ...(factor !== undefined && { weakest: factor }),
      sums,
    };
  }

  #extent([x, y, z]: Vec3): { bottom: number; height: number } {
    const e = this.extremes;
    let bottom = Infinity;
    let top = -Infinity;
    for (let i = 0; i < e.length; i += 3) {
      const here = e[i] * x + e[i + 1] * y + e[i + 2] * z;
      if (here < bottom) bottom = here;
      if (here > top) top = here;
    }
    return { bottom, height: top - bottom };
  }
}

/** Depth of `extremePoints`. */
const extremeDepth = 4;
/** Sine by which a surface may exceed the overhang angle: what 32-bit coordinates take from a normal. */
const normalNoise = 5e-4;
