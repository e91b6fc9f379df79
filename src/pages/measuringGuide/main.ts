/** The page of the measuring guide. */
export {};
