/** What is known of an underside: it carries itself, leans out too far, begins in the air, or leans out and is reached. */
export const free = 0;
export const leaning = 1;
export const beginning = 2;
export const reached = 3;
