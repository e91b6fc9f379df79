import type { TakenField } from "../../head/readings";
import { type Extent, frontView, pictureView, sideView, type View } from "../sheet/projection";

/** One picture of a drawing: from where, and what of the head's frame it shows, mm. */
export interface MeasureView {
  readonly view: View;
  readonly window: Extent;
  /** What is written under it. */
  readonly caption: string;
}

const whole: Extent = { left: -145, right: 145, bottom: -152, top: 172 };

const front: MeasureView = { view: frontView, window: whole, caption: "front" };
const side: MeasureView = { view: sideView, window: whole, caption: "right side" };
const angle: MeasureView = {
  view: pictureView("picture", "at an angle", 38, 16),
  window: whole,
  caption: "at an angle",
};
const behind = pictureView("back-picture", "from behind", 180, 0);

/** From where a measure is drawn. */
export const MEASURE_VIEWS: Readonly<Record<TakenField, readonly MeasureView[]>> = {
  girth: [side, angle],
  length: [side],
  breadth: [front],
  crownHeight: [front, side],
  bitragionArc: [front, side],
  earLength: [{ ...side, window: { left: -95, right: 55, bottom: -85, top: 75 } }],
  earProtrusion: [
    { view: behind, window: { left: -10, right: 140, bottom: -95, top: 65 }, caption: "from behind" },
  ],
  interpupillaryDistance: [{ ...front, window: { left: -95, right: 95, bottom: -105, top: 85 } }],
  neckGirth: [side, angle],
};
