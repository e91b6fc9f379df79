/** Which way up a piece is printed: tilted from its own upright, then turned about the printer's vertical. */
export interface Orientation {
  /** Angle between the piece's own up and the printer's, degrees, 0 to 180. */
  readonly tilt: number;
  /** Azimuth on the head of the side that comes to look up: 0 front, 90 right, 180 back, −90 left. */
  readonly towards: number;
  /** Turn about the printer's vertical after the tilt, counter-clockwise seen from above, degrees. */
  readonly turn: number;
}

/** As designed (where it does not fit: at the least tilt that fits), the best that the search finds, or a given one. */
export type OrientationChoice = "as designed" | "best" | Orientation;

/** How much each thing counts in the search for the best orientation; 0: not at all. */
export interface OrientationWeights {
  /** Hours of printing. */
  readonly hours: number;
  /** Volume of supports. */
  readonly support: number;
  /** Height over the plate: what is tall shakes and falls. */
  readonly height: number;
  /** Lack of area that stands on the plate. */
  readonly footprint: number;
  /** Area that supports leave rough, where it shows. */
  readonly scars: number;
  /** Tall thin columns of support. */
  readonly thinColumns: number;
  /** Lack of strength of the weakest arm, by the direction of the layers. */
  readonly layers: number;
}

export type OrientationWeightName = keyof OrientationWeights;

export const defaultOrientationWeights: OrientationWeights = {
  hours: 1,
  support: 1,
  height: 0.3,
  footprint: 0.3,
  scars: 0.5,
  thinColumns: 1,
  layers: 1,
};

export const orientationWeightNames = Object.keys(defaultOrientationWeights) as OrientationWeightName[];

/** The most that a weight may be. */
export const greatestOrientationWeight = 100;
