import { describe, expect, it } from "vitest";
import { plateFit } from "../../../src/checks/plateFit";
import { Random } from "../../../src/design/random";
import type { Orientation } from "../../../src/orientation";
import { asDesignedOrientation, chooseOrientation } from "../../../src/print/orientation/chosenOrientation";
import { orientationFindings } from "../../../src/print/orientation/orientationFindings";
import type { FoundOrientation, OrientationSearch } from "../../../src/print/orientation/orientationSearch";
import { orientationLine, orientationWords } from "../../../src/print/orientation/orientationWords";
import { plateRoom, roomAt } from "../../../src/print/orientation/plateRoom";
import { orientationOfUp, placedPiece, rotationOf, upOf } from "../../../src/print/placedPiece";
import { box } from "../../checks/shapes";
import { ofOnePart, printer, search } from "./orientationRig";

describe("as designed", () => {
  it("has the side on top that an orientation says", () => {
    // What `upOf` says and what the piece is turned by are one: place by place, by hand.
    const side: [Orientation, readonly number[]][] = [
      [{ tilt: 90, towards: 0, turn: 0 }, [0, 1, 0]],
      [{ tilt: 90, towards: 90, turn: 0 }, [1, 0, 0]],
      [{ tilt: 90, towards: 180, turn: 35 }, [0, -1, 0]],
      [{ tilt: 30, towards: -90, turn: 0 }, [-0.5, 0, Math.sqrt(3) / 2]],
    ];
    for (const [orientation, up] of side) {
      const r = rotationOf(orientation);
      up.forEach((value, axis) => {
        expect(upOf(orientation)[axis]).toBeCloseTo(value, 12);
        expect(r[6 + axis]).toBeCloseTo(value, 12);
      });
    }
  });

  it("is the rotation that the fit to the plate found", () => {
    const seed = 14;
    const random = new Random(seed);
    let tilted = 0;
    for (let round = 0; round < 12; round++) {
      const size = [random.between(20, 300), random.between(20, 260), random.between(20, 280)] as const;
      const mesh = box([0, 0, 0], [size[0], size[1], size[2]]);
      const fit = plateFit(mesh.positions, printer);
      const orientation = asDesignedOrientation(fit);
      const told = `seed ${seed}, round ${round}`;
      if (orientation.tilt > 0.5) tilted++;
      expect(orientation.tilt, told).toBeCloseTo(fit.tilt, 6);
      rotationOf(orientation).forEach((value, i) => {
        expect(value, told).toBeCloseTo(fit.rotation[i], 9);
      });
      const placed = placedPiece(ofOnePart(mesh), orientation, printer.plate);
      placed.size.forEach((value, i) => {
        expect(value, told).toBeCloseTo(fit.size[i], 3);
      });
      const chosen = chooseOrientation("as designed", { mesh, printer, asDesigned: orientation });
      expect(chosen.fits, told).toBe(fit.fits);
    }
    expect(tilted).toBeGreaterThan(1);
  });

  it("is upright, unturned, where it fits so", () => {
    const fit = plateFit(box([0, 0, 0], [100, 50, 20]).positions, printer);
    expect(asDesignedOrientation(fit)).toEqual({ tilt: 0, towards: 0, turn: 0 });
  });
});

describe("the choice", () => {
  const mesh = box([-5, -5, -140], [5, 5, 140]);
  const asDesigned = asDesignedOrientation(plateFit(mesh.positions, printer));

  it("keeps what is given and tells whether it fits", () => {
    const given: Orientation = { tilt: 90, towards: 0, turn: 0 };
    const chosen = chooseOrientation(given, { mesh, printer, asDesigned });
    expect(chosen).toMatchObject({ name: "as given", orientation: given, fits: false });
    expect(chosen.room).toBeCloseTo(-60, 3);
    const across = chooseOrientation({ ...given, turn: 45 }, { mesh, printer, asDesigned });
    expect(across.fits).toBe(true);
    // 280·cos 45° + 10·cos 45°
    expect(across.room).toBeCloseTo(220 - 290 * Math.SQRT1_2, 3);
  });

  it("takes the best of a search, and refuses to guess it", () => {
    const found = search(mesh);
    const chosen = chooseOrientation("best", { mesh, printer, asDesigned, search: found });
    expect(chosen).toMatchObject({ orientation: found.best.orientation, fits: true });
    expect(() => chooseOrientation("best", { mesh, printer, asDesigned })).toThrow(RangeError);
    expect(() =>
      chooseOrientation({ tilt: Number.NaN, towards: 0, turn: 0 }, { mesh, printer, asDesigned }),
    ).toThrow(/tilt is NaN/);
  });

  it("measures room at a turn as the placed piece has it", () => {
    const seed = 6;
    const random = new Random(seed);
    for (let round = 0; round < 20; round++) {
      const orientation: Orientation = {
        tilt: random.between(0, 180),
        towards: random.between(-180, 180),
        turn: random.between(-180, 180),
      };
      const { size } = placedPiece(ofOnePart(mesh), orientation, printer.plate);
      const room = Math.min(220 - size[0], 220 - size[1], 250 - size[2]);
      expect(roomAt(mesh.positions, orientation, printer), `seed ${seed}`).toBeCloseTo(room, 3);
      const up = upOf(orientation);
      const free = plateRoom(mesh.positions, up, printer);
      // A turn of its own leaves no less room than any, but where unturned is enough.
      if (free.turn !== 0) expect(free.room, `seed ${seed}`).toBeGreaterThan(room - 1e-3);
      const turned = roomAt(mesh.positions, orientationOfUp(up, free.turn), printer);
      expect(turned, `seed ${seed}`).toBeCloseTo(free.room, 6);
    }
  });
});

