import type { FamilyHead, HeadFamily } from "../../head/headFamily";

/** Looks a place up on a head of a family. Written over by each question. */
export class FamilyPlace {
  /** Radius of the bare head towards the point, mm, by straight lines between the radii about. */
  radius = 0;
  /** Share of the hair there, 0 to 1. */
  hair = 0;
  /** Distance of the point from the head's centre, mm. */
  away = 0;
  /** What `feel` finds: how far the point is off the hair, mm, negative inside, and how that grows as it moves. */
  gap = 0;
  nx = 0;
  ny = 0;
  nz = 1;
  /** Distance across the axis, mm. */
  #level = 0;
  /** Where the point lies in the grid: the corner of its cell, and the shares of the cell beyond it. */
  #corner = 0;
  #s = 0;
  #t = 0;
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
    this.#level = level;
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
    this.#corner = k;
    this.#s = s;
    this.#t = t;
  }

  /** Looks a place up and feels for the hair there, which is so thick at most: its gap, and the way out. mm */
  feel(head: FamilyHead, x: number, y: number, z: number, thickness: number): void {
    this.look(head, x, y, z);
    const { columns, step, hair } = this.#family;
    const { radii } = head;
    const { radius, away } = this;
    const k = this.#corner;
    const level = Math.max(1e-3, this.#level);
    const dy = y - head.centreY;
    const dz = z - head.centreZ;
    const side = (x < 0 ? -1 : 1) * this.#perColumn;
    const along = this.#between(
      radii[k + 1] - radii[k],
      radii[k + columns + 1] - radii[k + columns],
      this.#t,
    );
    const up = this.#between(radii[k + columns] - radii[k], radii[k + columns + 1] - radii[k + 1], this.#s);
    // Shares by which the radius grows per unit of way to the side and up.
    const across = (side * along * away) / (radius * level);
    const rise = up / (step * radius);
    const cosine = 1 / Math.sqrt(1 + across * across + rise * rise);
    const grows = this.#between(hair[k + columns] - hair[k], hair[k + columns + 1] - hair[k + 1], this.#s);
    // Unit vectors: out (x, dy, dz) / away; to the side (dy, -x, 0) / level; up (-dz·x, -dz·dy, level²) / (level·away).
    const upwards = -cosine * rise - (thickness * grows) / (step * away);
    const sideways = -cosine * across;
    const toLevel = cosine / away - (upwards * dz) / (level * away);
    this.nx = toLevel * x + (sideways * dy) / level;
    this.ny = toLevel * dy - (sideways * x) / level;
    this.nz = (cosine * dz + upwards * level) / away;
    this.gap = (away - radius) * cosine - thickness * this.hair;
  }

  #between(from: number, to: number, share: number): number {
    return (1 - share) * from + share * to;
  }
}
