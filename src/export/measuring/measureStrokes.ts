import { add, distance, scale, type Vec3 } from "../../geometry/vector";
import type { HeadForm } from "../../head/headForm";
import type { TakenField } from "../../head/readings";

/** A line of a drawing in the head frame, mm. */
export interface Stroke {
  readonly points: readonly Vec3[];
  readonly closed: boolean;
  /**
   * `tape` lies on the head and is hidden behind it; `span` is straight, at a rule or the beam of calipers; `arm` leads from
   * an instrument to the head; `through` joins two points through the head.
   */
  readonly kind: "tape" | "span" | "arm" | "through";
}

/** A named point of a drawing. */
export interface Mark {
  readonly at: Vec3;
  readonly label: string;
  /** Where the label stands; on the side away from the middle of the measure unless given. */
  readonly place?: "above" | "below";
}

/** What a drawing of a measure shows; the first stroke is as long as the measure. */
export interface MeasureStrokes {
  readonly strokes: readonly [Stroke, ...Stroke[]];
  readonly marks: readonly Mark[];
}

/** Length of a stroke, mm. */
export const strokeLength = ({ points, closed }: Stroke): number =>
  points.reduce((sum, point, i) => {
    const before = i > 0 ? points[i - 1] : closed ? points[points.length - 1] : point;
    return sum + distance(before, point);
  }, 0);

/** Where calipers have their beam over the crown, mm. */
const BEAM_LIFT = 22;
/** The ear's axis leans back by this much for one up, as on the head form. */
const EAR_LEAN = 0.17;

const straight = (kind: Stroke["kind"], ...points: Vec3[]): Stroke => ({ kind, points, closed: false });

/** The lines of a measure on a head form. */
export const measureStrokes = (form: HeadForm, field: TakenField): MeasureStrokes => STROKES[field](form);

const STROKES: Readonly<Record<TakenField, (form: HeadForm) => MeasureStrokes>> = {
  girth: (form) => ({
    strokes: [{ kind: "tape", points: form.girthLine.points, closed: true }],
    marks: [
      { at: form.landmarks.brow, label: "brow" },
      { at: form.landmarks.back, label: "back" },
    ],
  }),
  length: (form) => {
    const { brow, back } = form.landmarks;
    return calipers(form, { at: brow, label: "brow" }, { at: back, label: "back" });
  },
  breadth: (form) => {
    const right = widest(form);
    const left: Vec3 = [-right[0], right[1], right[2]];
    return calipers(form, { at: right, label: "widest" }, { at: left, label: "widest" });
  },
  crownHeight: (form) => {
    const { crown, rightTragion } = form.landmarks;
    const [x, y, z] = rightTragion;
    // Held against the cheek, clear of the head's side.
    const foot: Vec3 = [Math.max(x, widest(form)[0] + 4), y, z];
    const top: Vec3 = [foot[0], y, crown[2]];
    return {
      strokes: [
        straight("span", foot, top),
        straight("arm", foot, rightTragion),
        straight("arm", add(top, [8, 0, 0]), [-0.5 * foot[0], y, crown[2]]),
        straight("arm", add(crown, [0, -70, 0]), add(crown, [0, 75, 0])),
      ],
      marks: [
        { at: crown, label: "crown", place: "above" },
        { at: rightTragion, label: "tragion", place: "below" },
      ],
    };
  },
  bitragionArc: (form) => ({
    strokes: [{ kind: "tape", points: form.coronalLine.points, closed: false }],
    marks: [
      { at: form.landmarks.rightTragion, label: "tragion" },
      { at: form.landmarks.leftTragion, label: "tragion" },
      { at: form.landmarks.crown, label: "crown", place: "above" },
    ],
  }),
  earLength: (form) => {
    const half = (form.measurements.earLength ?? 0) / 2;
    const outer = outermostEar(form);
    const along: Vec3 = scale([0, EAR_LEAN, 1], half / Math.hypot(EAR_LEAN, 1));
    const middle: Vec3 = [outer[0] + 2, ...earMiddle(form)];
    const [top, lobe] = [add(middle, along), add(middle, scale(along, -1))];
    return {
      strokes: [straight("span", lobe, top)],
      marks: [
        { at: top, label: "top of the ear" },
        { at: lobe, label: "lobe" },
      ],
    };
  },
  earProtrusion: (form) => {
    const rim = outermostEar(form);
    const root: Vec3 = [rim[0] - (form.measurements.earProtrusion ?? 0), rim[1], rim[2]];
    return {
      strokes: [straight("span", root, rim)],
      marks: [
        { at: root, label: "behind the ear", place: "below" },
        { at: rim, label: "rim", place: "above" },
      ],
    };
  },
  interpupillaryDistance: (form) => {
    const { leftEye, rightEye } = form.landmarks;
    return {
      strokes: [straight("span", leftEye, rightEye)],
      marks: [
        { at: leftEye, label: "pupil" },
        { at: rightEye, label: "pupil" },
      ],
    };
  },
  neckGirth: (form) => ({
    strokes: [{ kind: "tape", points: leastNeck(form), closed: true }],
    marks: [],
  }),
};

