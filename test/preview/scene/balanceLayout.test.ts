import { expect, test } from "vitest";
import { balanceLines } from "../../../src/preview/scene/balanceLayout";

const spotOf = ([x, , z]: readonly [number, number, number]) => ({ x, y: -z });

test("the plumb line ends below the centre of mass, at the level of the joint", () => {
  const lines = balanceLines({ balance: { centre: [12, 30, 90], joint: [0, -10, -20] } }, spotOf);
  expect(lines).toEqual({
    contacts: [],
    centre: { x: 12, y: -90 },
    foot: { x: 12, y: 20 },
    joint: { x: 0, y: 20 },
  });
});

test("the area of a disc grows with the share that it bears; hardly anything is seen too", () => {
  const shares = [1, 0.25, 0];
  const { contacts, centre } = balanceLines(
    { contacts: shares.map((share) => ({ at: [0, 0, 0], share })) },
    spotOf,
  );
  expect(contacts[0].radius / contacts[1].radius).toBeCloseTo(2, 9);
  expect(contacts[2].radius).toBeGreaterThan(1);
  expect(centre).toBeUndefined();
});
