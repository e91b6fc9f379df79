import type { BalanceLines } from "./balanceLayout";
import { svgElement } from "./svg";

/** Radius of the sign of a centre of mass: a ball with two dark quarters. CSS pixels. */
export const centreRadius = 7;

/** Contacts and balance as a drawing over the picture; for the eye alone, the list says the same. */
export class BalanceMarks {
  readonly element = svgElement("svg", { class: "scene-balance", "aria-hidden": "true" });

  show(lines: BalanceLines | undefined): void {
    this.element.replaceChildren(...(lines ? drawn(lines) : []));
  }
}

/** The two dark quarters about a point. */
export const quarters = (x: number, y: number, r = centreRadius): string =>
  `M${x} ${y}V${y - r}A${r} ${r} 0 0 1 ${x + r} ${y}ZM${x} ${y}V${y + r}A${r} ${r} 0 0 1 ${x - r} ${y}Z`;

function drawn({ contacts, centre, foot, joint }: BalanceLines): SVGElement[] {
  const line = (from: { x: number; y: number }, to: { x: number; y: number }, name: string) =>
    // Twice: a border in the ground's colour keeps it readable over whatever lies below.
    ["is-border", ""].map((kind) =>
      svgElement("line", { class: `${name} ${kind}`, x1: from.x, y1: from.y, x2: to.x, y2: to.y }),
    );
  return [
    ...contacts.map(({ spot, radius }) =>
      svgElement("circle", { class: "contact", cx: spot.x, cy: spot.y, r: radius }),
    ),
    ...(centre && foot ? line(centre, foot, "plumb") : []),
    ...(foot && joint ? line(foot, joint, "lever") : []),
    ...(joint ? [svgElement("circle", { class: "joint", cx: joint.x, cy: joint.y, r: 3.5 })] : []),
    ...(centre
      ? [
          svgElement("circle", { class: "centre", cx: centre.x, cy: centre.y, r: centreRadius }),
          svgElement("path", { class: "quarters", d: quarters(centre.x, centre.y) }),
        ]
      : []),
  ];
}
