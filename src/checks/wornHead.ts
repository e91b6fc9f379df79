import type { TriangleMesh } from "../geometry/mesh";
import { SignedDistance } from "../geometry/signedDistance";
import type { Vec3 } from "../geometry/vector";
import type { HeadDirection } from "../head/coordinates";
import type { HeadForm } from "../head/headForm";
import type { KnownHead } from "../head/knownHead";
import type { Landmark } from "../head/landmarks";
import type { Measurements } from "../head/measurements";
import { LEAST_ADULT_GIRTH } from "../head/population";
import { hairShare } from "../head/regions";

/** Room on a head, mm. */
export interface HeadRoom {
  /** Ease all round, as an offset. */
  readonly ease: number;
  /** Hair as it lies, where hair grows. */
  readonly hair: number;
  /** Hair pressed flat. */
  readonly hairPressed: number;
}

/** Where on the head something is, in one word for a sentence: front, left, right, back, crown. */
export type HeadSide = "front" | "left" | "right" | "back" | "crown";
export const headSides = ["front", "right", "back", "left", "crown"] as const satisfies readonly HeadSide[];

/**
 * The head that a piece is checked on, in four sizes: bare; with its hair pressed flat; with its hair as it lies, on
 * which the piece rests; and grown by ease and hair, to which the piece is hollowed. Made from a head form, or from
 * the mesh of a real head that stands in the head frame: then the form gives landmarks and regions.
 */
export class WornHead {
  readonly form: HeadForm;
  readonly room: HeadRoom;
  /** How well the head is known; exactly unless given. */
  readonly known: KnownHead | undefined;
  readonly bare: SignedDistance;
  readonly #scan: TriangleMesh | undefined;
  #pressed: SignedDistance | undefined;
  #haired: SignedDistance | undefined;
  #grown: SignedDistance | undefined;

  /**
   * @param scan a real head's surface in the head frame, mm; it may be open
   * @param known how well the head is known
   */
  constructor(form: HeadForm, room: HeadRoom, scan?: TriangleMesh, known?: KnownHead) {
    this.form = form;
    this.room = room;
    this.known = known;
    this.#scan = scan;
    this.bare = new SignedDistance(scan ?? form.mesh());
  }

  get pressed(): SignedDistance {
    this.#pressed ??= this.#with(0, Math.min(this.room.hair, this.room.hairPressed));
    return this.#pressed;
  }

  get haired(): SignedDistance {
    this.#haired ??= this.#with(0, this.room.hair);
    return this.#haired;
  }

  get grown(): SignedDistance {
    this.#grown ??= this.#with(this.room.ease, this.room.hair);
    return this.#grown;
  }

  get measurements(): Measurements {
    return this.form.measurements;
  }

  /** mm, head frame. */
  get landmarks(): Readonly<Record<Landmark, Vec3>> {
    return this.form.landmarks;
  }

  /** A head smaller than any adult's in the survey: the wearer is taken to be a child. */
  get isChild(): boolean {
    return this.measurements.girth < LEAST_ADULT_GIRTH;
  }

  /** Azimuth and elevation in which a point is seen from the head's centre, degrees. */
  directionOf(point: Vec3): HeadDirection {
    return this.form.directionOf(point);
  }

  /** Hair as it lies at a place of the head, mm. */
  hairAt(point: Vec3): number {
    if (this.room.hair === 0) return 0;
    const { azimuth, elevation } = this.directionOf(point);
    return this.room.hair * hairShare(azimuth, elevation);
  }

  /** Where a point is, in one word. */
  sideOf(point: Vec3): HeadSide {
    const { azimuth, elevation } = this.directionOf(point);
    if (elevation >= 60) return "crown";
    const side = Math.abs(azimuth);
    if (side <= 45) return "front";
    if (side >= 135) return "back";
    return azimuth > 0 ? "right" : "left";
  }

  #with(offset: number, hairThickness: number): SignedDistance {
    if (offset === 0 && hairThickness === 0) return this.bare;
    if (this.#scan === undefined) {
      return new SignedDistance(this.form.grown({ offset, hairThickness }).mesh());
    }
    return new SignedDistance(this.#grownScan(this.#scan, offset, hairThickness));
  }

  /** A real head's surface moved out along its normals. */
  #grownScan({ positions, triangles }: TriangleMesh, offset: number, hair: number): TriangleMesh {
    const normals = this.bare.vertexNormals;
    const moved = new Float32Array(positions.length);
    for (let i = 0; i < positions.length; i += 3) {
      const { azimuth, elevation } = this.directionOf([positions[i], positions[i + 1], positions[i + 2]]);
      const room = offset + hair * hairShare(azimuth, elevation);
      for (let axis = 0; axis < 3; axis++) moved[i + axis] = positions[i + axis] + room * normals[i + axis];
    }
    return { positions: moved, triangles };
  }
}
