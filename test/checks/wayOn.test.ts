import { beforeAll, describe, expect, it } from "vitest";
import { type WayOn, wayOn } from "../../src/checks/wayOn";
import { WornHead } from "../../src/checks/wornHead";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { solidOfMesh } from "../../src/geometry/solid/body";
import { type Kernel, loadKernel, Scope } from "../../src/geometry/solid/kernel";
import type { Vec3 } from "../../src/geometry/vector";
import { limitsOf } from "../../src/wearLimits";
import { bowHead, bowRing, capOf, ellipseTube, extent } from "./passage/passageBodies";
import { box, ellipsoid, insideOut, moved, together, turned } from "./shapes";
import { formOf, headOf, partOf, pieceOf } from "./wornBodies";

const limits = limitsOf();
const form = formOf();
const head = headOf(undefined, {}, form);
const mesh = head.bare.mesh;

/** A ring round the head at a height, with some play, more of it in front. */
function ringAt(
  z: number,
  play: number,
  frontPlay = play,
  arc: readonly [number, number] = [0, 360],
): TriangleMesh {
  const { left, right, back, front } = extent(mesh, z, 5);
  const [from, to] = [back - play - 3, front + frontPlay + 3];
  return ellipseTube([(right - left) / 2 + play + 3, (to - from) / 2], [0, (from + to) / 2, z], 3, arc);
}

const ids = ({ findings }: WayOn): string[] => findings.map(({ id }) => id);
const straight = ({ ways }: WayOn) => ways[0];
const errorOf = (found: WayOn) => found.findings.find(({ severity }) => severity === "error");