describe("words", () => {
  it("say how a piece stands", () => {
    const words = (tilt: number, towards: number, turn = 0) => orientationWords({ tilt, towards, turn });
    expect(words(0, 0)).toBe("upright");
    expect(words(0, 0, 30)).toBe("upright, turned 30°");
    expect(words(180, 40)).toBe("upside down");
    expect(words(90, 0)).toBe("lying on its back");
    expect(words(88, 180)).toBe("lying on its front");
    expect(words(90, -90)).toBe("lying on its right");
    expect(words(35, 90)).toBe("tilted 35°, its right side up");
    expect(words(35, -180)).toBe("tilted 35°, its back up");
    expect(words(3.24, 44, -20)).toBe("tilted 3.2°, its right front up, turned -20°");
    expect(orientationLine({ tilt: 35, towards: -180, turn: 0 })).toBe(
      "print: { orientation: { tilt: 35, towards: -180, turn: 0 } }",
    );
  });
});

describe("findings of the way up", () => {
  const figures = {
    hours: 20,
    supportVolume: 1,
    contactArea: 1,
    scars: 1,
    height: 100,
    footprint: 10,
    thinColumns: 6,
  };
  const one = (tilt: number, changes: object = {}, cost = 3): FoundOrientation => ({
    names: ["best of all"],
    orientation: { tilt, towards: 180, turn: 0 },
    figures: { ...figures, ...changes },
    cost,
    room: 10,
    fits: true,
  });
  const found = (...all: FoundOrientation[]): OrientationSearch => ({
    printer: "Hall printer",
    found: all,
    asDesigned: all[0],
    best: all.reduce((best, other) => (other.cost < best.cost ? other : best)),
    compared: 500,
    lookedAt: 60,
    references: { hours: 1, support: 1, height: 1, footprint: 1, scars: 1, thinColumns: 1, layers: 1 },
  });
  const origin = { file: "tide.headpiece.ts", line: 4, column: 16 };
  const asIs = { choice: "as designed" as const, orientation: { tilt: 0, towards: 0, turn: 0 }, fits: true };

  it("tell what saves a fifth of the hours or all thin columns, with the line to write", () => {
    const [note, ...others] = orientationFindings(found(one(0), one(35, { hours: 15 }, 2)), asIs, origin);
    expect(others).toEqual([]);
    expect(note).toMatchObject({
      id: "orientation-saves",
      topic: "orientation",
      severity: "note",
      ...origin,
    });
    expect(note.text).toBe("tilted 35°, its back up, it would save about 25 % of the hours");
    expect(note.suggestion).toBe("write print: { orientation: { tilt: 35, towards: 180, turn: 0 } }");
    expect(note.value).toBeCloseTo(25, 9);
    const [thin] = orientationFindings(found(one(0), one(35, { thinColumns: 0 }, 2)), asIs);
    expect(thin.text).toContain("would save all 6 thin supports");
  });

  it("say nothing of little, of what costs more by the weights, and of what does not fit", () => {
    expect(orientationFindings(found(one(0), one(35, { hours: 17 }, 2)), asIs)).toEqual([]);
    expect(orientationFindings(found(one(0), one(35, { hours: 10 }, 4)), asIs)).toEqual([]);
    const tooLarge = { ...one(35, { hours: 10 }, 2), fits: false, room: -3 };
    expect(orientationFindings(found(one(0), tooLarge), asIs)).toEqual([]);
  });

  it("warn where a given way up does not fit, and where none does", () => {
    const mesh = box([-5, -5, -140], [5, 5, 140]);
    const given: Orientation = { tilt: 90, towards: 0, turn: 0 };
    const whole = search(mesh, { given });
    const [warning] = orientationFindings(whole, { choice: given, orientation: given, fits: false }, origin);
    expect(warning).toMatchObject({ id: "orientation-does-not-fit", topic: "plate", severity: "warning" });
    expect(warning.text).toBe('lying on its back, it is 60 mm too large for "Hall printer"');
    expect(warning.suggestion).toContain(orientationLine(whole.best.orientation));
    const huge = search(box([0, 0, 0], [500, 10, 10]));
    const [none] = orientationFindings(huge, { ...asIs, fits: false });
    expect(none).toMatchObject({ id: "fits-no-way-up", severity: "warning", unit: "mm" });
    // A line of 500 mm along the space diagonal: 2·(220 + e)² + (250 + e)² = 500² gives e = 58.5; its own width comes on top.
    expect(none.value).toBeGreaterThan(58.5);
    expect(none.value).toBeLessThan(58.5 + 2 * 10);
  });
});
