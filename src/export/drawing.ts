import { boxOf, boxSize } from "../checks/massProperties";
import type { PartMesh, TriangleMesh } from "../geometry/mesh";
import { furniture } from "./sheet/furniture";
import { type Placed, placeViews, sheet } from "./sheet/layout";
import { palette } from "./sheet/palette";
import {
  type Extent,
  extentOf,
  frontView,
  joined,
  pictureView,
  sideView,
  topView,
  type View,
} from "./sheet/projection";
import { sheetDimensions } from "./sheet/sheetDimensions";
import { viewPicture } from "./sheet/viewPicture";

/** What the drawing sheet shows. */
export interface DrawingInput {
  readonly piece: PartMesh;
  /** The bare head form, in the same frame. */
  readonly head: TriangleMesh;
  readonly headpiece: string;
  readonly wearer: string;
  readonly material: string;
  /** g */
  readonly massPrinted: number;
  /** g */
  readonly massSolid: number;
  readonly cautions: readonly string[];
}

/**
 * The drawing sheet: an A3 sheet in SVG with front, side and top views to one scale in first-angle projection, pictures
 * from the front left and the back right, the head's outline inside, overall dimensions in mm, a scale bar and a title block. It holds no
 * date, no script and nothing from outside: the same input gives the same text.
 * @throws RangeError when the piece has no triangles or a vertex is not finite.
 */
export function drawingSheet(input: DrawingInput): string {
  const { piece, head } = input;
  const box = boxOf(piece);
  const shownHead = head.triangles.length > 0 ? head : undefined;
  const windowOf = (view: View, neck = -122): Extent => {
    const ofPiece = extentOf(piece, view);
    if (shownHead === undefined) return ofPiece;
    const ofHead = extentOf(shownHead, view);
    const both = joined(ofPiece, ofHead);
    // Below the chin there is nothing to see: the neck is cut off.
    const floor = Math.min(ofPiece.bottom - 8, neckCut(view, ofHead, neck));
    return { ...both, bottom: view.name === "top" ? both.bottom : Math.max(both.bottom, floor) };
  };
  const layout = placeViews(
    { view: frontView, window: windowOf(frontView) },
    { view: sideView, window: windowOf(sideView) },
    { view: topView, window: windowOf(topView) },
  );
  const pictures = [
    placePicture(pictureView("picture", "from the front left, not to scale", -32, 24), windowOf, layout.free),
    placePicture(
      pictureView("back-picture", "from the back right", 140, 30),
      (view) => windowOf(view, -60),
      layout.freeBelowSide,
    ),
  ].filter((placed) => placed !== undefined);
  const { width, height } = sheet;
  return `${[
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}">`,
    `<rect width="${width}" height="${height}" fill="${palette.paper}"/>`,
    ...[...layout.placed, ...pictures].map((placed) => viewPicture({ piece, head, ...placed })),
    ...sheetDimensions(layout.placed, box, shownHead),
    furniture(input, layout.placed, pictures, boxSize(box), layout.reduction),
    "</svg>",
  ].join("\n")}\n`;
}

/** Where the neck is cut off in a view, mm along its up, from its height in the head's frame: −122 is past every chin. */
function neckCut(view: View, ofHead: Extent, neck: number): number {
  return view.up[2] > 0.5 ? Math.max(ofHead.bottom, neck * view.up[2]) : ofHead.bottom;
}

/** A picture in what room is free, at any scale; none when that is less than 50 mm. */
function placePicture(view: View, windowOf: (view: View) => Extent, free: Extent): Placed | undefined {
  const window = windowOf(view);
  const wide = free.right - free.left;
  const high = free.bottom - free.top;
  if (wide < 50 || high < 50) return undefined;
  const reduction = Math.max((window.right - window.left) / wide, (window.top - window.bottom) / high);
  const width = (window.right - window.left) / reduction;
  const height = (window.top - window.bottom) / reduction;
  return {
    view,
    window,
    reduction,
    at: [free.left + (wide - width) / 2, free.top + (high - height) / 2],
  };
}
