import type { WearScene } from "../protocol";
import type { Spot } from "./dimensionLayout";
import type { Vector } from "./vector";

/** Where the piece rests and where its weight hangs, in the picture, CSS pixels. */
export interface BalanceLines {
  readonly contacts: readonly { readonly spot: Spot; readonly radius: number }[];
  /** The centre of mass, and the plumb line from it down to the level of the neck joint. */
  readonly centre?: Spot;
  readonly foot?: Spot;
  readonly joint?: Spot;
}

/** Radius of the disc of a contact that bears all or hardly anything, CSS pixels. */
const discs = { most: 13, least: 3 } as const;

/** Lays out contacts and balance. `spotOf`: where a point stands in the picture. */
export function balanceLines(
  { contacts, balance }: Pick<WearScene, "contacts" | "balance">,
  spotOf: (point: Vector) => Spot,
): BalanceLines {
  return {
    contacts: (contacts ?? []).map(({ at, share }) => ({
      spot: spotOf(at),
      // The area tells the share.
      radius: Math.max(discs.least, discs.most * Math.sqrt(share)),
    })),
    ...(balance && {
      centre: spotOf(balance.centre),
      foot: spotOf([balance.centre[0], balance.centre[1], balance.joint[2]]),
      joint: spotOf(balance.joint),
    }),
  };
}
