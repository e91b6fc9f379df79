import type { DesignResult, Part } from "../design/part";
import type { TubeShape } from "../geometry/tubeShape";
import { MessageError } from "../message";

/** More parts than any head carries: a loop that ran away. */
export const mostParts = 5_000;
/** Path points, outline points and mesh vertices together. */
export const mostPoints = 2_000_000;

/** Each prop is searched a way of its own to the plate. */
export const mostProps = 1_000;

/** Throws an error at the part with which a result grows too large to build. */
export function checkResultSize(result: DesignResult): void {
  let points = 0;
  result.parts.forEach((part, index) => {
    if (index >= mostParts)
      tooLarge(part, `part ${index + 1} is one too many: a headpiece has at most ${mostParts} parts`);
    points += pointsOf(part);
    if (points > mostPoints) {
      tooLarge(
        part,
        `with "${part.name}" the headpiece has ${points} points: at most ${mostPoints} are built`,
      );
    }
  });
  const prop = result.props?.[mostProps];
  if (prop)
    tooLarge(prop, `prop ${mostProps + 1} is one too many: a headpiece has at most ${mostProps} props`);
}

function tooLarge(part: Pick<Part, "name" | "origin">, text: string): never {
  throw new MessageError([
    {
      id: "too-large",
      severity: "error",
      text,
      suggestion: "make fewer parts, or give them fewer points",
      part: part.name,
      ...part.origin,
    },
  ]);
}

function pointsOf(part: Part): number {
  if (part.kind === "tube") return pointsOfTube(part.shape);
  if (part.kind === "solid") return part.mesh.positions.length / 3;
  return part.body.kind === "tube" ? pointsOfTube(part.body.shape) : part.body.mesh.positions.length / 3;
}

function pointsOfTube({ path, section }: TubeShape): number {
  return path.points.length + (section.kind === "outline" ? section.points.length : 0);
}
