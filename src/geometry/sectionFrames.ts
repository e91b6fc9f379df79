import { type Curve, type CurveSamples, lastAtOrBelow } from "./curve";
import { defaultUp, rotationMinimisingNormals, type TurnAt } from "./frames";
import type { Vec3 } from "./vector";

/** A section's place on a path: x × y = tangent. */
export interface SectionFrame {
  readonly centre: Vec3;
  readonly tangent: Vec3;
  readonly x: Vec3;
  readonly y: Vec3;
  /** Curvature vector of the path, 1/mm. */
  readonly curvature: Vec3;
}

const at3 = (a: Float64Array, i: number): Vec3 => [a[i * 3], a[i * 3 + 1], a[i * 3 + 2]];

/** Frames at single shares of a path, the same as a sweep over the whole path has there. */
export class SectionFrames {
  private readonly stations: Float64Array;
  private readonly samples: CurveSamples;
  private readonly normals: Float64Array;

  constructor(
    private readonly curve: Curve,
    private readonly turnAt: TurnAt,
  ) {
    this.stations = curve.stations();
    this.samples = curve.sample(this.stations);
    const { points, tangents } = this.samples;
    this.normals = rotationMinimisingNormals(points, tangents, defaultUp(at3(tangents, 0)));
  }

  /** The frame at a share; closed paths wrap it, open ones clamp it. */
  at(share: number): SectionFrame {
    const wrapped = this.curve.closed ? share - Math.floor(share) : Math.min(1, Math.max(0, share));
    const sample = this.curve.sample([wrapped]);
    const node = lastAtOrBelow(this.stations, wrapped);
    const centre = at3(sample.points, 0);
    const tangent = at3(sample.tangents, 0);
    const n = at3(
      rotationMinimisingNormals(
        Float64Array.from([...at3(this.samples.points, node), ...centre]),
        Float64Array.from([...at3(this.samples.tangents, node), ...tangent]),
        at3(this.normals, node),
      ),
      1,
    );
    const b: Vec3 = [
      n[1] * tangent[2] - n[2] * tangent[1],
      n[2] * tangent[0] - n[0] * tangent[2],
      n[0] * tangent[1] - n[1] * tangent[0],
    ];
    const turn = this.turnAt(wrapped);
    const [c, s] = [Math.cos(turn), Math.sin(turn)];
    return {
      centre,
      tangent,
      x: [c * b[0] + s * n[0], c * b[1] + s * n[1], c * b[2] + s * n[2]],
      y: [c * n[0] - s * b[0], c * n[1] - s * b[1], c * n[2] - s * b[2]],
      curvature: at3(sample.curvatures, 0),
    };
  }
}