/** Calipers whose arms come down from a level beam over the crown; both points lie at one height. */
const calipers = (form: HeadForm, one: Mark, other: Mark): MeasureStrokes => {
  const level = form.landmarks.crown[2] + BEAM_LIFT;
  const over = ([x, y]: Vec3): Vec3 => [x, y, level];
  return {
    strokes: [
      straight("span", over(one.at), over(other.at)),
      straight("arm", over(one.at), one.at),
      straight("arm", over(other.at), other.at),
      straight("through", one.at, other.at),
    ],
    marks: [one, other],
  };
};

/** The place of the head, above the ears, that lies farthest to the wearer's right. */
const widest = (form: HeadForm): Vec3 => {
  let found: Vec3 = [0, 0, 0];
  for (let elevation = -4; elevation <= 30; elevation += 1) {
    for (let azimuth = 60; azimuth <= 130; azimuth += 1) {
      const point = form.pointAt({ azimuth, elevation });
      if (point[0] > found[0]) found = point;
    }
  }
  return found;
};

/** The middle of the right ear, y and z: behind the tragion, from a fifth of its length above it downwards. */
const earMiddle = (form: HeadForm): [number, number] => {
  const length = form.measurements.earLength ?? 0;
  const size = form.measurements.crownHeight / 129;
  return [-15.5 * size, 25 * size - 0.55 * length];
};

/** The place of the right ear that stands farthest off. */
const outermostEar = (form: HeadForm): Vec3 => {
  const [y, z] = earMiddle(form);
  let found: Vec3 = [0, 0, 0];
  for (let up = -25; up <= 25; up += 1.5) {
    for (let back = -25; back <= 20; back += 1.5) {
      const point = form.pointAt(form.directionOf([form.landmarks.rightTragion[0], y + back, z + up]));
      if (point[0] > found[0]) found = point;
    }
  }
  return found;
};

/** Steps of the ring round the neck. */
const AROUND = 96;

/** The level ring round the neck that is shortest. */
const leastNeck = (form: HeadForm): Vec3[] => {
  const chin = form.landmarks.chin[2];
  let found: { readonly points: Vec3[]; readonly length: number } | undefined;
  for (let z = chin - 45; z <= chin - 15; z += 2) {
    const points = levelRing(form, z);
    const length = strokeLength({ points, closed: true, kind: "tape" });
    if (!found || length < found.length) found = { points, length };
  }
  return found?.points ?? [];
};

/** The surface's ring at a height below its centre: on each meridian the elevation that meets the height. */
const levelRing = (form: HeadForm, z: number): Vec3[] =>
  Array.from({ length: AROUND }, (_, i): Vec3 => {
    const azimuth = (360 * i) / AROUND;
    let [low, high] = [-89, -20];
    for (let step = 0; step < 30; step++) {
      const elevation = (low + high) / 2;
      if (form.pointAt({ azimuth, elevation })[2] < z) low = elevation;
      else high = elevation;
    }
    return form.pointAt({ azimuth, elevation: (low + high) / 2 });
  });
