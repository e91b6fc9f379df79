import type { Box } from "../../checks/massProperties";
import type { TriangleMesh } from "../../geometry/mesh";
import { dot, type Vec3 } from "../../geometry/vector";
import { dimension } from "./dimension";
import type { Placed } from "./layout";
import { extentOf } from "./projection";

/** A length in mm as dimensions give it: a tenth at most. */
export const millimetres = (value: number): string => String(Math.round(value * 10) / 10);

/** The overall dimensions: width under the front view, height beside it, depth under the side view, reach over the head. */
export function sheetDimensions(
  [front, side, top]: readonly [Placed, Placed, Placed],
  { least, most }: Box,
  head: TriangleMesh | undefined,
): string[] {
  const bottomOf = ({ at, window, reduction }: Placed): number =>
    at[1] + (window.top - window.bottom) / reduction;
  const lines = [
    dimension({
      name: "width",
      from: paper(front, [most[0], 0, least[2]]),
      to: paper(front, [least[0], 0, least[2]]),
      line: bottomOf(front) + 6,
      way: "level",
      text: millimetres(most[0] - least[0]),
    }),
    dimension({
      name: "height",
      from: paper(front, [most[0], 0, least[2]]),
      to: paper(front, [most[0], 0, most[2]]),
      line: Math.min(front.at[0], top.at[0]) - 7,
      way: "upright",
      text: millimetres(most[2] - least[2]),
    }),
    dimension({
      name: "depth",
      from: paper(side, [0, least[1], least[2]]),
      to: paper(side, [0, most[1], least[2]]),
      line: bottomOf(side) + 6,
      way: "level",
      text: millimetres(most[1] - least[1]),
    }),
  ];
  if (head !== undefined) {
    const crown = extentOf(head, side.view).top;
    const reach = most[2] - crown;
    if (reach > 5) {
      const right = side.at[0] + (side.window.right - side.window.left) / side.reduction;
      lines.push(
        dimension({
          name: "above the head",
          from: paper(side, [0, 0, crown]),
          to: paper(side, [0, most[1], most[2]]),
          line: right + 6,
          way: "upright",
          text: millimetres(reach),
        }),
      );
    }
  }
  return lines;
}

/** Where a point lies on paper in a view, mm. */
export function paper({ view, window, at, reduction }: Placed, point: Vec3): [number, number] {
  return [
    at[0] + (dot(point, view.right) - window.left) / reduction,
    at[1] + (window.top - dot(point, view.up)) / reduction,
  ];
}