describe("a cap on the head form", () => {
  let kernel: Kernel;
  beforeAll(async () => {
    kernel = await loadKernel();
  });

  /** From 1 to 5 mm off the head, down to a height, less some boxes. */
  function cap(z: number, cuts: readonly TriangleMesh[] = []): TriangleMesh {
    const scope = new Scope();
    const solid = (body: TriangleMesh) => scope.hold(solidOfMesh(kernel, body, "cap"));
    const shell = scope.hold(
      solid(form.grown({ offset: 5, hairThickness: 0 }).mesh()).subtract(
        solid(form.grown({ offset: 1, hairThickness: 0 }).mesh()),
      ),
    );
    let left = scope.hold(shell.trimByPlane([0, 0, 1], z));
    for (const cut of cuts) left = scope.hold(left.subtract(solid(cut)));
    const { vertProperties, triVerts } = left.getMesh();
    scope.dispose();
    return { positions: vertProperties, triangles: triVerts };
  }

  /** How far the inner edge at a height is within the shadow of the head above it: the shadow's outline is convex. */
  function lackingAt(z: number): number {
    const shadow: [number, number][] = [];
    for (let i = 0; i < mesh.positions.length; i += 3) {
      if (mesh.positions[i + 2] > z) shadow.push([mesh.positions[i], mesh.positions[i + 1]]);
    }
    const inner = form.grown({ offset: 1, hairThickness: 0 }).mesh();
    // The farthest that the shadow reaches each way.
    const ways = Array.from({ length: 720 }, (_, k): [number, number, number] => {
      const [c, d] = [Math.cos((k * Math.PI) / 360), Math.sin((k * Math.PI) / 360)];
      return [c, d, shadow.reduce((most, [a, b]) => Math.max(most, a * c + b * d), -Infinity)];
    });
    let lacking = 0;
    for (const [x, y] of levelPoints(inner, z)) {
      const out = ways.reduce((least, [c, d, reach]) => Math.min(least, reach - x * c - y * d), Infinity);
      lacking = Math.max(lacking, out);
    }
    return lacking;
  }

  /** Where edges of a mesh cross a height. */
  function levelPoints({ positions, triangles }: TriangleMesh, z: number): [number, number][] {
    const points: [number, number][] = [];
    for (let corner = 0; corner < triangles.length; corner++) {
      const a = 3 * triangles[corner];
      const b = 3 * triangles[corner % 3 === 2 ? corner - 2 : corner + 1];
      const [below, above] = [positions[a + 2] - z, positions[b + 2] - z];
      if (!(below < 0 && above >= 0)) continue;
      const t = below / (below - above);
      points.push(
        [0, 1].map((axis) => positions[a + axis] + t * (positions[b + axis] - positions[a + axis])) as [
          number,
          number,
        ],
      );
    }
    return points;
  }

  const past = 26;

  it("goes straight on where it ends above the greatest girth, and nothing is said", () => {
    const found = wayOn(pieceOf(cap(48)), head, limits);
    expect(found).toMatchObject({ passes: true, passesPressed: true, best: 0, findings: [] });
    expect(found.ways).toHaveLength(1);
    expect(straight(found)).toMatchObject({
      kind: "straight",
      tooSmallBare: 0,
      off: { direction: [0, 0, 1] },
    });
    expect(straight(found).roomBare).toBeGreaterThan(0.8);
    expect(straight(found).roomBare).toBeLessThan(1.2);
  });

  it("cannot be put on where it reaches past the greatest girth, with the mm right", () => {
    const found = wayOn(pieceOf(cap(past)), head, limits);
    expect(found).toMatchObject({ passes: false, passesPressed: false });
    const expected = lackingAt(past);
    expect(expected).toBeGreaterThan(1);
    expect(Math.abs(straight(found).tooSmallBare - expected)).toBeLessThan(0.15);
    const error = errorOf(found);
    expect(error).toMatchObject({
      id: "cannot-be-put-on",
      check: "wayOn",
      part: "part 1",
      file: "tide.headpiece.ts",
      line: 1,
      unit: "mm",
      value: found.ways[found.best].tooSmallBare,
      limit: { name: "passageTight", value: limits.passageTight.value },
    });
    expect(error?.text).toContain(`${found.ways[found.best].tooSmallBare.toFixed(1)} mm too small`);
  });

  it("goes on when it is cut as proposed, and not when the cut is much narrower", () => {
    const closed = wayOn(pieceOf(cap(past)), head, limits);
    const proposed = closed.opening;
    if (proposed === undefined) throw new Error("no opening");
    expect(errorOf(closed)?.suggestion).toContain(
      `open it at the ${proposed.side}, ${Math.ceil(proposed.width)} mm wide`,
    );
    // The narrowest is at the front or the back: the head is longer than it is broad.
    expect(["front", "back"]).toContain(proposed.side);
    const middleY = (form.landmarks.brow[1] + form.landmarks.back[1]) / 2;
    const outwards = proposed.side === "front" ? 1 : -1;
    const [begin, end] = [middleY + outwards * proposed.from, 300 * outwards];
    const cutOf = (share: number): TriangleMesh =>
      box(
        [proposed.middle - (share * proposed.width) / 2, Math.min(begin, end), proposed.zFrom - 1],
        [proposed.middle + (share * proposed.width) / 2, Math.max(begin, end), proposed.zTo],
      );
    const opened = wayOn(pieceOf(cap(past, [cutOf(1)])), head, limits);
    expect(opened).toMatchObject({ passes: true, passesPressed: true });
    expect(errorOf(opened)).toBeUndefined();
    expect(wayOn(pieceOf(cap(past, [cutOf(0.4)])), head, limits).passes).toBe(false);
  });

  it("goes on from the front when its whole back is open", () => {
    const found = wayOn(pieceOf(cap(past, [box([-200, -300, -50], [200, 0, 110])])), head, limits);
    expect(found.passes).toBe(true);
  });
});

