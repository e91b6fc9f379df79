import type { FamilyHead, HeadFamily } from "../../head/headFamily";

/** Looks a place up on a head of a family. Written over by each question. */
export class FamilyPlace {
  /** Radius of the bare head towards the point, mm, by straight lines between the radii about. */
  radius = 0;
  /** Share of the hair there, 0 to 1. */
  hair = 0;
  /** How that grows with the elevation, by rad. */
  hairRise = 0;
  /** Distance of the point across the axis, and from the head's centre, mm. */
  level = 0;
  away = 0;
  readonly #family: HeadFamily;
  readonly #perColumn: number;

  constructor(family: HeadFamily) {
    this.#family = family;
    this.#perColumn = (family.columns - 1) / Math.PI;
  }

  look(head: FamilyHead, x: number, y: number, z: number): void {
    const { columns, rows, lowest, step, hair } = this.#family;
    const dy = y - head.centreY;
    const dz = z - head.centreZ;
    const level = Math.sqrt(x * x + dy * dy);
    this.level = level;
    this.away = Math.sqrt(level * level + dz * dz);
    const u = Math.atan2(x < 0 ? -x : x, dy) * this.#perColumn;
    const v = Math.min(rows - 1, Math.max(0, (Math.atan2(dz, level) - lowest) / step));
    const i = Math.min(columns - 2, Math.floor(u));
    const j = Math.min(rows - 2, Math.floor(v));
    const s = u - i;
    const t = v - j;
    const k = j * columns + i;
    const a = (1 - s) * (1 - t);
    const b = s * (1 - t);
    const c = (1 - s) * t;
    const d = s * t;
    const { radii } = head;
    this.radius = a * radii[k] + b * radii[k + 1] + c * radii[k + columns] + d * radii[k + columns + 1];
    this.hair = a * hair[k] + b * hair[k + 1] + c * hair[k + columns] + d * hair[k + columns + 1];
    this.hairRise =
      ((1 - s) * (hair[k + columns] - hair[k]) + s * (hair[k + columns + 1] - hair[k + 1])) / step;
  }
}
