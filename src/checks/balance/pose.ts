import { degrees, type Vec3 } from "../../geometry/vector";

/** A rigid motion: a turn about a point, then a shift. */
export class Pose {
  /** The point that it turns about, mm: where it was, and where it is. */
  readonly from: Vec3;
  readonly to: Vec3;
  /** Unit quaternion w, x, y, z. */
  readonly #turn: readonly [number, number, number, number];

  private constructor(from: Vec3, to: Vec3, turn: readonly [number, number, number, number]) {
    this.from = from;
    this.to = to;
    this.#turn = turn;
  }

  static still(about: Vec3): Pose {
    return new Pose(about, about, [1, 0, 0, 0]);
  }

  /** This motion and then a further one: a shift (mm) and a turn about the moved point (rotation vector, radians). */
  followedBy(shift: Vec3, turn: Vec3): Pose {
    const angle = Math.hypot(...turn);
    const k = angle > 0 ? Math.sin(angle / 2) / angle : 0.5;
    const [aw, ax, ay, az] = [Math.cos(angle / 2), k * turn[0], k * turn[1], k * turn[2]];
    const [bw, bx, by, bz] = this.#turn;
    const w = aw * bw - ax * bx - ay * by - az * bz;
    const x = aw * bx + ax * bw + ay * bz - az * by;
    const y = aw * by - ax * bz + ay * bw + az * bx;
    const z = aw * bz + ax * by - ay * bx + az * bw;
    const size = Math.hypot(w, x, y, z);
    const to: Vec3 = [this.to[0] + shift[0], this.to[1] + shift[1], this.to[2] + shift[2]];
    return new Pose(this.from, to, [w / size, x / size, y / size, z / size]);
  }

  /** Where a point comes to lie, mm. */
  moved(x: number, y: number, z: number): Vec3 {
    const [w, qx, qy, qz] = this.#turn;
    const [px, py, pz] = [x - this.from[0], y - this.from[1], z - this.from[2]];
    // p + 2w (q × p) + 2 q × (q × p)
    const [tx, ty, tz] = [2 * (qy * pz - qz * py), 2 * (qz * px - qx * pz), 2 * (qx * py - qy * px)];
    return [
      this.to[0] + px + w * tx + qy * tz - qz * ty,
      this.to[1] + py + w * ty + qz * tx - qx * tz,
      this.to[2] + pz + w * tz + qx * ty - qy * tx,
    ];
  }

  /** Of the point that it turns about, mm. */
  get shift(): Vec3 {
    return [this.to[0] - this.from[0], this.to[1] - this.from[1], this.to[2] - this.from[2]];
  }

  /** Rotation vector: along the axis, as long as the angle; degrees. */
  get turn(): Vec3 {
    const [w, x, y, z] = this.#turn;
    const sine = Math.hypot(x, y, z);
    const k = sine > 0 ? degrees(2 * Math.atan2(sine, w)) / sine : 0;
    return [k * x, k * y, k * z];
  }
}