describe("rings", () => {
  it("at the girth goes on", () => {
    const found = wayOn(pieceOf(ringAt(form.landmarks.brow[2], 8)), head, limits);
    expect(found).toMatchObject({ passes: true, passesPressed: true });
    expect(errorOf(found)).toBeUndefined();
  });

  it("below the ears cannot be put on, and the ear is named", () => {
    const found = wayOn(pieceOf(ringAt(-45, 8, 20)), head, limits);
    expect(found.passes).toBe(false);
    expect(found.ways[found.best].place).toMatch(/at the (left|right) ear/);
    expect(found.ways[found.best].tooSmallBare).toBeLessThan(straight(found).tooSmallBare);
    expect(errorOf(found)?.text).toMatch(/at the (left|right) ear/);
    // On the midline the back of the head stands out over the ring by so much; a little more beside it.
    const [over, own] = [extent(mesh, form.landmarks.back[2], 5), extent(mesh, -45, 5)];
    const onMidline = own.back - 8 - over.back;
    expect(straight(found).tooSmallBare).toBeGreaterThan(onMidline - 0.5);
    expect(straight(found).tooSmallBare).toBeLessThan(onMidline + 4);
  });

  it("of which half is open go on from the front, where straight down the nose is in the way", () => {
    const half = ringAt(-45, 4, 2, [-70, 70]);
    const found = wayOn(pieceOf(half), head, limits);
    expect(straight(found).tooSmallBare).toBeGreaterThan(2);
    expect(straight(found).place).toBe("at the nose");
    expect(found).toMatchObject({ passes: true, passesPressed: true });
    const best = found.ways[found.best];
    if (best.off.kind !== "slide") throw new Error("not a slide");
    expect(best.off.direction[1]).toBeGreaterThan(0.3);
    expect(ids(found)).toEqual(["way-on"]);
    expect(found.findings[0].text).toMatch(/slide it (down|on).* from the front/);
    // Its twin is closed.
    expect(ids(wayOn(pieceOf(ringAt(-45, 4, 2)), head, limits))).toContain("cannot-be-put-on");
  });

  it("that only turn off do so", () => {
    const found = wayOn(pieceOf(bowRing(43)), headOf(bowHead(40, 41)), limits);
    expect(found).toMatchObject({ passes: true, passesPressed: true });
    expect(found.ways[found.best]).toMatchObject({ kind: "hinge", off: { edge: "front", axis: [-1, 0, 0] } });
    expect(found.ways.filter((way) => way.kind !== "hinge").every((way) => way.tooSmallBare > 5)).toBe(true);
    expect(found.findings[0].text).toContain("set its front edge on the head first");
    // Its twin meets the swell of the bow.
    const twin = wayOn(pieceOf(bowRing(43)), headOf(bowHead(40, 46)), limits);
    expect(twin.passes).toBe(false);
    // The best axis is not quite that of the bow.
    const least = Math.min(...twin.ways.map((way) => way.tooSmallBare));
    expect(Math.abs(least - 3)).toBeLessThan(1);
  });
});

describe("a cap on a sphere", () => {
  const sphere = ellipsoid(90, 90, 90, 80, 120);
  it("past the equator: straight is the best, and too small by R(1 − sin θ)", () => {
    const found = wayOn(pieceOf(capOf(90, 115)), headOf(sphere), limits);
    expect(found).toMatchObject({ passes: false, best: 0 });
    expect(straight(found).tooSmallBare / (90 * (1 - Math.sin((115 * Math.PI) / 180)))).toBeCloseTo(1, 2);
  });

  it("that enters the head says so, and is judged from the skin on", () => {
    const shallow = wayOn(pieceOf(capOf(88, 80, 6)), headOf(sphere), limits);
    expect(shallow.entersAtSeat).toBeCloseTo(2, 1);
    expect(shallow.passes).toBe(true);
    expect(ids(shallow)).toEqual(["way-on-from-skin"]);
    const deep = wayOn(pieceOf(capOf(88, 115, 6)), headOf(sphere), limits);
    expect(ids(deep)).toEqual(["cannot-be-put-on", "way-on-from-skin"]);
    expect(Math.abs(straight(deep).tooSmallBare - 90 * (1 - Math.sin((115 * Math.PI) / 180)))).toBeLessThan(
      0.5,
    );
  });

  it("is held against the limit that is set", () => {
    const piece = pieceOf(capOf(90, 105));
    // It lacks 3.07 mm.
    expect(wayOn(piece, headOf(sphere), limitsOf({ design: { passageTight: 2.5 } })).passes).toBe(false);
    expect(wayOn(piece, headOf(sphere), limitsOf({ design: { passageTight: 3.5 } })).passes).toBe(true);
    const roomy = pieceOf(capOf(94, 80));
    expect(wayOn(roomy, headOf(sphere), limitsOf({ design: { passageTight: -3 } })).passes).toBe(true);
    expect(wayOn(roomy, headOf(sphere), limitsOf({ design: { passageTight: -5 } })).passes).toBe(false);
  });
});

