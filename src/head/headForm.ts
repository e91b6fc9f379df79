import { GrownHead, growRadii } from "./grownHead";
import { FINE, meshSurface } from "./headMesh";
import { girthDepth, headRadii } from "./headRadii";
import { HeadSurface } from "./headSurface";
import { type MeshMeasures, measureMesh } from "./measureMesh";
import type { Measurements } from "./measurements";
import { RadialSurface, type RadialSurfaceData } from "./radialSurface";
import { measureScan } from "./scanMeasuring";

/** A head form as plain data, for another process. */
export interface HeadFormData {
  readonly measurements: Measurements;
  readonly surface: RadialSurfaceData;
}

/** Room left between head and piece. */
export interface Growth {
  /** Ease as an offset, mm: girth ease / 2π. */
  readonly offset: number;
  /** Hair, mm, added where hair grows. */
  readonly hairThickness: number;
}

/** The solid built from a wearer's measurements: the bare head, without ease or hair. */
export class HeadForm extends HeadSurface {
  private measuredCache?: MeshMeasures;

  /** Takes the data as it is; {@link buildHeadForm} makes it from measurements. */
  constructor(data: HeadFormData) {
    super(data.measurements, new RadialSurface(data.surface));
  }

  protected landmarkSurface(): RadialSurface {
    return this.surface;
  }

  /** Plain data that passes to another process. */
  toData(): HeadFormData {
    return { measurements: this.measurements, surface: this.surface.data };
  }

  static fromData(data: HeadFormData): HeadForm {
    return new HeadForm(data);
  }

  /** What tape and calipers read off this form's fine mesh, mm. */
  get measured(): MeshMeasures {
    this.measuredCache ??= this.surface.data.whole ? this.measuredAsScan() : this.measuredAsForm();
    return this.measuredCache;
  }

  private measuredAsForm(): MeshMeasures {
    return measureMesh(meshSurface(this.surface, FINE), girthDepth(this.measurements) * 1.13);
  }

  /** A scan's ears may stand higher than a form's. */
  private measuredAsScan(): MeshMeasures {
    const { girthHeight, ...measured } = measureScan(meshSurface(this.surface, FINE), this, 1);
    return { ...measured, girthBelowCrown: measured.crownHeight - girthHeight };
  }

  /** The head with ease and hair: what the piece is hollowed to. */
  grown(growth: Growth): GrownHead {
    return new GrownHead({
      measurements: this.measurements,
      surface: growRadii(this.surface, growth.offset, growth.hairThickness),
      bare: this.surface.data,
      offset: growth.offset,
      hairThickness: growth.hairThickness,
    });
  }
}

/**
 * Builds the head form of complete measurements (mm). Throws a RangeError where no convex section has the girth
 * with this length and breadth: check with completeMeasurements first.
 */
export const buildHeadForm = (measurements: Measurements): HeadForm =>
  new HeadForm({ measurements, surface: headRadii(measurements) });
