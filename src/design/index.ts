/**
 * The language of a design file: what it imports from `anadem`. Millimetres, degrees; head frame with +X the
 * wearer's right, +Y forward, +Z up.
 */
export { type Arc, arc } from "./arc";
export { type BandOptions, band } from "./band";
export { group, mirrored, type Parts, repeatedAround } from "./group";
export { type DesignHead, onHead } from "./head";
export { type Headpiece, type HeadpieceOptions, headpiece, type Make } from "./headpiece";
export type { HeadCoordinates, HeadPlace } from "./headSpace";
export { angle, choice, count, length, type NumberOptions, type Parameter, toggle } from "./parameters";
export { helix, Path, pulledBy, spiralAround, straight, through } from "./path";
export type { Placement } from "./placement";
export { PathPoint, Point, type PointLike } from "./point";
export { type Prop, type PropOptions, prop } from "./prop";
export type { Random } from "./random";
export type { Region, RegionName } from "./region";
export { resting } from "./resting";
export type { Section } from "./section";
export { type Cut, channel, combSlot, cut, type From, hole, type Solid, socket, solid } from "./solid";
export { alongHead } from "./surfacePath";
export type { Tip } from "./tip";
export { type Radius, type Tube, type TubeOptions, tube } from "./tube";