describe("hair pressed flat", () => {
  it("is warned of where the bare head gets through alone", () => {
    const piece = pieceOf(ringAt(45, 5));
    const thin = wayOn(piece, headOf(undefined, { hair: 1, hairPressed: 1 }, form), limits);
    expect(thin).toMatchObject({ passes: true, passesPressed: true });
    expect(ids(thin)).not.toContain("tight-over-hair");
    // A shell that is open upwards keeps the hair of all that is above it.
    const low = pieceOf(ringAt(32, 6));
    const bald = wayOn(low, headOf(undefined, { hair: 0, hairPressed: 0 }, form), limits);
    expect(bald.passes).toBe(true);
    const thick = wayOn(low, headOf(undefined, { hair: 20, hairPressed: 12 }, form), limits);
    expect(thick).toMatchObject({ passes: true, passesPressed: false });
    const warning = thick.findings.find(({ id }) => id === "tight-over-hair");
    expect(warning).toMatchObject({ severity: "warning", part: "part 1", line: 1 });
    expect(warning?.value).toBe(thick.ways[thick.best].tooSmallPressed);
  });
});

describe("the parts in the way", () => {
  it("are named, the worst first, and told to be moved where they are few", () => {
    const [nape, mouth] = [extent(mesh, -60, 5).back, extent(mesh, -40, 5).front];
    const ring = ringAt(45, 9);
    const behind = (y: number): TriangleMesh => box([-4, y - 13, -64], [4, y + 13, -56]);
    const inFront = (y: number): TriangleMesh => box([-4, y - 13, -42], [4, y + 13, -36]);
    const names = ["ring", "front spur", "back spur"];
    const parts = names.map((name, i) => partOf(name, i + 10));
    const found = wayOn(pieceOf([ring, inFront(mouth + 15), behind(nape - 15)], { parts }), head, limits);
    expect(found.passes).toBe(false);
    expect(straight(found).parts).toEqual(["back spur", "front spur"]);
    expect(new Set(found.toMove?.map(({ part }) => part))).toEqual(new Set(["back spur", "front spur"]));
    // On the best way either may be the worst.
    const [worst, other] = found.ways[found.best].parts;
    const error = errorOf(found);
    expect(error).toMatchObject({ part: worst, line: names.indexOf(worst) + 10 });
    expect(error?.notes?.[0]).toMatchObject({ line: names.indexOf(other) + 10 });
    expect(error?.notes?.[0].text).toContain(`"${other}"`);
    expect(error?.suggestion).toMatch(/move "\w+ spur" by \d+ mm and "\w+ spur" by \d+ mm off the head/);
    // Their twin stands off the head.
    const free = wayOn(pieceOf([ring, inFront(mouth + 33), behind(nape - 40)], { parts }), head, limits);
    expect(free).toMatchObject({ passes: true });
    expect(free.toMove).toBeUndefined();
  });
});

describe("what no opening helps", () => {
  it("is said", () => {
    const found = wayOn(pieceOf(capOf(90.5, 170)), headOf(ellipsoid(90, 90, 90, 60, 90)), limits);
    expect(found.passes).toBe(false);
    expect(found.opening).toBeUndefined();
    expect(errorOf(found)?.suggestion).toContain("no opening of one side helps");
  });
});

