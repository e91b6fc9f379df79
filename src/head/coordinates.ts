/** A place on the head, degrees: azimuth 0 front, 90 right, 180 back, -90 left; elevation 0 girth, 90 crown. */
export interface HeadDirection {
  readonly azimuth: number;
  readonly elevation: number;
}

/** A place on or off the head: `lift` is the distance off the surface along its normal, mm. */
export interface HeadCoordinates extends HeadDirection {
  readonly lift: number;
}

/** A line on the head: its places and its points, mm. */
export interface SurfaceLine {
  readonly coordinates: readonly HeadDirection[];
  readonly points: readonly (readonly [number, number, number])[];
  readonly closed: boolean;
}
