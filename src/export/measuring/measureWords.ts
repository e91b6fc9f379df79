import type { TakenField } from "../../head/readings";

/** How a measure is taken, in short sentences. */
export interface MeasureWords {
  /** `Head girth` */
  readonly title: string;
  readonly instrument: string;
  /** Where it runs. */
  readonly where: string;
  /** How the instrument is held, and how tight. */
  readonly how: string;
  /** What goes wrong most often (common practice, no source). */
  readonly mistakes: string;
  /** What its drawing shows, for those who do not see it. */
  readonly picture: string;
}

/** How each measure is taken. What is measured follows ISO 7250-1 and ISO 8559-1; the words are our own. */
export const MEASURE_WORDS: Readonly<Record<TakenField, MeasureWords>> = {
  girth: {
    title: "Head girth",
    instrument: "tape measure",
    where: "Around the head: over the brow, above the ears, over the farthest back of the head.",
    how: "Keep the tape level and snug, so that it does not slide; it must not press into the skin.",
    mistakes:
      "The tape sinks at the back, or lies on the ears, or on braids. Put the hair up or part it, and look from the side.",
    picture:
      "The head from the side and from the front at an angle, with a tape level over the brow, above the ears and around the back of the head.",
  },
  length: {
    title: "Head length",
    instrument: "calipers with long arms",
    where: "From the brow, between the eyebrows, to the farthest point at the back of the head.",
    how: "One arm rests on the brow; move the other up and down the back until it stands widest. Touch, do not press.",
    mistakes:
      "The arm stands on the root of the nose instead of the brow, or the hair holds the other arm away. Without calipers: head against a wall, a book upright on the brow.",
    picture:
      "The head from the side, with calipers over it: one arm at the brow, the other at the back of the head.",
  },
  breadth: {
    title: "Head breadth",
    instrument: "calipers with long arms",
    where: "Across the head at its widest, above and a little behind the ears.",
    how: "Both arms level and at the same height; move them until they stand widest. Touch, do not press.",
    mistakes:
      "The arms lie on the ears, or one stands higher than the other. Without calipers: head between two books on a table.",
    picture: "The head from the front, with calipers over it, their arms at both sides above the ears.",
  },
  crownHeight: {
    title: "Crown height",
    instrument: "rule and a book",
    where: "Upright from the notch before the ear to the level of the top of the head.",
    how: "The wearer looks straight ahead. Lay a book level on the head, press the hair flat, and read the rule at its underside.",
    mistakes:
      "The head is bent, the book tilts, or the rule follows the curve of the head instead of standing upright.",
    picture:
      "The head from the front and from the side: a rule stands upright at the notch before the ear and reaches to a level line over the top of the head.",
  },
  bitragionArc: {
    title: "Bitragion arc",
    instrument: "tape measure",
    where:
      "From the notch before one ear straight up over the top of the head to the notch before the other.",
    how: "Let the tape lie on the head without pulling; it stands in for the crown height where there is no rule.",
    mistakes: "The tape leans forward or back, or begins at the top of the ear. Look at it from the side.",
    picture:
      "The head from the front and from the side, with a tape from ear to ear over the top of the head.",
  },
  earLength: {
    title: "Ear length",
    instrument: "rule",
    where: "From the highest point of the ear's rim to the lowest of its lobe, along the ear.",
    how: "Hold the rule beside the ear, along the way it leans.",
    mistakes: "An ear ring or the hair hides the end, or the rule bends the rim.",
    picture: "An ear from the side, with a rule from the top of its rim to the lobe.",
  },
  earProtrusion: {
    title: "Ear protrusion",
    instrument: "rule",
    where: "From the head behind the ear to the outermost of the ear's rim.",
    how: "Set the end of the rule on the bone behind the ear, square to the head, and read it at the rim.",
    mistakes: "The rule pushes the ear to the head, or stands at a slant.",
    picture: "The head from behind, with a rule from the side of the head to the rim of an ear.",
  },
  interpupillaryDistance: {
    title: "Interpupillary distance",
    instrument: "rule",
    where: "From the middle of one pupil to the middle of the other.",
    how: "The wearer looks far away past you. Hold the rule on the brow, and close one eye for each end.",
    mistakes: "The wearer looks at you, which brings the pupils together by a few millimetres.",
    picture: "The face from the front, with a rule from pupil to pupil.",
  },
  neckGirth: {
    title: "Neck girth",
    instrument: "tape measure",
    where: "Around the neck, below the larynx.",
    how: "Level and loose: a finger goes between the tape and the neck.",
    mistakes: "The tape is pulled tight, or slides down to the shoulders.",
    picture: "The head and neck from the side and from the front at an angle, with a tape around the neck.",
  },
};
