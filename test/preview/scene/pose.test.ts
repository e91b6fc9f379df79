import { describe, expect, test } from "vitest";
import {
  axesOf,
  between,
  lookFrom,
  orbited,
  type Pose,
  panned,
  poseOf,
  stateOf,
  zoomed,
} from "../../../src/preview/scene/pose";
import { dot } from "../../../src/preview/scene/vector";

const pose: Pose = { azimuth: -34, elevation: 17, target: [3, -5, 60], span: 300 };
const near = (a: readonly number[], b: readonly number[], digits = 9) =>
  a.forEach((value, i) => {
    expect(value).toBeCloseTo(b[i], digits);
  });

describe("views: +X is the wearer's right, +Y forward, +Z up", () => {
  test.each([
    ["front", [0, 1, 0], [0, 0, 1], [-1, 0, 0]],
    ["back", [0, -1, 0], [0, 0, 1], [1, 0, 0]],
    ["left", [-1, 0, 0], [0, 0, 1], [0, -1, 0]],
    ["right", [1, 0, 0], [0, 0, 1], [0, 1, 0]],
    ["top", [0, 0, 1], [0, -1, 0], [-1, 0, 0]],
    ["plate", [0, 0, -1], [0, 1, 0], [-1, 0, 0]],
  ] as const)("%s is seen from %j", (view, direction, up, right) => {
    const axes = axesOf(lookFrom(view));
    near(axes.direction, direction);
    near(axes.up, up);
    near(axes.right, right);
  });

  test("a leaning plate is seen along its normal, from under it", () => {
    const up = [Math.sin(0.4) * Math.sin(1), Math.sin(0.4) * Math.cos(1), Math.cos(0.4)] as const;
    near(
      axesOf(lookFrom("plate", up)).direction,
      up.map((value) => -value),
    );
  });
});

describe("orbit", () => {
  test("axes stay square and of length 1 at every pose, poles too", () => {
    for (const elevation of [-90, -89.999, -30, 0, 45, 89.999, 90]) {
      for (const azimuth of [-180, -77, 0, 13, 90, 179]) {
        const { direction, up, right } = axesOf({ azimuth, elevation });
        for (const axis of [direction, up, right]) expect(Math.hypot(...axis)).toBeCloseTo(1, 12);
        for (const [a, b] of [
          [direction, up],
          [up, right],
          [right, direction],
        ]) {
          expect(dot(a, b)).toBeCloseTo(0, 12);
        }
        // The picture's right, up and towards the eye are right-handed.
        expect(
          right[0] * (up[1] * direction[2] - up[2] * direction[1]) +
            right[1] * (up[2] * direction[0] - up[0] * direction[2]) +
            right[2] * (up[0] * direction[1] - up[1] * direction[0]),
        ).toBeCloseTo(1, 12);
      }
    }
  });

  test("stops at the poles and never turns the piece upside down", () => {
    let turned = pose;
    for (let i = 0; i < 100; i++) {
      turned = orbited(turned, 7, 11);
      expect(axesOf(turned).up[2]).toBeGreaterThanOrEqual(-1e-12);
    }
    expect(turned.elevation).toBe(90);
    expect(orbited(turned, 0, -400).elevation).toBe(-90);
  });

  test("to the right moves the camera to the picture's right", () => {
    const before = axesOf(pose);
    const after = axesOf(orbited(pose, 5, 0));
    expect(dot(after.direction, before.right)).toBeGreaterThan(0);
    expect(dot(axesOf(orbited(pose, 0, 5)).direction, before.up)).toBeGreaterThan(0);
  });

  test("a whole turn comes back", () => {
    expect(orbited(pose, 360, 0).azimuth).toBeCloseTo(pose.azimuth, 9);
    expect(orbited({ ...pose, azimuth: -179 }, 2, 0).azimuth).toBeCloseTo(179, 9);
  });
});

describe("pan and zoom", () => {
  test("a pan by one height moves the target by the span, across the line of sight", () => {
    const { target } = panned(pose, 1, 0);
    const moved = target.map((value, i) => value - pose.target[i]);
    expect(Math.hypot(...moved)).toBeCloseTo(pose.span, 9);
    expect(dot(moved as [number, number, number], axesOf(pose).direction)).toBeCloseTo(0, 9);
  });

  test.each([
    [2, 0.3, -0.2],
    [0.5, -0.4, 0.1],
    [1.07, 0.5, 0.5],
  ])("zoom by %d keeps what is under the pointer", (factor, x, y) => {
    const under = (at: Pose) => {
      const { right, up } = axesOf(at);
      return at.target.map((value, i) => value + at.span * (x * right[i] + y * up[i]));
    };
    const after = zoomed(pose, factor, x, y);
    expect(after.span).toBeCloseTo(pose.span / factor, 9);
    near(under(after), under(pose));
  });

  test("zoom ends before nothing can be seen", () => {
    expect(zoomed(pose, 1e9).span).toBeGreaterThan(0);
    expect(zoomed(pose, 1e-9).span).toBeLessThan(Infinity);
    // At the end the picture does not drift.
    const end = zoomed(pose, 1e9);
    near(zoomed(end, 2, 0.5, 0.5).target, end.target);
  });
});

describe("state", () => {
  test.each([
    [-34, 17],
    [180, 0],
    [25, 90],
    [-140, -90],
    [90, -45],
  ])("azimuth %d, elevation %d survive being kept", (azimuth, elevation) => {
    const kept = poseOf(JSON.parse(JSON.stringify(stateOf({ ...pose, azimuth, elevation }))));
    const [was, is] = [axesOf({ azimuth, elevation }), axesOf(kept)];
    near(is.direction, was.direction, 6);
    near(is.up, was.up, 6);
    expect(kept.span).toBe(pose.span);
  });

  test("nonsense is refused", () => {
    const state = stateOf(pose);
    expect(() => poseOf({ ...state, span: 0 })).toThrow(RangeError);
    expect(() => poseOf({ ...state, span: Number.NaN })).toThrow(RangeError);
    expect(() => poseOf({ ...state, direction: [0, 0, 0] })).toThrow(RangeError);
    expect(() => poseOf({ ...state, target: [Number.NaN, 0, 0] })).toThrow(RangeError);
  });
});

test("a turn goes the short way and ends where it should", () => {
  const to = { ...pose, azimuth: 170, span: 75 };
  const from = { ...pose, azimuth: -170, span: 300 };
  expect(between(from, to, 0.5).azimuth).toBeCloseTo(180, 9);
  expect(between(from, to, 0.5).span).toBeCloseTo(150, 9);
  expect(between(from, to, 1)).toEqual({ ...to, azimuth: expect.closeTo(170, 9) });
});
