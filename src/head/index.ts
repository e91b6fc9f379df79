export { type Completion, completeMeasurements } from "./completeMeasurements";
export * from "./coordinates";
export { GrownHead, type GrownHeadData } from "./grownHead";
export * from "./hatSize";
export { buildHeadForm, type Growth, HeadForm, type HeadFormData } from "./headForm";
export { COARSE, FINE, type MeshResolution } from "./headMesh";
export { HeadSurface, type Nearest } from "./headSurface";
export { LANDMARKS, type Landmark } from "./landmarks";
export * from "./measureMesh";
export {
  type Estimate,
  type GivenMeasurements,
  type MeasureField,
  type Measurements,
  USUAL_HAIR_THICKNESS,
} from "./measurements";
export { LINES, type LineName } from "./namedLines";
export { hairlineElevation, hairShare, inRegion, REGIONS, type Region } from "./regions";
export * from "./units";
export * from "./wearer";
