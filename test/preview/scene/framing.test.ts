import { OrthographicCamera, PerspectiveCamera, Vector3 } from "three";
import { describe, expect, test } from "vitest";
import { CameraRig } from "../../../src/preview/scene/cameraRig";
import { framed } from "../../../src/preview/scene/framing";
import { openingAngle, type Pose } from "../../../src/preview/scene/pose";
import { ball, cube } from "./shapes";

const pose: Pose = { azimuth: 40, elevation: 20, target: [0, 0, 0], span: 100 };
const still = { onMove: () => {}, onRest: () => {} };
const all = { middle: [0, 0, 0] as const, radius: 500 };

const rigAt = (at: Pose, projection: "perspective" | "parallel") => {
  const rig = new CameraRig(at, still);
  rig.projection = projection;
  return rig;
};

describe("framed", () => {
  test("a ball fills the height but for the margin, as its tangent cone says", () => {
    const radius = 80;
    const { span, target } = framed(pose, [ball(radius, 96, 48).positions], 2, 0);
    // The cone that touches a ball of radius r from distance d opens by 2 asin(r / d).
    const half = (openingAngle / 2) * (Math.PI / 180);
    expect(span / 2 / Math.tan(half)).toBeCloseTo(radius / Math.sin(half), 0);
    expect(Math.hypot(...target)).toBeLessThan(0.5);
  });

  test.each([0.4, 1, 2.5])(
    "at aspect %d no point is outside in either projection, and one touches",
    (aspect) => {
      const clouds = [cube(60, [20, 40, 110]).positions, ball(90).positions];
      const at = framed(pose, clouds, aspect, 0);
      for (const projection of ["perspective", "parallel"] as const) {
        const rig = rigAt(at, projection);
        let most = 0;
        for (const cloud of clouds) {
          for (let p = 0; p < cloud.length; p += 3) {
            const { x, y } = rig.seen([cloud[p], cloud[p + 1], cloud[p + 2]]);
            most = Math.max(most, Math.abs(y) / 0.5, Math.abs(x) / (0.5 * aspect));
          }
        }
        expect(most).toBeLessThan(1.02);
        expect(most).toBeGreaterThan(0.75);
      }
    },
  );

  test("nothing to frame changes nothing", () => {
    expect(framed(pose, [], 1)).toBe(pose);
    expect(framed(pose, [new Float32Array(0)], 1)).toBe(pose);
  });
});

describe("cameras", () => {
  test("both projections show the span at the target", () => {
    for (const projection of ["perspective", "parallel"] as const) {
      const rig = rigAt(pose, projection);
      const camera = rig.camera(1.5, all);
      expect(camera).toBeInstanceOf(projection === "parallel" ? OrthographicCamera : PerspectiveCamera);
      camera.matrixWorldInverse.copy(camera.matrixWorld).invert();
      const up = new Vector3().setFromMatrixColumn(camera.matrixWorld, 1).multiplyScalar(pose.span / 2);
      expect(up.project(camera as PerspectiveCamera).y).toBeCloseTo(1, 6);
    }
  });

  test.each(["perspective", "parallel"] as const)(
    "in the %s picture rays, places and camera agree",
    (projection) => {
      const rig = rigAt({ ...pose, target: [12, -7, 30] }, projection);
      const camera = rig.camera(1.5, all);
      for (const point of [
        [0, 0, 0],
        [40, 10, 60],
        [-30, 25, -10],
      ] as const) {
        const { x, y } = rig.seen(point);
        const shown = new Vector3(...point).project(camera as PerspectiveCamera);
        expect(shown.y).toBeCloseTo(2 * y, 5);
        expect(shown.x * 1.5).toBeCloseTo(2 * x, 5);
        expect(Math.abs(shown.z)).toBeLessThan(1);
        // The ray through that place passes through the point.
        const { origin, direction } = rig.ray(x, y);
        const way = point.map((value, i) => value - origin[i]);
        const along = way.reduce((sum, value, i) => sum + value * direction[i], 0);
        expect(Math.hypot(...way) ** 2 - along ** 2).toBeLessThan(1e-3);
      }
    },
  );
});