describe("whatever comes", () => {
  const isPlain = (found: WayOn): void => {
    expect(structuredClone(found)).toEqual(found);
    expect(JSON.parse(JSON.stringify(found))).toEqual(found);
  };
  const comb = box([-30, -5, form.landmarks.crown[2] + 1], [30, 5, form.landmarks.crown[2] + 6]);

  it("a comb on top goes straight on, with room", () => {
    const found = wayOn(pieceOf(comb), head, limits);
    expect(found).toMatchObject({ passes: true, best: 0, ways: [{ kind: "straight", roomBare: 12 }] });
    expect(ids(found)).toEqual(["way-on-free"]);
    isPlain(found);
  });

  it.each([
    ["far away", moved(comb, [4000, -3000, 9000])],
    ["tiny", moved(box([0, 0, 0], [0.01, 0.01, 0.01]), [0, 0, 200])],
    ["within the head", box([-5, -5, 20], [5, 5, 30])],
    ["inside out", insideOut(ringAt(50, 5))],
    ["round the neck", ringAt(-110, 6)],
    [
      "closed round the head",
      together(ellipsoid(200, 200, 200, 20, 30), insideOut(ellipsoid(190, 190, 190, 20, 30))),
    ],
  ])("a piece %s does not crash it", (_, body) => {
    const found = wayOn(pieceOf(body), head, limits);
    isPlain(found);
    expect(found.ways[found.best]).toBeDefined();
  });

  it("a list of parts that does not match does not crash it", () => {
    const found = wayOn(pieceOf(ringAt(-45, 4), { parts: [] }), head, limits);
    expect(found.passes).toBe(false);
    expect(errorOf(found)?.part).toBeUndefined();
    isPlain(found);
  });

  it("a mesh of a real head may be open and dirty, and the answer stays", () => {
    const closed = wayOn(pieceOf(ringAt(20, 2)), head, limits);
    const centre = mesh.positions.length / 3;
    const kept = [...mesh.triangles].filter((_, corner) => {
      const t = 3 * Math.floor(corner / 3);
      return [0, 1, 2].every((k) => mesh.positions[3 * mesh.triangles[t + k] + 2] > -60);
    });
    // Triangles twice, without area, and turned inwards.
    const dirty: TriangleMesh = {
      positions: Float32Array.from([...mesh.positions, 0, 0, 0]),
      triangles: Uint32Array.from([
        ...kept,
        ...kept.slice(0, 300),
        centre,
        centre,
        centre,
        ...kept.slice(600, 660).reverse(),
      ]),
    };
    const found = wayOn(
      pieceOf(ringAt(20, 2)),
      new WornHead(form, { ease: 1, hair: 0, hairPressed: 2 }, dirty),
      limits,
    );
    isPlain(found);
    expect(found.passes).toBe(closed.passes);
    expect(straight(found).tooSmallBare).toBeCloseTo(straight(closed).tooSmallBare, 2);
  });

  it("answers the same twice", () => {
    const piece = (): TriangleMesh => ringAt(20, 2);
    expect(wayOn(pieceOf(piece()), head, limits)).toEqual(wayOn(pieceOf(piece()), head, limits));
  });

  it("takes the piece past the head with the slide that it gives", () => {
    const found = wayOn(
      pieceOf(
        turned(
          [
            [0, 135],
            [60, 135],
            [60, 140],
            [0, 140],
          ],
          60,
        ),
      ),
      head,
      limits,
    );
    const { off } = found.ways[found.best];
    if (off.kind !== "slide") throw new Error("not a slide");
    const top = mesh.positions.reduce(
      (most, value, i) => (i % 3 === 2 ? Math.max(most, value) : most),
      -Infinity,
    );
    const lowest: Vec3 = [0, 0, 135];
    expect(lowest[2] + off.distance).toBeGreaterThanOrEqual(top);
  });
});
